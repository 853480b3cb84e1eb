#include "visit/day.h"

#include <cmath>

#include "machine/tolerances.h"
#include "water/conductivity.h"

namespace drawoff::visit {

using machine::Point;

// Standard deviations: beyond, one survey in a hundred.
constexpr double kFarFromSurvey = 2.576;
constexpr double kNinetyPercent = 1.645;  // to either side

// β: of the logarithm of the conductivity, as the strength changes by this logarithm.
static double slope_between(const water::Composition& composition, double change) {
  constexpr double kLeastChange = 0.01;
  const double step = std::fabs(change) < kLeastChange ? kLeastChange : change;
  return std::log(water::conductivity_25(water::scaled(composition, std::exp(step))) /
                  water::conductivity_25(composition)) /
         step;
}

inference::Interval surveyed_conductivity(const SurveyedWater& survey) {
  const double computed = water::conductivity_25(survey.composition).si();
  const double spread = std::hypot(slope_between(survey.composition, 0) * survey.strength_spread,
                                   machine::tolerance("conductivity_model_spread"));
  const double factor = std::exp(kNinetyPercent * spread);
  return {computed / factor, computed, computed * factor};
}

DaysWater water_of_the_day(const SurveyedWater& survey, std::span<const ReadingEntry> readings) {
  const water::Composition& composition = survey.composition;
  machine::RawWater raw{.composition = composition,
                        .temperature = survey.temperature,
                        .strength_spread = survey.strength_spread,
                        .temperature_spread = machine::tolerance("day_temperature_spread")};
  const double computed = water::conductivity_25(composition).si();
  double precision = 0;
  double weighted = 0;
  // Of several readings the last counts: the water had run longer, and one instrument is off by
  // the same each time.
  for (const ReadingEntry& r : readings) {
    const Measured m = measured(r);
    if (r.point == Point::kTemperature) {
      raw.temperature = units::Temperature(m.value);
      raw.temperature_spread = m.sigma;
    }
    if (r.point == Point::kRawQuality && m.value > 0) {
      precision = std::pow(m.value / m.sigma, 2);
      weighted = precision * std::log(m.value / computed);
    }
  }
  const double strength = std::pow(survey.strength_spread, 2);
  const double model = std::pow(machine::tolerance("conductivity_model_spread"), 2);
  double moved = 0;  // ln of the day's strength over the survey's
  double slope = slope_between(composition, 0);
  double d = 1;
  for (int i = 0; i < 4; ++i) {
    d = 1 + (slope * slope * strength + model) * precision;
    moved = slope * strength * weighted / d;
    slope = slope_between(composition, moved);
  }
  const double shown = slope * slope * strength;  // variance of what a meter shows of the strength
  raw.composition = water::scaled(composition, std::exp(moved));
  raw.strength_spread = std::sqrt(strength * (1 + model * precision) / d);
  raw.conductivity.log_mean = model * weighted / d;
  raw.conductivity.spread = std::sqrt(model * (1 + shown * precision) / d);
  if (strength > 0) {
    raw.conductivity.correlation = -slope * strength * model * precision /
                                   (d * raw.strength_spread * *raw.conductivity.spread);
  }
  const bool differs =
      precision > 0 &&
      std::fabs(weighted / precision) > kFarFromSurvey * std::sqrt(shown + model + 1 / precision);
  return {raw, differs};
}

bool sets_the_water(Point p) { return p == Point::kTemperature || p == Point::kRawQuality; }

}  // namespace drawoff::visit
