// A curve to be drawn: laid out and worded here, so that the app only draws it.
#pragma once

#include <string>
#include <vector>

#include "fields/field.h"
#include "messages/catalogue.h"

namespace drawoff::api {

struct TickOutput {
  double at = 0;  // along the axis, 0 to 1
  std::string text;
};
struct CurvePointOutput {
  double x = 0, y = 0;  // along the axes, 0 to 1
};
struct CurveOutput {
  std::vector<CurvePointOutput> points;
  TickOutput level;  // a line across, to compare with; up the chart
  std::vector<TickOutput> across, up;
  std::string across_label, up_label;
  std::string said;  // the same in words
};

struct UpAxis {
  double top = 1;
  std::vector<TickOutput> ticks;
};
// From nothing in round steps to what must be shown, at least to 1.
UpAxis up_axis(double most, const messages::Catalogue& words);

// To three digits, without a unit.
std::string bare_number(double value, const messages::Catalogue& words);

}  // namespace drawoff::api

namespace drawoff::fields {

template <>
struct Table<api::TickOutput> {
  using T = api::TickOutput;
  static constexpr std::string_view name = "tick";
  static constexpr auto list =
      std::make_tuple(field("at", &T::at, kRequired), field("text", &T::text, kRequired));
};
template <>
struct Table<api::CurvePointOutput> {
  using T = api::CurvePointOutput;
  static constexpr std::string_view name = "curve_point";
  static constexpr auto list =
      std::make_tuple(field("x", &T::x, kRequired), field("y", &T::y, kRequired));
};
template <>
struct Table<api::CurveOutput> {
  using T = api::CurveOutput;
  static constexpr std::string_view name = "curve";
  static constexpr auto list = std::make_tuple(field("points", &T::points, kRequired),
                                               field("level", &T::level, kRequired),
                                               field("across", &T::across, kRequired),
                                               field("up", &T::up, kRequired),
                                               field("across_label", &T::across_label, kRequired),
                                               field("up_label", &T::up_label, kRequired),
                                               field("said", &T::said, kRequired));
};

}  // namespace drawoff::fields
