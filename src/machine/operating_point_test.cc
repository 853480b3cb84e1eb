#include "machine/operating_point.h"

#include <gtest/gtest.h>

#include "machine/example_test.h"
#include "machine/operating_point_network.h"
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

// ---- Further parts ------------------------------------------------------------------------------

plumbing::Loss valve(double litres_per_hour, double at_bar) {
  return plumbing::loss_from_plate({.flow = units::litre_per_hour(litres_per_hour),
                                    .pressure = bar(at_bar),
                                    .laminar_share = 0.5});
}

// A raw tank gives ρ g h of its level; standard gravity, density at 18 °C. Of that the tube takes
// what it takes, so nothing may flow here: the drain is lifted out of reach.
TEST(Parts, a_raw_tank_gives_the_height_of_its_water) {
  Machine m = small_unit();
  m.supply.pressure = bar(0);
  m.supply.height = units::metre(12);
  m.drain_height = units::metre(500);
  EXPECT_NEAR(
      point_of(m).unit_inlet_pressure, 12 * 9.80665 * water::density(celsius(18)).si(), 1e-6);
}

TEST(Parts, a_regulator_holds_its_setting_less_its_droop) {
  Machine m = small_unit();
  m.regulator = plumbing::Regulator{
      .set_pressure = bar(3), .droop = bar(0.3), .flow = units::litre_per_hour(100)};
  const auto p = point_of(m);
  EXPECT_EQ(p.outcome, Outcome::kRuns);
  EXPECT_NEAR(p.unit_inlet_pressure, 3e5 - 0.3e5 * p.supply_flow * 3.6e6 / 100, 1e-4);
  // Set above what there is, it is as good as absent.
  m.regulator->set_pressure = bar(9);
  EXPECT_EQ(point_of(m).product_flow, point_of(small_unit()).product_flow);
}

TEST(Parts, feed_valves_take_their_pressure) {
  Machine m = small_unit();
  m.feed_valves = valve(60, 0.5);
  const auto p = point_of(m);
  const auto without = point_of(small_unit());
  EXPECT_LT(p.filtered_pressure, without.filtered_pressure);
  EXPECT_LT(p.product_flow, without.product_flow);
}

TEST(Parts, an_open_flush_valve_rinses_instead_of_making_product) {
  Machine m = wall_unit();
  m.flush_valve = valve(400, 2);
  const auto shut = point_of(m);
  EXPECT_EQ(shut.product_flow, point_of(wall_unit()).product_flow);
  m.flushing = true;
  const auto open = point_of(m);
  EXPECT_LT(open.permeate_flow, 0.6 * shut.permeate_flow);
  EXPECT_GT(open.drain_flow, 1.5 * shut.drain_flow);
}

TEST(Parts, recirculation_feeds_more_and_stronger) {
  Machine m = wall_unit();
  const auto without = point_of(m);
  m.recirculation = valve(60, 1);
  const auto p = point_of(m);
  ASSERT_EQ(p.outcome, Outcome::kRuns);
  EXPECT_GT(p.recirculation_flow, 0);
  EXPECT_GT(p.feed_flow, without.feed_flow);
  EXPECT_LT(p.supply_flow, without.supply_flow);
  EXPECT_GT(p.feed_salt, p.raw_salt);
  EXPECT_LT(p.feed_salt, p.reject_salt);
  // All salt that comes leaves with product or drain: to rounding of the solve.
  const double left = p.product_flow * p.product_salt + p.drain_flow * p.reject_salt;
  EXPECT_NEAR(left / (p.supply_flow * p.raw_salt), 1, 1e-11);
}

TEST(Parts, without_a_pump_nothing_recirculates) {
  Machine m = small_unit();
  m.recirculation = valve(60, 1);
  const auto p = point_of(m);
  EXPECT_EQ(p.recirculation_flow, 0);
  EXPECT_EQ(p.product_flow, point_of(small_unit()).product_flow);
}

TEST(Parts, brackets_and_newton_agree_on_every_part) {
  Machine m = wall_unit();
  m.recirculation = valve(60, 1);
  m.flush_valve = valve(100, 2);
  m.flushing = true;
  m.regulator = plumbing::Regulator{
      .set_pressure = bar(2.5), .droop = bar(0.3), .flow = units::litre_per_hour(300)};
  m.blend->pressurised = true;
  m.membranes.in_series = 2;
  m.membranes.positions = {{.water_permeability = 0.6, .salt_permeability = 2}};
  const auto water = feed_water(hard_water(), celsius(18));
  const auto fast = operating_point(m, water, {});
  const auto slow = operating_point(m, water, {}, {.by = SolveBy::kBracketsOnly});
  EXPECT_FALSE(fast.bracketed);
  EXPECT_EQ(fast.outcome, slow.outcome);
  EXPECT_NEAR(fast.permeate_flow / slow.permeate_flow, 1, kBalanceTolerance);
  EXPECT_NEAR(fast.recirculation_flow / slow.recirculation_flow, 1, kBalanceTolerance);
  EXPECT_NEAR(fast.product_salt / slow.product_salt, 1, kBalanceTolerance);
}

// In a row of one, the factors of its place are those of the whole membrane.
TEST(Parts, a_position_is_the_membrane_of_its_place) {
  Machine all = small_unit();
  Machine one = small_unit();
  all.membranes.water = all.membranes.water * 0.5;
  all.membranes.salt = all.membranes.salt * 3;
  one.membranes.positions = {{.water_permeability = 0.5, .salt_permeability = 3}};
  EXPECT_NEAR(point_of(one).permeate_flow / point_of(all).permeate_flow, 1, kBalanceTolerance);
  EXPECT_NEAR(point_of(one).permeate_salt / point_of(all).permeate_salt, 1, kBalanceTolerance);
}

// Two rows, each written out, are the row that both are like.
TEST(Rows, written_out_alike_they_are_alike) {
  Machine once = wall_unit();
  once.membranes.in_series = 2;
  once.membranes.in_parallel = 2;
  once.membranes.positions = {{.water_permeability = 0.6}, {.salt_permeability = 2}};
  Machine twice = once;
  twice.membranes.positions.insert(twice.membranes.positions.end(),
                                   once.membranes.positions.begin(),
                                   once.membranes.positions.end());
  const auto a = point_of(once);
  const auto b = point_of(twice);
  EXPECT_NEAR(b.permeate_flow / a.permeate_flow, 1, kBalanceTolerance);
  EXPECT_NEAR(b.permeate_salt / a.permeate_salt, 1, kBalanceTolerance);
  EXPECT_NEAR(b.reject_pressure / a.reject_pressure, 1, kBalanceTolerance);
}

Machine old_beside_new() {
  Machine m = wall_unit();
  m.membranes.in_parallel = 2;
  m.membranes.positions = {{.water_permeability = 0.4, .salt_permeability = 3}, {}};
  return m;
}

TEST(Rows, an_old_row_beside_a_new_one_lies_between) {
  const Machine mixed = old_beside_new();
  Machine old_rows = mixed;
  old_rows.membranes.positions.resize(1);
  Machine new_rows = mixed;
  new_rows.membranes.positions.clear();
  const auto at = point_of(mixed);
  EXPECT_GT(at.permeate_flow, 1.05 * point_of(old_rows).permeate_flow);
  EXPECT_LT(at.permeate_flow, 0.95 * point_of(new_rows).permeate_flow);
  EXPECT_GT(at.permeate_salt, 1.05 * point_of(new_rows).permeate_salt);
  EXPECT_LT(at.permeate_salt, 0.95 * point_of(old_rows).permeate_salt);
  Machine swapped = mixed;
  std::swap(swapped.membranes.positions[0], swapped.membranes.positions[1]);
  EXPECT_NEAR(point_of(swapped).permeate_flow / at.permeate_flow, 1, kBalanceTolerance);
}

// Each row on its own feed, by itself; the new row lets more through, so it gets more.
TEST(Rows, unlike_rows_end_at_one_pressure) {
  const Machine m = old_beside_new();
  const auto water = feed_water(hard_water(), celsius(18));
  const auto at = operating_point(m, water, {});
  const auto n = network::network(m, water, Parameters<double>{});
  auto around = n.around;
  around.permeate_pressure = at.permeate_pressure;
  const auto feeds =
      feeds_of_rows(m.membranes,
                    n.membrane,
                    around,
                    {at.feed_flow, at.feed_flow * at.feed_salt, at.membrane_pressure});
  ASSERT_EQ(feeds.size(), 2U);
  EXPECT_GT(feeds[1].flow, 1.001 * feeds[0].flow);
  double permeate = 0;
  for (int i = 0; i < 2; ++i) {
    const auto row =
        pass_row(m.membranes, n.membrane, around, i, feeds[static_cast<std::size_t>(i)]);
    EXPECT_NEAR(row.reject.pressure / at.reject_pressure, 1, kBalanceTolerance);
    permeate += row.permeate_flow;
  }
  EXPECT_NEAR(permeate / at.permeate_flow, 1, kBalanceTolerance);
  EXPECT_NEAR((feeds[0].flow + feeds[1].flow) / at.feed_flow, 1, kBalanceTolerance);
}

// Central differences of the whole solve; 1e-5 of the slope is what their rounding leaves.
TEST(Rows, slopes_of_unlike_rows_are_exact) {
  const Machine m = old_beside_new();
  const auto water = feed_water(hard_water(), celsius(18));
  const auto at = operating_point_with_derivatives(m, water, {});
  constexpr double kStep = 1e-4;
  for (const Parameter p : {Parameter::kWaterPermeability, Parameter::kRestrictorFlow}) {
    Parameters<double> more, less;
    more[p] += kStep;
    less[p] -= kStep;
    const auto above = operating_point(m, water, more);
    const auto below = operating_point(m, water, less);
    const auto slope = [&](auto field) { return ((above.*field) - (below.*field)) / (2 * kStep); };
    const auto index = static_cast<std::size_t>(p);
    const double flow = slope(&OperatingPoint<double>::permeate_flow);
    const double salt = slope(&OperatingPoint<double>::permeate_salt);
    EXPECT_NEAR(at.permeate_flow.v[index] / flow, 1, 1e-5);
    EXPECT_NEAR(at.permeate_salt.v[index] / salt, 1, 1e-5);
  }
}

TEST(Parts, a_blend_from_behind_the_pump_is_driven_harder) {
  Machine m = wall_unit();
  const auto before = point_of(m);
  m.blend->pressurised = true;
  const auto behind = point_of(m);
  EXPECT_GT(behind.blend_flow, 1.3 * before.blend_flow);
  EXPECT_EQ(behind.blend_salt, behind.feed_salt);
}

}  // namespace
}  // namespace drawoff::machine
