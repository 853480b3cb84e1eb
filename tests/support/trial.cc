#include "support/trial.h"

#include <cmath>

#include "inference/instrument.h"
#include "machine/tolerances.h"
#include "water/analysis_entry.h"

namespace drawoff::support {

namespace {

// As bought, in the unit of the reading: gauge of 10 bar and class 2.5, jug and stopwatch, pen,
// pocket thermometer; the same as what a reading without a stated instrument is taken to be.
inference::Accuracy bought(machine::PointKind kind) {
  switch (kind) {
    case machine::PointKind::kPressure:
      return {.full_scale = 10, .share_of_full_scale = 0.025};
    case machine::PointKind::kFlow:
      return {.share_of_reading = 0.05};
    case machine::PointKind::kQuality:
      return {.share_of_reading = 0.02, .last_digit = 1, .digits = 2};
    case machine::PointKind::kTemperature:
      return {.last_digit = 0.1, .digits = 5};
  }
  return {};
}

visit::ReadingUnit unit(machine::PointKind kind) {
  switch (kind) {
    case machine::PointKind::kPressure:
      return visit::ReadingUnit::kBar;
    case machine::PointKind::kFlow:
      return visit::ReadingUnit::kLh;
    case machine::PointKind::kQuality:
      return visit::ReadingUnit::kMicrosiemens;
    case machine::PointKind::kTemperature:
      return visit::ReadingUnit::kCelsius;
  }
  return visit::ReadingUnit::kBar;
}

machine::Condition any_condition(const machine::MachineEntry& entry, numerics::Random& random) {
  machine::Condition c;
  switch (random.below(3)) {
    case 0:
      c.product_to = machine::ProductVessel::kJug;
      break;
    case 1:
      c.product_to = machine::ProductVessel::kCooler;
      break;
    default:
      c.product_to = machine::ProductVessel::kTank;
      c.vessel_pressure = units::bar(random.uniform(0, 1.5));
  }
  if (entry.blend && random.chance(0.5)) c.blend = machine::BlendState::kShut;
  return c;
}

}  // namespace

std::optional<Trial> trial(std::uint64_t seed, int job) {
  numerics::Random random(seed, static_cast<std::uint64_t>(job));
  const auto site = typical_case(random);
  const auto composition = water::speciate(water::analysis_of(site.survey.water));
  if (!composition) return std::nullopt;
  // The day's water as the judge takes it to vary, temperature by 3 K (visit/day.cc).
  const machine::RawWater raw{.composition = *composition,
                              .temperature = site.survey.water.temperature,
                              .strength_spread = site.survey.strength_spread,
                              .temperature_spread = machine::tolerance("day_temperature_spread")};
  const auto feed = machine::feed_of(raw);
  const auto truth =
      machine::specimens(site.entry, raw, feed, seed + 1 + static_cast<std::uint64_t>(job), 1);
  if (truth.empty()) return std::nullopt;
  const auto condition = any_condition(site.entry, random);
  const auto values = machine::values_at(truth.front(), feed, condition);
  if (std::isnan(values[static_cast<std::size_t>(machine::Point::kPermeateQuality)])) {
    return std::nullopt;
  }
  return Trial{
      .site = site, .feed = feed, .truth = truth.front(), .condition = condition, .random = random};
}

visit::ReadingEntry read(machine::Point point,
                         double si,
                         const machine::Condition& condition,
                         numerics::Random& random) {
  const machine::PointKind kind = machine::kind_of(point);
  const auto accuracy = bought(kind);
  visit::ReadingEntry r{.point = point, .unit = unit(kind), .condition = condition};
  if (random.chance(0.5)) {
    r.instrument = {.share_of_reading = accuracy.share_of_reading,
                    .full_scale = accuracy.full_scale,
                    .share_of_full_scale = accuracy.share_of_full_scale,
                    .last_digit = accuracy.last_digit,
                    .digits = accuracy.digits};
  }
  const double truth = visit::as_shown(si, r);
  const double bound = inference::error_bound(accuracy, truth);
  r.value = truth + random.uniform(-bound, bound);
  if (accuracy.last_digit > 0) {
    r.value = std::round(r.value / accuracy.last_digit) * accuracy.last_digit;
  }
  return r;
}

}  // namespace drawoff::support
