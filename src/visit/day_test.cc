#include "visit/day.h"

#include <gtest/gtest.h>

#include <cmath>

#include "machine/tolerances.h"
#include "visit/example_test.h"
#include "water/conductivity.h"

namespace drawoff::visit {
namespace {

using machine::Point;

water::Composition surveyed() {
  return *water::speciate(water::analysis_of(borehole_survey().water));
}

// ln of the strength that the day's water has of the survey's.
double moved(const DaysWater& day) {
  return std::log(water::total_dissolved(day.raw.composition) / water::total_dissolved(surveyed()));
}

struct Posterior {
  double strength = 0;
  double strength_spread = 0;
  double factor = 0;
  double factor_spread = 0;
  double correlation = 0;
};

// Strength s and conductivity factor c, both normal beforehand, given one reading of
// κ(e^s) e^c: by sums over a grid, with the true bend of κ.
Posterior by_grid(double read, double sigma) {
  const auto composition = surveyed();
  const double s_spread = borehole_survey().strength_spread;
  const double c_spread = machine::tolerance("conductivity_model_spread");
  double weight = 0, s1 = 0, s2 = 0, c1 = 0, c2 = 0, sc = 0;
  constexpr int kSteps = 300;
  for (int i = -kSteps; i <= kSteps; ++i) {
    const double s = 5 * s_spread * i / kSteps;
    const double kappa = water::conductivity_25(water::scaled(composition, std::exp(s))).si();
    for (int j = -kSteps; j <= kSteps; ++j) {
      const double c = 5 * c_spread * j / kSteps;
      const double off = (std::log(read / kappa) - c) / (sigma / read);
      const double w = std::exp(
          -0.5 * (s * s / (s_spread * s_spread) + c * c / (c_spread * c_spread) + off * off));
      weight += w;
      s1 += w * s;
      s2 += w * s * s;
      c1 += w * c;
      c2 += w * c * c;
      sc += w * s * c;
    }
  }
  Posterior p{.strength = s1 / weight, .factor = c1 / weight};
  p.strength_spread = std::sqrt(s2 / weight - p.strength * p.strength);
  p.factor_spread = std::sqrt(c2 / weight - p.factor * p.factor);
  p.correlation = (sc / weight - p.strength * p.factor) / (p.strength_spread * p.factor_spread);
  return p;
}

TEST(Day, one_reading_moves_strength_and_conductivity_as_the_posterior_does) {
  const double computed = water::conductivity_25(surveyed()).si();
  for (const double share : {0.8, 0.95, 1.0, 1.3}) {
    const auto read =
        reading(Point::kRawQuality, computed * share * 1e4, ReadingUnit::kMicrosiemens);
    const Measured m = measured(read);
    const auto day = water_of_the_day(*surveyed_water(borehole_survey()), {{read}});
    const auto exact = by_grid(m.value, m.sigma);
    // The posterior's slope is that between survey and finding, the exact one bends: second order.
    EXPECT_NEAR(moved(day), exact.strength, 0.03 * exact.strength_spread) << share;
    EXPECT_NEAR(day.raw.conductivity.log_mean, exact.factor, 0.03 * exact.factor_spread) << share;
    EXPECT_NEAR(day.raw.strength_spread / exact.strength_spread, 1, 0.03) << share;
    EXPECT_NEAR(*day.raw.conductivity.spread / exact.factor_spread, 1, 0.03) << share;
    EXPECT_NEAR(day.raw.conductivity.correlation, exact.correlation, 0.03) << share;
  }
}

TEST(Day, without_readings_it_is_the_survey) {
  const auto day = water_of_the_day(*surveyed_water(borehole_survey()), {});
  EXPECT_NEAR(moved(day), 0, 1e-12);
  EXPECT_NEAR(day.raw.strength_spread, borehole_survey().strength_spread, 1e-12);
  EXPECT_FALSE(day.differs);
}

// A hand-warm first reading is no half of the day's temperature.
TEST(Day, of_several_readings_the_last_counts) {
  const auto early = reading(Point::kTemperature, 25, ReadingUnit::kCelsius);
  const auto late = reading(Point::kTemperature, 18, ReadingUnit::kCelsius);
  const auto day = water_of_the_day(*surveyed_water(borehole_survey()), {{early, late}});
  EXPECT_NEAR(day.raw.temperature.si(), units::celsius(18).si(), 1e-9);
  EXPECT_NEAR(day.raw.temperature_spread, measured(late).sigma, 1e-12);
}

TEST(Day, another_water_is_said_to_be_one) {
  const double computed = water::conductivity_25(surveyed()).si();
  const auto strong = reading(Point::kRawQuality, 2 * computed * 1e4, ReadingUnit::kMicrosiemens);
  EXPECT_TRUE(water_of_the_day(*surveyed_water(borehole_survey()), {{strong}}).differs);
  const auto same = reading(Point::kRawQuality, computed * 1e4, ReadingUnit::kMicrosiemens);
  EXPECT_FALSE(water_of_the_day(*surveyed_water(borehole_survey()), {{same}}).differs);
}

// ± 1.645 of what strength and model leave open, the strength through the slope of κ.
TEST(Day, what_the_survey_lets_a_meter_show) {
  const auto survey = *surveyed_water(borehole_survey());
  const auto band = surveyed_conductivity(survey);
  const auto kappa = [&](double s) {
    return water::conductivity_25(water::scaled(surveyed(), std::exp(s))).si();
  };
  EXPECT_DOUBLE_EQ(band.middle, kappa(0));
  const double s = survey.strength_spread;
  const double spread = std::hypot(0.5 * std::log(kappa(s) / kappa(-s)),
                                   machine::tolerance("conductivity_model_spread"));
  // The slope is taken over one hundredth there, over ± s here: they differ by its bend.
  EXPECT_NEAR(std::log(band.high / band.middle), 1.645 * spread, 0.01);
  EXPECT_NEAR(std::log(band.low / band.middle), -1.645 * spread, 0.01);
}

}  // namespace
}  // namespace drawoff::visit
