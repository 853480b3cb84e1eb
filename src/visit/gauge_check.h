// One check of the technician's own pressure gauge: open to the air, beside another gauge, or under
// a column of water. What it says is in visit/meter_check.h.
//
//   p = ρ g h        [Pa] under h [m] of water, ρ its density [kg/m³], g 9.80665 m/s² [bipm2019]
//
// Check: 1 m of water at 20 °C: 9.79 kPa.
#pragma once

#include <optional>
#include <string>

#include "fields/errors.h"
#include "fields/field.h"

namespace drawoff::visit {

enum class GaugeAgainst { kAir, kGauge, kColumn };

struct GaugeCheck {
  GaugeAgainst against = GaugeAgainst::kAir;
  std::optional<units::Pressure> other;      // on the other gauge
  std::optional<units::Pressure> other_off;  // how far that may be off; as usual if absent
  std::optional<units::Length> column;       // of standing water, above the gauge
  double shown = 0;                          // in the gauge's unit
  std::string on;                            // "2026-11-27"
};

// Under a column of water at 20 °C.
units::Pressure pressure_under(units::Length column);

}  // namespace drawoff::visit

namespace drawoff::fields {

template <>
struct EnumTable<visit::GaugeAgainst> {
  static constexpr std::string_view name = "gauge_against";
  static constexpr std::array list = {choice(visit::GaugeAgainst::kAir, "air"),
                                      choice(visit::GaugeAgainst::kGauge, "gauge"),
                                      choice(visit::GaugeAgainst::kColumn, "column")};
};
template <>
struct Table<visit::GaugeCheck> {
  using T = visit::GaugeCheck;
  static constexpr std::string_view name = "gauge_check";
  static constexpr auto list =
      std::make_tuple(field("against", &T::against, kRequired),
                      field("other_bar", &T::other, Range{0, 100}),
                      field("other_off_bar", &T::other_off, Range{0.001, 10}),
                      field("column_m", &T::column, Range{0.1, 100}),
                      field("shown", &T::shown, Range{0, 1e5}, kRequired),
                      field("on", &T::on, Range{10, 10}, kRequired));
  // What stood on it as `against` says, and nothing else.
  static base::Result<base::Done> check(const T& c, const Path& path);
};

}  // namespace drawoff::fields
