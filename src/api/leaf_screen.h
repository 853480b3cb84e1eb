// Screen leaf: what goes on along the membranes, from the feed end to the drain end, as two curves
// to draw: of the machine as its plates say it is, on the water of the day, as view shows it.
// Absent where it makes no product.
#pragma once

#include <optional>

#include "api/curve.h"
#include "api/form_screen.h"
#include "api/question.h"
#include "book/site_file.h"

namespace drawoff::api {

struct LeafInput {
  book::Body site_file;
  fields::UnitSystem units = fields::UnitSystem::kMetric;
};
struct LeafOutput {
  std::optional<CurveOutput> flux;
  std::optional<CurveOutput> wall;  // strength at the membrane
};

base::Result<LeafOutput> ask_leaf(const LeafInput& in,
                                  Working& working,
                                  const messages::Catalogue& words);

}  // namespace drawoff::api

namespace drawoff::fields {

template <>
struct Table<api::LeafInput> {
  using T = api::LeafInput;
  static constexpr std::string_view name = "leaf_input";
  static constexpr auto list =
      std::make_tuple(field("site_file", &T::site_file, kRequired), field("units", &T::units));
};
template <>
struct Table<api::LeafOutput> {
  using T = api::LeafOutput;
  static constexpr std::string_view name = "leaf_output";
  static constexpr auto list = std::make_tuple(field("flux", &T::flux, kRequired, kNullWhenAbsent),
                                               field("wall", &T::wall, kRequired, kNullWhenAbsent));
};

}  // namespace drawoff::fields
