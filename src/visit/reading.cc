#include "visit/reading.h"

#include <cmath>

#include "base/check.h"
#include "numerics/random.h"

namespace drawoff {

namespace visit {

namespace {

using machine::kind_of;
using machine::PointKind;

water::Meter meter_of(const ReadingEntry& r) {
  if (r.unit == ReadingUnit::kMicrosiemens) return {water::MeterScale::kMicrosiemens, 1};
  return {r.instrument.scale, r.instrument.calibrated_factor};
}

// What an ordinary instrument of the kind is good for, in the unit of the reading (common practice,
// no source): a 10 bar gauge of class 2.5; jug and stopwatch; a pen; a pocket thermometer.
inference::Accuracy usual_accuracy(const ReadingEntry& r) {
  switch (kind_of(r.point)) {
    case PointKind::kPressure: {
      const double ten_bar = units::from_si(unit_of(r.unit), units::bar(10).si());
      return {.full_scale = ten_bar, .share_of_full_scale = 0.025};
    }
    case PointKind::kFlow:
      return {.share_of_reading = 0.05};
    case PointKind::kQuality:
      return kUsualPen;
    case PointKind::kTemperature:
      return {.last_digit = 0.1, .digits = 5};
  }
  return {};
}

double to_si(const ReadingEntry& r, double value) {
  if (kind_of(r.point) == PointKind::kQuality) {
    return water::conductivity_25_from(value, meter_of(r)).si();
  }
  return units::to_si(unit_of(r.unit), value);
}

}  // namespace

const units::Unit& unit_of(ReadingUnit unit) {
  const units::Unit* found = units::unit_of_key(fields::name_of(unit));
  CHECK(found != nullptr);
  return *found;
}

std::optional<inference::Accuracy> as_bought(const InstrumentEntry& i, double reading) {
  const inference::Accuracy bought{.share_of_reading = i.share_of_reading,
                                   .full_scale = i.full_scale,
                                   .share_of_full_scale = i.share_of_full_scale,
                                   .last_digit = i.last_digit,
                                   .digits = i.digits};
  if (inference::error_bound(bought, reading) > 0 || i.last_digit > 0) return bought;
  return std::nullopt;
}

Measured measured(const ReadingEntry& r) {
  Measured m{.value = to_si(r, r.value)};
  if (r.pours) {
    const PouredFlow poured = poured_flow(*r.pours, r.jug_mark);
    m.sigma = poured.flow.si() * poured.half_width / numerics::kNormal95;
    return m;
  }
  const double sigma = inference::standard_uncertainty(
      as_bought(r.instrument, r.value).value_or(usual_accuracy(r)), r.value);
  m.sigma = std::fabs(to_si(r, r.value + sigma) - m.value);
  return m;
}

bool outside_shown(const ReadingEntry& r) {
  if (!r.shown) return false;
  ReadingEntry like = r;
  like.unit = r.shown->unit;
  const double value = like.unit == r.unit ? r.value : as_shown(to_si(r, r.value), like);
  return value < r.shown->low || value > r.shown->high;
}

std::string point_id(machine::Point point) {
  return "point." + std::string(fields::name_of(point));
}

double as_shown(double si, const ReadingEntry& r) {
  if (kind_of(r.point) == PointKind::kQuality) {
    return water::shown(units::Conductivity(si), meter_of(r));
  }
  return units::from_si(unit_of(r.unit), si);
}

}  // namespace visit

namespace fields {

namespace {

// What a person may round a flow by when keeping it.
constexpr double kKept = 0.02;

base::Result<base::Done> fits_its_pours(const visit::ReadingEntry& r, const Path& path) {
  if (machine::kind_of(r.point) != machine::PointKind::kFlow) {
    return base::Error{base::ErrorKind::kData,
                       {"error.reading.pours",
                        {{"path", path_argument(path / "pours")},
                         {"point", base::Ref{visit::point_id(r.point)}}}}};
  }
  TRY([[maybe_unused]] const auto read, visit::check_pours(*r.pours, r.jug_mark, path));
  const auto& unit = visit::unit_of(r.unit);
  const double flow = visit::poured_flow(*r.pours, r.jug_mark).flow.si();
  if (std::fabs(units::to_si(unit, r.value) - flow) <= kKept * flow) return base::Done{};
  return base::Error{
      base::ErrorKind::kData,
      {"error.reading.pours_value",
       {{"path", path_argument(path / "value")},
        {"value", given_number(r.value, &unit)},
        {"flow", base::Number{units::from_si(unit, flow), std::string(unit.symbol), 3}},
        {"pours", path_argument(path / "pours")}}}};
}

}  // namespace

base::Result<base::Done> Table<visit::ReadingEntry>::check(const T& reading, const Path& path) {
  using machine::PointKind;
  const auto& unit = visit::unit_of(reading.unit);
  bool fits = false;
  switch (machine::kind_of(reading.point)) {
    case PointKind::kPressure:
      fits = unit.dimension == units::kExponents<units::dim::Pressure>;
      break;
    case PointKind::kFlow:
      fits = unit.dimension == units::kExponents<units::dim::VolumeFlow>;
      break;
    case PointKind::kTemperature:
      fits = unit.dimension == units::kExponents<units::dim::Temperature>;
      break;
    case PointKind::kQuality:
      fits = reading.unit == visit::ReadingUnit::kPpm ||
             reading.unit == visit::ReadingUnit::kMicrosiemens;
      break;
  }
  if (!fits) {
    return base::Error{base::ErrorKind::kData,
                       {"error.reading.unit",
                        {{"path", path_argument(path / "unit")},
                         {"unit", std::string(unit.symbol)},
                         {"point", base::Ref{visit::point_id(reading.point)}}}}};
  }
  // What the model can follow, and what an instrument can show there.
  Range range{0, 1e6};
  if (machine::kind_of(reading.point) == PointKind::kTemperature) {
    range = {units::from_si(unit, units::celsius(0).si()),
             units::from_si(unit, units::celsius(60).si())};
  } else if (machine::kind_of(reading.point) == PointKind::kPressure) {
    range = {units::from_si(unit, units::bar(-1).si()), units::from_si(unit, units::bar(100).si())};
  } else if (machine::kind_of(reading.point) == PointKind::kFlow) {
    range.low = -1e6;  // kept if the person insists, and never judged
  } else if (reading.point == machine::Point::kRawQuality) {
    range = {0.1, 1e5};
  }
  if (reading.value < range.low || reading.value > range.high) {
    return out_of_range(
        {.path = path / "value", .meaning = "field.reading.value", .unit = &unit, .range = range},
        reading.value);
  }
  if (reading.pours) {
    TRY([[maybe_unused]] const auto poured, fits_its_pours(reading, path));
  }
  const auto& c = reading.condition;
  if (c.product_to && *c.product_to != machine::ProductVessel::kTank && c.vessel_pressure &&
      c.vessel_pressure->si() > 0) {
    return base::Error{base::ErrorKind::kData,
                       {"error.product.vessel",
                        {{"path", path_argument(path / "condition" / "vessel_pressure_bar")},
                         {"value",
                          given_number(units::from_si_shortest(*units::unit_of_key("bar"),
                                                               c.vessel_pressure->si()),
                                       units::unit_of_key("bar"))}}}};
  }
  return base::Done{};
}

}  // namespace fields

}  // namespace drawoff
