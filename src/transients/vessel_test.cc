#include "transients/vessel.h"

#include <gtest/gtest.h>

#include <cmath>

namespace drawoff::transients {
namespace {

constexpr double kPsi = 6894.757293168;  // [nist2008]

// plumbing_and_limits.md: published to four digits, with 14.7 psi of air (0.03 % more than ours).
TEST(AirTank, published_drawdowns) {
  struct Case {
    double precharge, from, to, share;
  };
  for (const Case& c : {Case{28, 30, 50, 0.2953},
                        Case{18, 20, 40, 0.3446},
                        Case{38, 40, 60, 0.2579},
                        Case{20, 20, 40, 0.366},
                        Case{30, 30, 50, 0.309},
                        Case{40, 40, 60, 0.268}}) {
    const AirTank tank{.volume = 1, .precharge = c.precharge * kPsi};
    EXPECT_NEAR(content(tank, c.to * kPsi) - content(tank, c.from * kPsi), c.share, 5e-4);
  }
}

// The same file: 0.5 bar, filled to 2.5 bar: 0.569 of the tank; usable down to 0.7 bar 0.453.
TEST(AirTank, small_tank_of_the_reference) {
  const AirTank tank{.volume = 12e-3, .precharge = 0.5e5};
  EXPECT_NEAR(content(tank, 2.5e5) / tank.volume, 0.569, 5e-4);
  EXPECT_NEAR((content(tank, 2.5e5) - content(tank, 0.7e5)) / tank.volume, 0.453, 5e-4);
  EXPECT_EQ(content(tank, 0.4e5), 0);
}

TEST(AirTank, pressure_and_content_are_inverse) {
  const AirTank tank{.volume = 12e-3, .precharge = 0.5e5};
  for (const double held : {0.0, 1e-4, 2e-3, 8e-3, 11.9e-3}) {
    EXPECT_NEAR(content(tank, pressure(tank, held)), held, 1e-15);
  }
}

// Lamé's wall becomes the thin shell's a (5/2 − 2ν)/(E t) as the wall thins: to the order of t/a.
TEST(Tube, a_thin_wall_is_a_shell) {
  for (const double thin : {1e-3, 1e-4}) {
    const double a = 2.15e-3;
    const double t = thin * a;
    const double shell = a * (2.5 - 2 * 0.42) / (0.6e9 * t);
    const double lame =
        wall_give({.bore = 2 * a, .thickness = t, .modulus = 0.6e9, .poisson = 0.42});
    EXPECT_NEAR(lame / shell, 1, 2 * thin);
  }
}

// A very thick wall: a hole in a solid, 2 (1 + ν)/E.
TEST(Tube, a_thick_wall_is_a_hole_in_a_solid) {
  const double give = wall_give({.bore = 1e-3, .thickness = 10, .modulus = 0.6e9, .poisson = 0.42});
  EXPECT_NEAR(give, 2 * 1.42 / 0.6e9, give * 1e-6);
}

TEST(Store, give_is_the_slope_of_content) {
  const Store store{.line = {.compliance = 2e-13, .air = 5e-6},
                    .tank = AirTank{.volume = 12e-3, .precharge = 0.5e5}};
  for (const double p : {0.1e5, 0.6e5, 1e5, 3e5}) {
    const double h = 10;
    const double slope = (content(store, p + h) - content(store, p - h)) / (2 * h);
    // Central difference: h²/6 of the third derivative, here (h/p)²; rounding of 1e-3 m³ over 20
    // Pa.
    EXPECT_NEAR(give(store, p) / slope, 1, 1e-6) << p;
  }
}

}  // namespace
}  // namespace drawoff::transients
