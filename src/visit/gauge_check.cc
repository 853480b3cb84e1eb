#include "visit/gauge_check.h"

#include <algorithm>
#include <array>

#include "base/check.h"
#include "plumbing/fluid.h"
#include "visit/date.h"
#include "visit/meter_check.h"
#include "water/properties.h"

namespace drawoff {
namespace visit {
namespace {

// Common practice, no source.
constexpr units::Pressure kOtherOff = units::bar(0.16);  // class 1.6 of 10 bar
constexpr double kTape = 0.02;                           // [m] how well a column is measured
constexpr double kWarmth = 0.005;  // of its weight: water between 5 and 35 °C

}  // namespace

units::Pressure pressure_under(units::Length column) {
  return units::Pressure(water::density(units::celsius(20)).si() * plumbing::kGravity *
                         column.si());
}

CheckResult result_of(const CheckedMeter& m, const GaugeCheck& c) {
  const units::Unit& unit = *units::unit_of_key(unit_key(m.meter));
  const auto in_unit = [&](units::Pressure p) { return units::from_si(unit, p.si()); };
  const auto age = days_between(c.on, m.on);
  CHECK(age);  // the check of the table
  CheckResult r{.age = *age};
  r.vouches = r.age <= kVouchesFor;
  std::array<double, 3> bounds{half_digit_of(m.meter, 0)};
  switch (c.against) {
    case GaugeAgainst::kAir:
      break;
    case GaugeAgainst::kGauge:
      r.should_show = in_unit(*c.other);
      bounds[1] = in_unit(c.other_off.value_or(kOtherOff));
      break;
    case GaugeAgainst::kColumn:
      r.should_show = in_unit(pressure_under(*c.column));
      bounds[1] = in_unit(pressure_under(units::metre(kTape)));
      bounds[2] = kWarmth * r.should_show;
      break;
  }
  r.error = error_within(bounds, c.shown - r.should_show);
  r.bought_for = std::max(bound_of(m.meter, r.should_show), bounds[0]);
  r.as_bought = against(r.error, r.bought_for);
  return r;
}

}  // namespace visit

namespace fields {

base::Result<base::Done> Table<visit::GaugeCheck>::check(const T& c, const Path& path) {
  using visit::GaugeAgainst;
  const auto not_so = [&](const char* key) {
    return base::Error{
        base::ErrorKind::kData,
        {"error.gauge.not_against",
         {{"path", path_argument(path / key)}, {"against", path_argument(path / "against")}}}};
  };
  const bool gauge = c.against == GaugeAgainst::kGauge;
  const bool column = c.against == GaugeAgainst::kColumn;
  if (c.other && !gauge) return not_so("other_bar");
  if (c.other_off && !gauge) return not_so("other_off_bar");
  if (c.column && !column) return not_so("column_m");
  if (gauge && !c.other) {
    return missing({.path = path / "other_bar", .meaning = "field.gauge_check.other_bar"});
  }
  if (column && !c.column) {
    return missing({.path = path / "column_m", .meaning = "field.gauge_check.column_m"});
  }
  return base::Done{};
}

}  // namespace fields
}  // namespace drawoff
