#include "transients/fill.h"

#include <gtest/gtest.h>

#include <cmath>

#include "transients/plant_test.h"

namespace drawoff::transients {
namespace {

TEST(Fill, a_tank_fills_to_the_switch) {
  const Example e = with_tank();
  const Fill f = fill(e.plant, 0);
  ASSERT_EQ(f.end, FillEnd::kSwitch);
  // The switch sees the tee, whose pressure the curve has.
  EXPECT_NEAR(e.plant.curve.at(f.stop_pressure).tee_pressure, 2.5e5, 1);
  EXPECT_LT(f.stop_pressure, 2.5e5);
  // Water: Boyle's content and the line's, to the rounding of some hundred terms.
  EXPECT_NEAR(f.volume, content(e.plant.store, f.stop_pressure), 1e-9 * f.volume);
  // Between the time at the first flow and at the last.
  const double fastest = f.volume / e.plant.curve.at(0).product_flow();
  const double slowest = f.volume / e.plant.curve.at(f.stop_pressure).product_flow();
  EXPECT_GT(f.time, fastest);
  EXPECT_LT(f.time, slowest);
}

// Water and salt of two fills in turn are those of one.
TEST(Fill, what_comes_in_is_conserved) {
  const Example e = with_tank();
  const Fill whole = fill(e.plant, 0);
  const double p = 1.1e5;
  const Fill first = fill_between(e.plant.curve, e.plant.store, {.stops = p, .starts = 0});
  const Fill second =
      fill_between(e.plant.curve, e.plant.store, {.stops = whole.stop_pressure, .starts = p});
  EXPECT_NEAR(first.volume + second.volume, whole.volume, 1e-9 * whole.volume);
  EXPECT_NEAR(first.salt + second.salt, whole.salt, 1e-9 * whole.salt);
  EXPECT_NEAR(first.time + second.time, whole.time, 1e-9 * whole.time);
  double water = 0;
  double salt = 0;
  for (std::size_t i = 1; i < whole.portions.size(); ++i) {
    EXPECT_GT(whole.portions[i].pressure, whole.portions[i - 1].pressure);
  }
  for (const Portion& portion : whole.portions) {
    water += portion.volume;
    salt += portion.volume * e.plant.curve.at(portion.pressure).product_salt();
  }
  EXPECT_NEAR(water, whole.volume, 1e-9 * water);
  EXPECT_NEAR(salt, whole.salt, 1e-9 * salt);
}

// The same fill stepped with the model itself, not the table: 400 steps of a second-order rule
// (error ∝ 1/400², 1e-5) and the table's own grid, which its test bounds at a hundredth.
TEST(Fill, is_that_of_the_model) {
  const Example e = with_tank();
  const Fill f = fill(e.plant, 0);
  auto parameters = e.specimen.parameters;
  const auto m = machine::in_condition(e.specimen.machine, at_lowest_outlet(e.entry, e.condition));
  double time = 0;
  const int steps = 400;
  for (int i = 0; i < steps; ++i) {
    const double a = f.stop_pressure * i / steps;
    const double b = f.stop_pressure * (i + 1) / steps;
    parameters[machine::Parameter::kProductBackPressure] = 0.5 * (a + b);
    const auto point = machine::operating_point(m, e.feed.water, parameters);
    time += (content(e.plant.store, b) - content(e.plant.store, a)) / point.product_flow;
  }
  EXPECT_NEAR(f.time, time, 0.01 * time);
}

TEST(Fill, more_in_the_tank_takes_less_time_and_more_pressure_more) {
  Example e = with_tank();
  const double empty = fill(e.plant, 0).time;
  const double half = fill(e.plant, 3e-3).time;
  EXPECT_LT(half, empty);
  e.entry.supply.pressure = units::bar(4);
  e.build();
  EXPECT_LT(fill(e.plant, 0).time, empty);
}

TEST(Fill, without_a_switch_the_flow_ends_and_the_reject_runs_on) {
  Example e = with_tank();
  e.entry.high_pressure_switch.reset();
  e.build();
  const Stop stop = stop_of(e.plant);
  EXPECT_EQ(stop.end, FillEnd::kFlowEnds);
  EXPECT_EQ(stop.pressure, e.plant.curve.closing_pressure());
  const Fill f = fill(e.plant, 0);
  EXPECT_NEAR(f.volume, kFilledShare * content(e.plant.store, stop.pressure), 1e-9 * f.volume);
  const AfterStop after = after_stop(e.entry, e.specimen, e.feed, e.condition, e.plant, stop);
  EXPECT_TRUE(after.reject_runs);
  EXPECT_TRUE(after.pump_runs);
  EXPECT_GT(after.reject_flow, 0);
  EXPECT_FALSE(restart_of(e.plant, stop));
}

TEST(Fill, switch_and_solenoid_stop_everything) {
  Example e = with_tank();
  const Stop stop = stop_of(e.plant);
  EXPECT_FALSE(after_stop(e.entry, e.specimen, e.feed, e.condition, e.plant, stop).reject_runs);
  e.entry.solenoid.reset();
  e.build();
  EXPECT_TRUE(
      after_stop(e.entry, e.specimen, e.feed, e.condition, e.plant, stop_of(e.plant)).reject_runs);
}

TEST(Fill, a_hydraulic_shut_off_closes_at_its_share) {
  Example e = small_wall_unit();
  e.entry.product.vessel = machine::ProductVessel::kTank;
  e.entry.hydraulic_shut_off = machine::HydraulicShutOffEntry{};
  e.build();
  const Stop stop = stop_of(e.plant);
  ASSERT_EQ(stop.end, FillEnd::kShutOff);
  const Response r = e.plant.curve.at(stop.pressure);
  EXPECT_NEAR(r.tee_pressure / r.filtered_pressure, 0.65, 1e-9);
  const auto restart = restart_of(e.plant, stop);
  ASSERT_TRUE(restart);
  EXPECT_FALSE(restart->at_once);
  EXPECT_NEAR(restart->pressure + e.plant.curve.head(), 0.5 * e.plant.static_feed, 1e-6);
  EXPECT_NEAR(restart->drawn,
              content(e.plant.store, stop.pressure) - content(e.plant.store, restart->pressure),
              1e-15);
}

TEST(Fill, coolers_fill_lowest_first_at_the_flow_of_their_height) {
  Example e = small_wall_unit();
  e.entry.product.height = units::metre(1);
  e.entry.product.coolers = {{.volume = units::litre(3), .height = units::metre(4)}};
  e.build();
  ASSERT_EQ(e.plant.store.open.size(), 2U);
  const double rise = e.plant.weight * 3;
  EXPECT_NEAR(e.plant.store.open[1].head, rise, 1e-6);
  const Fill f = fill(e.plant, 0);
  const double first = 4e-3 / e.plant.curve.at(0).product_flow();
  const double second = 3e-3 / e.plant.curve.at(rise).product_flow();
  EXPECT_NEAR(f.portions[0].time, first, 1e-9 * first);
  EXPECT_NEAR(f.portions[1].time, second, 1e-9 * second);
  EXPECT_GT(f.time, first + second);
}

TEST(Fill, a_jug_never_fills_and_a_vessel_too_high_gets_nothing) {
  Example e = small_wall_unit();
  e.condition.product_to = machine::ProductVessel::kJug;
  e.build();
  EXPECT_EQ(fill(e.plant, 0).end, FillEnd::kOpenOutlet);
  Example tank = with_tank();
  tank.entry.product.precharge = units::bar(4);
  tank.build();
  EXPECT_EQ(fill(tank.plant, 0).end, FillEnd::kNothingComes);
}

// Steady flow into a linear store: T = D/q + D/(Q − q) = 4 D/Q at q = Q/2.
TEST(Cycle, is_four_times_the_draw_over_the_flow) {
  const Example e = with_tank();
  const Stop stop = stop_of(e.plant);
  const auto restart = restart_of(e.plant, stop);
  ASSERT_TRUE(restart && !restart->at_once);
  const auto cycle = shortest_cycle(e.plant, stop, *restart);
  ASSERT_TRUE(cycle);
  const double least = 4 * restart->drawn / e.plant.curve.at(restart->pressure).product_flow();
  const double most = 4 * restart->drawn / e.plant.curve.at(stop.pressure).product_flow();
  EXPECT_GT(cycle->period, least);
  EXPECT_LE(cycle->period, most);
  EXPECT_GT(cycle->duty, 0.3);
  EXPECT_LE(cycle->duty, 0.5);
}

// A shut outlet with only tube and a bubble behind it: it cycles within seconds, and a tank cures
// it.
TEST(Cycle, a_switch_with_only_tube_behind_it_hunts) {
  Example e = with_tank();
  e.entry.product.vessel = machine::ProductVessel::kJug;
  e.build();
  const Stop stop = stop_of(e.plant);
  ASSERT_EQ(stop.end, FillEnd::kSwitch);
  const auto restart = restart_of(e.plant, stop);
  ASSERT_TRUE(restart && !restart->at_once);
  const auto cycle = shortest_cycle(e.plant, stop, *restart);
  ASSERT_TRUE(cycle);
  EXPECT_LT(cycle->period, 5);
  const double volume = tank_for_period(e.plant, stop, *restart, 60);
  e.plant.store.tank = AirTank{.volume = volume, .precharge = 0.9 * restart->pressure};
  const auto cured = shortest_cycle(e.plant, stop, *restart_of(e.plant, stop));
  EXPECT_GT(cured->period, 50);
  EXPECT_LT(cured->period, 66);
}

TEST(Cycle, a_differential_below_the_line_s_loss_starts_at_once) {
  Example e = with_tank();
  e.entry.product.tube.bore = units::millimetre(3);
  e.entry.product.tube.length = units::metre(10);
  e.entry.high_pressure_switch =
      machine::SwitchEntry{.cut_out = units::bar(2.5), .cut_in = units::bar(2.45)};
  e.build();
  const auto restart = restart_of(e.plant, stop_of(e.plant));
  ASSERT_TRUE(restart);
  EXPECT_TRUE(restart->at_once);
  EXPECT_GT(restart->loss, 0.05e5);
}

TEST(Cycle, relaxation_between_two_thresholds) {
  const Cycle c =
      relaxation_cycle({.rest = 1, .run = 0, .stops = 0.25, .starts = 0.75, .time_constant = 2});
  EXPECT_NEAR(c.period, 2 * 2 * std::log(3), 1e-12);
  EXPECT_NEAR(c.duty, 0.5, 1e-12);
}

TEST(LowPressure, a_weak_supply_hunts_and_a_weaker_one_never_starts) {
  Example e = with_tank();
  e.entry.supply.tube.length = units::metre(12);
  e.build();
  ASSERT_TRUE(e.plant.curve.usable());
  const double running = e.plant.curve.at(0).filtered_pressure;
  ASSERT_GT(running, 0);
  ASSERT_LT(running, 2.2e5);
  e.entry.low_pressure_switch = machine::SwitchEntry{.cut_out = units::pascal(running + 0.2e5),
                                                     .cut_in = units::pascal(running + 0.6e5)};
  e.build();
  const LowPressure hunts = low_pressure(e.entry, feed_side(e.plant));
  EXPECT_EQ(hunts.state, LowSwitch::kHunts);
  ASSERT_TRUE(hunts.cycle);
  EXPECT_GT(hunts.cycle->period, 0.01);
  EXPECT_LT(hunts.cycle->period, 30);
  e.entry.low_pressure_switch->cut_in = units::bar(3.5);
  e.build();
  EXPECT_EQ(low_pressure(e.entry, feed_side(e.plant)).state, LowSwitch::kHolds);
  e.entry.low_pressure_switch = machine::SwitchEntry{.cut_out = units::pascal(running - 0.1e5),
                                                     .cut_in = units::pascal(running + 0.6e5)};
  e.build();
  EXPECT_EQ(low_pressure(e.entry, feed_side(e.plant)).state, LowSwitch::kFine);
}

}  // namespace
}  // namespace drawoff::transients
