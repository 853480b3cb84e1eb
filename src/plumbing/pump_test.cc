#include "plumbing/pump.h"

#include <gtest/gtest.h>

#include <cmath>

#include "numerics/random.h"

namespace drawoff::plumbing {
namespace {

using numerics::Dual;
using units::bar;
using units::litre_per_hour;

constexpr Pump kBooster{.open_flow = litre_per_hour(96),
                        .rated_flow = litre_per_hour(60),
                        .rated_pressure = bar(5),
                        .bypass_pressure = bar(8)};

double added(const Pump& pump, units::VolumeFlow flow, double strength = 1) {
  return pressure_added(pump, flow.si(), strength);
}

// The points of the plate, to rounding.
TEST(Pump, goes_through_the_points_of_its_plate) {
  EXPECT_NEAR(added(kBooster, litre_per_hour(60)) / 5e5, 1, 1e-14);
  EXPECT_NEAR(added(kBooster, litre_per_hour(96)), 0, 1e-9);
  // The bypass opens where the straight line reaches 8 bar: 96 − 36·8/5 = 38.4 L/h.
  EXPECT_NEAR(added(kBooster, litre_per_hour(38.4)) / 8e5, 1, 1e-14);
  EXPECT_NEAR(added(kBooster, litre_per_hour(0)) / (8e5 * (1 + kBypassSpan)), 1, 1e-14);
}

// A weaker pump gives the same pressure at proportionally less flow.
TEST(Pump, strength_scales_the_flow) {
  for (const double flow : {0.0, 20.0, 38.4, 60.0, 96.0, 150.0}) {
    EXPECT_NEAR(added(kBooster, litre_per_hour(0.7 * flow), 0.7),
                added(kBooster, litre_per_hour(flow)),
                1e-9)
        << flow;
  }
}

// The pressure falls strictly over all flows, backwards ones too, without a step: that is what
// makes a machine's solution unique.
TEST(Pump, pressure_falls_strictly_with_flow) {
  numerics::Random random(24);
  for (int i = 0; i < 200; ++i) {
    const double open = random.uniform(40, 400);
    const double rated = bar(random.uniform(1, 6)).si();
    const Pump pump{.open_flow = litre_per_hour(open),
                    .rated_flow = litre_per_hour(open * random.uniform(0.1, 0.95)),
                    .rated_pressure = units::pascal(rated),
                    .bypass_pressure = units::pascal(rated * random.uniform(1, 2)),
                    .kind = i % 2 == 0 ? PumpKind::kDiaphragm : PumpKind::kVane};
    const double strength = random.uniform(0.3, 1.2);
    double before = added(pump, litre_per_hour(-0.2 * open), strength);
    const double step = 0.001;
    const double steepest = std::fmax(rated / (open - pump.rated_flow.si() * 3.6e6),
                                      kBypassSpan * 2 * rated / open * 1e3);
    for (double share = -0.2 + step; share < 2; share += step) {
      const double now = added(pump, litre_per_hour(share * open), strength);
      EXPECT_LT(now, before) << i << " at " << share;
      EXPECT_GT(now, before - 2 * steepest * step * open / strength) << i << " at " << share;
      before = now;
    }
  }
}

// Straight pieces: central differences within a piece are exact to their rounding, 1e-9 of the
// pressure for a step of 1e-6.
TEST(Pump, derivatives_match_finite_differences) {
  using S = Dual<2>;
  for (const double litres : {-5.0, 10.0, 30.0, 50.0, 80.0, 120.0}) {
    for (const double strength : {0.8, 1.0, 1.1}) {
      const double q = litre_per_hour(litres).si();
      const S exact = pressure_added(kBooster, S::variable(q, 0), S::variable(strength, 1));
      EXPECT_EQ(exact.x, pressure_added(kBooster, q, strength));
      const double h = 1e-6;
      const auto at = [&](double by_q, double by_s) {
        return pressure_added(kBooster, q * by_q, strength * by_s);
      };
      EXPECT_NEAR(exact.v[0] * q, (at(1 + h, 1) - at(1 - h, 1)) / (2 * h), 1e-9 * 8e5);
      EXPECT_NEAR(exact.v[1] * strength, (at(1, 1 + h) - at(1, 1 - h)) / (2 * h), 1e-9 * 8e5);
    }
  }
}

// ---- Kinds, speeds, banks ---------------------------------------------------------------------

constexpr Pump kVane{.open_flow = litre_per_hour(300),
                     .rated_flow = litre_per_hour(270),
                     .rated_pressure = bar(9),
                     .bypass_pressure = bar(12),
                     .kind = PumpKind::kVane};

// Slip 30 L/h at 9 bar, so 3.33 L/h per bar at any speed: at half speed 150 − 30 L/h at 9 bar. The
// relief opens at 12 bar, where 40 L/h slip.
TEST(VanePump, slip_depends_on_pressure_alone) {
  EXPECT_NEAR(added(kVane, litre_per_hour(270)) / 9e5, 1, 1e-13);
  EXPECT_NEAR(added(kVane, litre_per_hour(260)) / 12e5, 1, 1e-13);
  Pump half = kVane;
  half.speed = 0.5;
  EXPECT_NEAR(added(half, litre_per_hour(120)) / 9e5, 1, 1e-13);
  EXPECT_NEAR(added(half, litre_per_hour(110)) / 12e5, 1, 1e-13);
  EXPECT_NEAR(added(half, litre_per_hour(0)) / (12e5 * (1 + kBypassSpan)), 1, 1e-13);
}

// Standing still it lets through its slip only: 30 L/h at 9 bar.
TEST(VanePump, standing_still_it_lets_its_slip_through) {
  Pump still = kVane;
  still.speed = 0;
  EXPECT_NEAR(added(still, litre_per_hour(30)) / -9e5, 1, 1e-13);
}

// A diaphragm pump's speed scales its flow as wear does: equal to rounding.
TEST(Pump, speed_of_a_diaphragm_pump_scales_its_flow) {
  Pump slow = kBooster;
  slow.speed = speed_at(units::volt(18), units::volt(24));
  EXPECT_NEAR(
      added(slow, litre_per_hour(30)), added(kBooster, litre_per_hour(30), 0.75), 1e-14 * 8e5);
}

// The curve 490 − 0.26 Q² [white2011, ex. 11.6, from memory], here in bar and L/h. Its open flow is
// √(490/0.26); m = 2 must come out of the rated point at Q = 20.
Pump textbook() {
  return {.open_flow = litre_per_hour(std::sqrt(490 / 0.26)),
          .rated_flow = litre_per_hour(20),
          .rated_pressure = bar(490 - 0.26 * 400),
          .bypass_pressure = bar(490),
          .kind = PumpKind::kMultistage};
}
// Flow at which the pumps give what the system a + b Q² asks, by halving [L/h].
double matched(const Pump& pump, double a, double b) {
  double low = 0;
  double high = 200;
  for (int i = 0; i < 60; ++i) {
    const double q = 0.5 * (low + high);
    (added(pump, litre_per_hour(q)) > (a + b * q * q) * 1e5 ? low : high) = q;
  }
  return low;
}

TEST(MultistagePump, follows_the_textbook_curve) {
  const Pump pump = textbook();
  for (const double q : {0.0, 5.0, 20.0, 30.0, 43.0}) {
    EXPECT_NEAR(added(pump, litre_per_hour(q)) / 1e5, 490 - 0.26 * q * q, 1e-9) << q;
  }
}

// The textbook's own answers have three digits.
TEST(MultistagePump, alone_in_parallel_and_in_series_meets_the_textbook_systems) {
  Pump pump = textbook();
  EXPECT_NEAR(matched(pump, 120, 0.335), 24.9, 0.05);
  pump.in_parallel = 2;
  EXPECT_NEAR(matched(pump, 120, 0.335), 30.4, 0.05);
  pump.in_parallel = 1;
  pump.in_series = 2;
  EXPECT_NEAR(matched(pump, 500, 0.335), 23.7, 0.05);
}

// Affinity laws: at n times the speed, n times the flow at n² times the head.
TEST(MultistagePump, head_goes_with_the_square_of_speed) {
  Pump pump = textbook();
  pump.rated_pressure = bar(300);  // m is then not 2
  Pump slow = pump;
  slow.speed = 0.7;
  for (const double q : {-3.0, 0.0, 5.0, 20.0, 43.0, 60.0}) {
    const double full = added(pump, litre_per_hour(q));
    EXPECT_NEAR(added(slow, litre_per_hour(0.7 * q)), 0.49 * full, 1e-10 * 490e5) << q;
  }
}

TEST(MultistagePump, pressure_falls_with_flow_through_its_plate) {
  numerics::Random random(25);
  for (int i = 0; i < 200; ++i) {
    const double open = random.uniform(100, 4000);
    const double still = random.uniform(3, 20);
    const Pump pump{.open_flow = litre_per_hour(open),
                    .rated_flow = litre_per_hour(open * random.uniform(0.1, 0.95)),
                    .rated_pressure = bar(still * random.uniform(0.1, 0.95)),
                    .bypass_pressure = bar(still),
                    .kind = PumpKind::kMultistage,
                    .speed = random.uniform(0.5, 1.1)};
    Pump full = pump;
    full.speed = 1;
    EXPECT_NEAR(added(full, pump.rated_flow) / pump.rated_pressure.si(), 1, 1e-12);
    EXPECT_NEAR(added(full, litre_per_hour(0)) / pump.bypass_pressure.si(), 1, 1e-14);
    double before = added(pump, litre_per_hour(-0.2 * open));
    // A very steep curve is level near no flow: not rising is all that can be asked there.
    for (double share = -0.19; share < 2; share += 0.01) {
      const double now = added(pump, litre_per_hour(share * open));
      EXPECT_LE(now, before) << i << " at " << share;
      before = now;
    }
  }
}

// Central differences with a relative step h = 1e-5 err by some h² of the head, and by rounding/h:
// 1e-8 of the head holds both.
TEST(Pump, derivatives_of_every_kind_match_finite_differences) {
  using S = Dual<2>;
  Pump vane = kVane;
  vane.speed = 0.8;
  Pump bank = textbook();
  bank.rated_pressure = bar(330);
  bank.speed = 0.9;
  bank.in_series = 2;
  bank.in_parallel = 3;
  for (const Pump& pump : {vane, bank}) {
    for (const double share : {0.1, 0.4, 0.7, 0.95, 1.4}) {
      const double q = share * pump.open_flow.si();
      const S exact = pressure_added(pump, S::variable(q, 0), S::variable(0.9, 1));
      const double h = 1e-5;
      const auto at = [&](double by_q, double by_s) {
        return pressure_added(pump, q * by_q, 0.9 * by_s);
      };
      const double allowed = 1e-8 * pump.bypass_pressure.si();
      EXPECT_NEAR(exact.v[0] * q, (at(1 + h, 1) - at(1 - h, 1)) / (2 * h), allowed) << share;
      EXPECT_NEAR(exact.v[1] * 0.9, (at(1, 1 + h) - at(1, 1 - h)) / (2 * h), allowed) << share;
    }
  }
}

}  // namespace
}  // namespace drawoff::plumbing
