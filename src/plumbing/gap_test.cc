#include "plumbing/gap.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "water/properties.h"

namespace drawoff::plumbing {
namespace {

using units::bar;
using units::litre_per_hour;
using units::millimetre;

double micrometres(units::Length gap) { return gap.si() * 1e6; }

// Over a long land it is plane Poiseuille flow alone: h³ = 12 µ L Q/(π D Δp). The jet's share is
// below 1e-3 there, and the gap feels a third of it.
TEST(Gap, over_a_long_land_is_creeping_flow) {
  const MeteredFlow wanted{litre_per_hour(0.1), bar(1)};
  const ValveSeat seat{.diameter = millimetre(4), .land = millimetre(20)};
  const double mu = water::viscosity(wanted.temperature).si();
  const double h =
      std::cbrt(12 * mu * 20e-3 * litre_per_hour(0.1).si() / (std::numbers::pi * 4e-3 * 1e5));
  EXPECT_NEAR(gap_for(wanted, seat).si() / h, 1, 5e-4);
}

// Over no land it is an orifice: h = Q/(C π D √(2 Δp/ρ)) = 2.7 µm.
TEST(Gap, over_no_land_is_an_orifice) {
  const MeteredFlow wanted{litre_per_hour(0.9), bar(3)};
  const ValveSeat seat{.land = millimetre(0)};
  const double rho = water::density(wanted.temperature).si();
  const double h =
      litre_per_hour(0.9).si() / (0.6 * std::numbers::pi * 2e-3 * std::sqrt(2 * 3e5 / rho));
  EXPECT_NEAR(gap_for(wanted, seat).si() / h, 1, 1e-12);
  EXPECT_NEAR(micrometres(gap_for(wanted, seat)), 2.7, 0.05);
}

// A small blend of 0.9 L/h needs 2 to 11 µm (the shared design's own computation), whatever the
// seat and the pressure of such a unit.
TEST(Gap, of_a_small_blend_is_a_few_micrometres) {
  for (const double pressure : {2.5, 3.0, 6.0}) {
    for (const double land : {0.0, 0.2, 0.5}) {
      const double gap =
          micrometres(gap_for({litre_per_hour(0.9), bar(pressure)}, {.land = millimetre(land)}));
      EXPECT_GT(gap, 1.5) << pressure << " bar over " << land << " mm";
      EXPECT_LT(gap, 11) << pressure << " bar over " << land << " mm";
    }
  }
  EXPECT_NEAR(micrometres(gap_for({litre_per_hour(0.9), bar(3)})), 9.5, 0.05);
}

TEST(Gap, finer_than_the_filter_cannot_be_held) {
  EXPECT_TRUE(too_fine_to_hold({gap_for({litre_per_hour(0.1), bar(3)})}));
  EXPECT_FALSE(too_fine_to_hold({gap_for({litre_per_hour(20), bar(1)}), millimetre(0.02)}));
}

TEST(Gap, grows_with_the_flow_and_shrinks_with_the_pressure) {
  double before = 0;
  for (double flow = 0.01; flow < 200; flow *= 1.5) {
    const double gap = gap_for({litre_per_hour(flow), bar(2)}).si();
    EXPECT_GT(gap, before);
    EXPECT_LT(gap_for({litre_per_hour(flow), bar(4)}).si(), gap);
    before = gap;
  }
}

}  // namespace
}  // namespace drawoff::plumbing
