#include "machine/operating_point.h"

#include <gtest/gtest.h>

#include "machine/example_test.h"
#include "water/properties.h"

namespace drawoff::machine {
namespace {

using units::bar;
using units::celsius;

OperatingPoint<double> point_of(const Machine& m, const Parameters<double>& p = {}) {
  return operating_point(m, feed_water(hard_water(), celsius(18)), p);
}

Parameters<double> with(Parameter parameter, double value) {
  Parameters<double> p;
  p[parameter] = value;
  return p;
}

TEST(Outcome, both_units_run) {
  EXPECT_EQ(point_of(wall_unit()).outcome, Outcome::kRuns);
  EXPECT_EQ(point_of(small_unit()).outcome, Outcome::kRuns);
}

TEST(Outcome, without_supply_nothing_flows) {
  Machine m = small_unit();
  m.supply.pressure = bar(0);
  const auto p = point_of(m);
  EXPECT_EQ(p.outcome, Outcome::kNothingFlows);
  EXPECT_EQ(p.supply_flow, 0);
  EXPECT_EQ(p.reject_flow, 0);
}

// 40 m of water are 3.9 bar: more than the 3.8 bar of the supply.
TEST(Outcome, a_drain_above_the_supply_lets_nothing_flow) {
  Machine m = small_unit();
  m.drain_height = units::metre(40);
  EXPECT_EQ(point_of(m).outcome, Outcome::kNothingFlows);
}

// The blend is taken before the membrane: it runs even where no water reaches the drain.
TEST(Outcome, a_blend_may_run_alone) {
  Machine m = small_unit();
  m.drain_height = units::metre(40);
  m.blend = wall_unit().blend;
  const auto p = point_of(m);
  EXPECT_EQ(p.outcome, Outcome::kNothingFlows);
  EXPECT_GT(p.blend_flow, 0);
  EXPECT_EQ(p.product_flow, p.blend_flow);
  EXPECT_EQ(p.product_salt, p.feed_salt);
}

TEST(Outcome, an_outlet_above_the_pressure_makes_no_product) {
  Machine m = small_unit();
  m.product_height = units::metre(45);
  const auto p = point_of(m);
  EXPECT_EQ(p.outcome, Outcome::kNoProduct);
  EXPECT_EQ(p.permeate_flow, 0);
  EXPECT_GT(p.reject_flow, 0);
  EXPECT_EQ(p.reject_salt, p.feed_salt);
}

TEST(Outcome, a_pump_on_a_throttled_supply_starves) {
  const auto p = point_of(wall_unit(), with(Parameter::kSupplyLoss, 300));
  EXPECT_EQ(p.outcome, Outcome::kStarvesPump);
  EXPECT_LT(p.filtered_pressure, kLeastSuction);
}

TEST(Outcome, a_blocked_restrictor_over_concentrates) {
  const auto p = point_of(wall_unit(), with(Parameter::kRestrictorFlow, 0.001));
  EXPECT_EQ(p.outcome, Outcome::kOverConcentrates);
  EXPECT_GT(p.recovery, 0.9);
}

TEST(Outcome, a_pump_too_strong_for_the_housing_is_over_pressure) {
  Machine m = wall_unit();
  m.housing_rating = bar(5);
  const auto p = point_of(m);
  EXPECT_EQ(p.outcome, Outcome::kOverPressure);
  EXPECT_GT(p.membrane_pressure, bar(5).si());
}

// Without flow a column of water weighs ρ g h: standard gravity, density at 18 °C.
TEST(OperatingPoint, height_of_the_supply_counts) {
  Machine m = small_unit();
  m.drain_height = units::metre(500);
  const double low = point_of(m).unit_inlet_pressure;
  m.supply.height = units::metre(10);
  const double high = point_of(m).unit_inlet_pressure;
  EXPECT_NEAR(high - low, 10 * 9.80665 * water::density(celsius(18)).si(), 1e-6);
}

// Tolerance: the balance tolerance of either, which a flow feels by half (square root law).
TEST(OperatingPoint, brackets_alone_find_the_same_point) {
  const auto water = feed_water(hard_water(), celsius(18));
  for (const Machine& m : {wall_unit(), small_unit()}) {
    const auto fast = operating_point(m, water, {});
    const auto slow = operating_point(m, water, {}, {.by = SolveBy::kBracketsOnly});
    EXPECT_FALSE(fast.bracketed);
    EXPECT_TRUE(slow.bracketed);
    EXPECT_NEAR(fast.permeate_flow / slow.permeate_flow, 1, kBalanceTolerance);
    EXPECT_NEAR(fast.reject_flow / slow.reject_flow, 1, kBalanceTolerance);
    EXPECT_NEAR(fast.permeate_salt / slow.permeate_salt, 1, kBalanceTolerance);
  }
}

TEST(OperatingPoint, derivatives_come_with_the_same_values) {
  const auto water = feed_water(hard_water(), celsius(18));
  const auto plain = operating_point(wall_unit(), water, {});
  const auto seeded = operating_point_with_derivatives(wall_unit(), water, {});
  EXPECT_EQ(seeded.outcome, Outcome::kRuns);
  EXPECT_NEAR(seeded.product_flow.x / plain.product_flow, 1, 1e-12);
  // More supply pressure, more product; a wider restrictor, less.
  EXPECT_GT(seeded.product_flow.v[static_cast<int>(Parameter::kSupplyPressure)], 0);
  EXPECT_LT(seeded.product_flow.v[static_cast<int>(Parameter::kRestrictorFlow)], 0);
}

}  // namespace
}  // namespace drawoff::machine
