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
                    .bypass_pressure = units::pascal(rated * random.uniform(1, 2))};
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

}  // namespace
}  // namespace drawoff::plumbing
