// calc rating: which membrane explains a rating plate.
//
// The plate of one element is put through the element model backwards (membrane/rating.h): what
// water and salt permeability gives just that flow and rejection in the plate's own test. What the
// plate does not say is assumed as for a machine (machine/plates.h) and listed. A minimum rejection
// is read as the typical passage behind it, as for a machine. Tolerances of the plate and the
// number of elements do not enter: this is the median element.
//
// "schock_miquel" and "van_t_hoff" are for comparison with tables that were made so.
#pragma once

#include <optional>
#include <string>
#include <tuple>
#include <vector>

#include "api/membrane_choices.h"
#include "api/question.h"
#include "machine/plates_fields.h"

namespace drawoff::api {

struct RatingInput {
  machine::ElementEntry element;
  membrane::MassTransferLaw law = membrane::MassTransferLaw::kJoined;
  double mass_transfer = 1;  // multiplier on k
  OsmoticModel osmotic = OsmoticModel::kPitzer;
};

struct RatingOutput {
  units::Permeability water;    // A at 25 °C
  units::Velocity salt;         // B of NaCl at 25 °C
  units::Velocity flux;         // mean, in the plate's test
  double polarisation = 1;      // mean, in the plate's test
  units::Pressure net;          // mean driving pressure in the plate's test
  double flow_residual = 0;     // ln, of the plate's flow put back into the model
  double passage_residual = 0;  // ln, of the plate's salt passage
  std::vector<std::string> assumed;
};

base::Result<RatingOutput> ask_rating(const RatingInput& in, Working& working);

}  // namespace drawoff::api

namespace drawoff::fields {

template <>
struct Table<api::RatingInput> {
  using T = api::RatingInput;
  static constexpr std::string_view name = "rating_input";
  static constexpr auto list =
      std::make_tuple(field("element", &T::element, kRequired),
                      field("mass_transfer_law", &T::law),
                      field("mass_transfer", &T::mass_transfer, Range{0.1, 10}),
                      field("osmotic", &T::osmotic));
};
template <>
struct Table<api::RatingOutput> {
  using T = api::RatingOutput;
  static constexpr std::string_view name = "rating_output";
  static constexpr auto list = std::make_tuple(field("water_permeability_L_m2_h_bar", &T::water),
                                               field("salt_permeability_L_m2_h", &T::salt),
                                               field("flux_L_m2_h", &T::flux),
                                               field("polarisation", &T::polarisation),
                                               field("net_pressure_bar", &T::net),
                                               field("flow_residual", &T::flow_residual),
                                               field("passage_residual", &T::passage_residual),
                                               field("assumed", &T::assumed));
};

}  // namespace drawoff::fields
