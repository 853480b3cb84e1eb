#include "visit/quick_check.h"

#include <cmath>

#include "base/check.h"
#include "membrane/sizes.h"
#include "water/conductivity.h"

namespace drawoff {

namespace visit {

namespace {

using machine::Point;
using units::bar;
using units::milligram_per_litre;
using water::Species;

// A water of the usual make-up of mains and wells, in mg/L (common practice, no source). Only its
// strength is known here; the make-up moves conductivity and osmotic pressure by some per cent.
struct Usual {
  Species species;
  double mg_L;
};
constexpr Usual kUsualWater[] = {{Species::Ca, 62},
                                 {Species::Mg, 12},
                                 {Species::Na, 28},
                                 {Species::K, 3},
                                 {Species::HCO3, 195},
                                 {Species::Cl, 44},
                                 {Species::SO4, 46}};
constexpr double kUsualPh = 7.5;
constexpr units::Temperature kUsualTemperature = units::celsius(15);

// How far the make-up of the day may move the strength from what the meter says [ln].
constexpr double kMakeUpSpread = 0.10;

water::AnalysisEntry usual_water(double strength, units::Temperature temperature) {
  water::AnalysisEntry entry{.temperature = temperature, .ph = kUsualPh};
  for (const Usual& u : kUsualWater) {
    entry.ions.constituents[water::index(u.species)] =
        water::measured(milligram_per_litre(strength * u.mg_L));
  }
  return entry;
}

// The usual make-up at the strength that this conductivity means. Conductivity grows a little
// slower than strength, so a few rounds of proportion settle it to less than any meter sees.
water::AnalysisEntry water_of(units::Conductivity conductivity, units::Temperature temperature) {
  constexpr int kRounds = 8;
  double strength = 1;
  for (int i = 0; i < kRounds; ++i) {
    const auto composition =
        water::speciate(water::analysis_of(usual_water(strength, temperature)));
    CHECK(composition);  // a scaled sound water is sound
    strength *= conductivity / water::conductivity_25(*composition);
  }
  return usual_water(strength, temperature);
}

// The ordinary machine around an element of that size: what the trade puts there (common practice,
// no source). From this flow on the maker adds a pump.
constexpr units::VolumeFlow kPumpFrom = units::litre_per_hour(20);
constexpr double kRejectPerProduct = 3;

// The narrowest tube of the trade (inside diameters) in which the water is no faster than is usual.
units::Length bore_for(units::VolumeFlow flow) {
  constexpr double kUsualSpeed = 1.0;  // [m/s]
  constexpr double kPi = 3.141592653589793;
  units::Length bore;
  for (const double millimetre : {4.3, 6.35, 9.5, 13.0, 19.0, 25.0, 32.0}) {
    bore = units::millimetre(millimetre);
    if (flow.si() <= kUsualSpeed * kPi / 4 * bore.si() * bore.si()) break;
  }
  return bore;
}

machine::MachineEntry machine_of(const QuickCheck& check) {
  const membrane::ElementSize* size = membrane::find_element_size(check.size);
  CHECK(size != nullptr);
  const units::VolumeFlow product = size->typical_flow * static_cast<double>(check.elements);
  const bool pump = check.pump.value_or(size->typical_flow > kPumpFrom);
  const units::VolumeFlow feed = product * (1 + kRejectPerProduct);
  machine::MachineEntry m;
  m.basis = machine::PlatesBasis::kSize;
  m.supply.pressure = bar(3.2);
  m.supply.uncertainty = bar(1.2);
  m.supply.tube = {.length = units::metre(2), .bore = bore_for(feed), .minor_loss = 6};
  m.filters = {{.kind = machine::FilterKind::kSediment, .flow = product * 4.0},
               {.kind = machine::FilterKind::kCarbon, .flow = product * 4.0}};
  m.housing_rating = bar(12);  // of the usual housing; a plate says it better
  m.element.size = check.size;
  m.element.permeate_flow = size->typical_flow;
  m.element.test_pressure = pump ? bar(6.5) : bar(4.1);
  m.element.rejection_is = machine::RejectionKind::kInService;
  m.element.flow_tolerance_low = 0.35;
  m.element.flow_tolerance_high = 0.45;
  m.element.in_parallel = check.elements;
  m.restrictor.flow = product * kRejectPerProduct;
  m.restrictor.pressure = pump ? bar(6.5) : bar(4);
  m.restrictor.tolerance = 0.4;
  if (pump) {
    m.pump = machine::PumpEntry{.open_flow = feed * 1.5,
                                .rated_flow = feed * 1.1,
                                .rated_pressure = bar(6),
                                .bypass_pressure = bar(7.5)};
  }
  m.drain.tube.bore = bore_for(product * kRejectPerProduct);
  m.product.tube.bore = bore_for(product);
  m.product.vessel = machine::ProductVessel::kJug;
  return m;
}

ReadingEntry reading_of(const QuickCheck& check, Point point, const QuickValue& value) {
  ReadingEntry r{.point = point, .value = *value.value, .unit = unit_of(value, point)};
  r.instrument.scale = check.scale;
  r.condition.product_to = machine::ProductVessel::kJug;
  return r;
}

}  // namespace

ReadingUnit unit_of(const QuickValue& value, Point point) {
  if (value.unit) return *value.unit;
  switch (machine::kind_of(point)) {
    case machine::PointKind::kPressure:
      return ReadingUnit::kBar;
    case machine::PointKind::kFlow:
      return ReadingUnit::kLh;
    case machine::PointKind::kTemperature:
      return ReadingUnit::kCelsius;
    case machine::PointKind::kQuality:
      break;
  }
  return ReadingUnit::kPpm;
}

QuickCase quick_case(const QuickCheck& check) {
  CHECK(check.raw.value);
  QuickCase out;
  out.machine = machine_of(check);
  const auto add = [&](Point point, const QuickValue& value) {
    if (value.value) out.readings.push_back(reading_of(check, point, value));
  };
  add(Point::kTemperature, check.temperature);
  add(Point::kRawQuality, check.raw);
  add(Point::kProductFlow, check.product_flow);
  add(Point::kProductQuality, check.product);
  const auto temperature =
      check.temperature.value
          ? units::Temperature(
                measured(reading_of(check, Point::kTemperature, check.temperature)).value)
          : kUsualTemperature;
  const auto raw = measured(reading_of(check, Point::kRawQuality, check.raw));
  out.survey.source = SourceKind::kUnknown;
  out.survey.basis = SurveyBasis::kMeter;
  out.survey.water = water_of(units::Conductivity(raw.value), temperature);
  out.survey.strength_spread = kMakeUpSpread;
  return out;
}

}  // namespace visit

namespace fields {

namespace {

// What a pen can show of a water that a small unit is put on [S/m at 25 °C].
constexpr units::Conductivity kWeakest = units::microsiemens_per_cm(20);
constexpr units::Conductivity kStrongest = units::microsiemens_per_cm(20000);

// The reading's own table knows what can be shown at a point.
base::Result<base::Done> fits(machine::Point point,
                              const visit::QuickCheck& check,
                              const visit::QuickValue& value,
                              const Path& path) {
  if (!value.value) return base::Done{};
  visit::ReadingEntry reading{
      .point = point, .value = *value.value, .unit = visit::unit_of(value, point)};
  reading.instrument.scale = check.scale;
  return Table<visit::ReadingEntry>::check(reading, path);
}

}  // namespace

base::Result<base::Done> Table<visit::QuickCheck>::check(const T& check, const Path& path) {
  using machine::Point;
  if (membrane::find_element_size(check.size) == nullptr) {
    std::vector<std::string> sizes;
    for (const auto& size : membrane::element_sizes()) sizes.push_back(size.name);
    return not_a_choice(
        {.path = path / "size", .meaning = "field.quick_check.size"}, check.size, sizes);
  }
  if (!check.raw.value) {
    return missing({.path = path / "raw" / "value", .meaning = "field.quick_check.raw"});
  }
  TRY([[maybe_unused]] const auto raw, fits(Point::kRawQuality, check, check.raw, path / "raw"));
  TRY([[maybe_unused]] const auto product,
      fits(Point::kProductQuality, check, check.product, path / "product"));
  TRY([[maybe_unused]] const auto temperature,
      fits(Point::kTemperature, check, check.temperature, path / "temperature"));
  TRY([[maybe_unused]] const auto flow,
      fits(Point::kProductFlow, check, check.product_flow, path / "product_flow"));
  visit::ReadingEntry as_read{.point = Point::kRawQuality,
                              .value = *check.raw.value,
                              .unit = visit::unit_of(check.raw, Point::kRawQuality)};
  as_read.instrument.scale = check.scale;
  const auto value = visit::measured(as_read).value;
  if (value < kWeakest.si() || value > kStrongest.si()) {
    return out_of_range({.path = path / "raw" / "value",
                         .meaning = "field.quick_check.raw",
                         .unit = &visit::unit_of(as_read.unit),
                         .range = {std::ceil(visit::as_shown(kWeakest.si(), as_read)),
                                   std::floor(visit::as_shown(kStrongest.si(), as_read))}},
                        *check.raw.value);
  }
  return base::Done{};
}

}  // namespace fields

}  // namespace drawoff
