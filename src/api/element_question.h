// calc element: what one membrane element does on a given water, flow and pressure.
//
// The element is a trade size or an explicit channel; its membrane is A and B of sodium chloride at
// 25 °C, brought to the water's temperature by their coefficients [K] (a coefficient of 0 leaves
// them as they are, for values that were given at the water's temperature). The water is a sodium
// chloride solution or a whole analysis, each of whose ions passes by itself (membrane/ions.h) at
// the median ratio of membrane/passage.h. A strength is relative to the feed, in charge
// equivalents, for the salt as a whole; `passage_pct` and the waters are those of the single
// species.
//
// An element that takes (nearly) all its feed is "exhausted": an answer, not an error; its numbers
// are then null. "schock_miquel" and "van_t_hoff" are for comparison with tables made so.
#pragma once

#include <optional>
#include <string>
#include <tuple>
#include <vector>

#include "api/membrane_choices.h"
#include "api/question.h"
#include "machine/tolerances.h"
#include "membrane/element.h"
#include "membrane/rating.h"
#include "membrane/sizes.h"
#include "water/analysis_entry.h"

namespace drawoff::api {

struct ElementInput {
  std::optional<std::string> size;
  std::optional<membrane::Channel> channel;
  units::Permeability water_permeability;  // at 25 °C
  units::Velocity salt_permeability;       // of NaCl, at 25 °C
  units::Temperature water_coefficient{machine::tolerance("water_temperature_coefficient")};
  units::Temperature salt_coefficient{machine::tolerance("salt_temperature_coefficient")};
  std::optional<units::Density> salt;  // sodium chloride
  std::optional<water::AnalysisEntry> water;
  std::optional<units::Temperature> temperature;  // absent: the analysis's own, or 25 °C
  units::VolumeFlow feed_flow;
  units::Pressure feed_pressure;
  units::Pressure permeate_pressure;
  membrane::MassTransferLaw law = membrane::MassTransferLaw::kJoined;
  double mass_transfer = 1;  // multiplier on k
  OsmoticModel osmotic = OsmoticModel::kPitzer;
};

// One species of the feed, where it goes.
struct SpeciesPassage {
  std::string species;
  units::Density feed, permeate, reject, wall;  // wall: near the reject end
  double passage = 0;                           // permeate's share of the feed's
};

// The leaf at one of the three points at which it is solved.
struct PlaceOutput {
  double place = 0;  // share of the length, from the feed end
  units::VolumeFlow flow;
  units::Velocity flux;
  double strength = 0;  // share of the feed's, in the stream
  double polarisation = 1;
};

struct ElementOutput {
  membrane::ElementStatus status = membrane::ElementStatus::kSolved;
  std::optional<units::VolumeFlow> permeate_flow;
  std::optional<units::VolumeFlow> reject_flow;
  std::optional<double> recovery;           // share
  std::optional<double> permeate_strength;  // share of the feed's
  std::optional<double> reject_strength;
  std::optional<double> wall_strength;     // at the last Gauss point
  std::optional<units::Density> permeate;  // of a sodium chloride feed only
  std::optional<units::Density> reject;
  std::optional<double> rejection;  // share
  std::optional<units::Pressure> pressure_loss;
  std::optional<units::Velocity> flux;
  std::optional<double> polarisation;
  std::vector<SpeciesPassage> species;  // of a whole analysis only
  std::optional<double> permeate_ph, reject_ph;
  std::vector<PlaceOutput> profile;
};

base::Result<ElementOutput> ask_element(const ElementInput& in, Working& working);

}  // namespace drawoff::api

namespace drawoff::fields {

template <>
struct EnumTable<membrane::ElementStatus> {
  static constexpr std::string_view name = "element_status";
  static constexpr std::array list = {choice(membrane::ElementStatus::kSolved, "solved"),
                                      choice(membrane::ElementStatus::kExhausted, "exhausted")};
};
template <>
struct Table<membrane::Channel> {
  using T = membrane::Channel;
  static constexpr std::string_view name = "channel";
  static constexpr auto list =
      std::make_tuple(field("area_m2", &T::area, Range{0.01, 50}, kRequired),
                      field("length_m", &T::length, Range{0.05, 2}, kRequired),
                      field("height_mm", &T::height, Range{0.2, 3}, kRequired),
                      field("porosity", &T::porosity, Range{0.5, 1}));
};
template <>
struct Table<api::ElementInput> {
  using T = api::ElementInput;
  static constexpr std::string_view name = "element_input";
  static constexpr auto list = std::make_tuple(
      field("size", &T::size, Range{1, 12}),
      field("channel", &T::channel),
      field("water_permeability_L_m2_h_bar", &T::water_permeability, Range{0.01, 50}, kRequired),
      field("salt_permeability_L_m2_h", &T::salt_permeability, Range{0, 50}, kRequired),
      field("water_temperature_coefficient_K", &T::water_coefficient, Range{0, 6000}),
      field("salt_temperature_coefficient_K", &T::salt_coefficient, Range{0, 6000}),
      field("salt_mg_L", &T::salt, Range{1, 40000}),
      field("water", &T::water),
      field("temperature_C", &T::temperature, Range{1, 45}),
      field("feed_flow_L_h", &T::feed_flow, Range{0.1, 20000}, kRequired),
      field("feed_pressure_bar", &T::feed_pressure, Range{0, 80}, kRequired),
      field("permeate_pressure_bar", &T::permeate_pressure, Range{0, 80}),
      field("mass_transfer_law", &T::law),
      field("mass_transfer", &T::mass_transfer, Range{0.1, 10}),
      field("osmotic", &T::osmotic));
  static base::Result<base::Done> check(const T& in, const Path& path);
};
template <>
struct Table<api::SpeciesPassage> {
  using T = api::SpeciesPassage;
  static constexpr std::string_view name = "species_passage";
  static constexpr auto list = std::make_tuple(field("species", &T::species),
                                               field("feed_mg_L", &T::feed),
                                               field("permeate_mg_L", &T::permeate),
                                               field("reject_mg_L", &T::reject),
                                               field("wall_mg_L", &T::wall),
                                               field("passage_pct", &T::passage));
};
template <>
struct Table<api::PlaceOutput> {
  using T = api::PlaceOutput;
  static constexpr std::string_view name = "place";
  static constexpr auto list = std::make_tuple(field("place_pct", &T::place),
                                               field("flow_L_h", &T::flow),
                                               field("flux_L_m2_h", &T::flux),
                                               field("strength_pct", &T::strength),
                                               field("polarisation", &T::polarisation));
};
template <>
struct Table<api::ElementOutput> {
  using T = api::ElementOutput;
  static constexpr std::string_view name = "element_output";
  static constexpr auto list =
      std::make_tuple(field("status", &T::status),
                      field("permeate_flow_L_h", &T::permeate_flow, kNullWhenAbsent),
                      field("reject_flow_L_h", &T::reject_flow, kNullWhenAbsent),
                      field("recovery_pct", &T::recovery, kNullWhenAbsent),
                      field("permeate_strength_pct", &T::permeate_strength, kNullWhenAbsent),
                      field("reject_strength_pct", &T::reject_strength, kNullWhenAbsent),
                      field("wall_strength_pct", &T::wall_strength, kNullWhenAbsent),
                      field("permeate_mg_L", &T::permeate, kNullWhenAbsent),
                      field("reject_mg_L", &T::reject, kNullWhenAbsent),
                      field("rejection_pct", &T::rejection, kNullWhenAbsent),
                      field("pressure_loss_bar", &T::pressure_loss, kNullWhenAbsent),
                      field("flux_L_m2_h", &T::flux, kNullWhenAbsent),
                      field("polarisation", &T::polarisation, kNullWhenAbsent),
                      field("species", &T::species),
                      field("permeate_pH", &T::permeate_ph, kNullWhenAbsent),
                      field("reject_pH", &T::reject_ph, kNullWhenAbsent),
                      field("profile", &T::profile));
};

}  // namespace drawoff::fields
