#include "plumbing/regulator.h"

#include <gtest/gtest.h>

namespace drawoff::plumbing {
namespace {

using units::bar;
using units::litre_per_hour;

constexpr Regulator kRegulator{
    .set_pressure = bar(3), .droop = bar(0.4), .flow = litre_per_hour(200)};

double behind(units::Pressure before, units::VolumeFlow q) {
  return pressure_behind(kRegulator, before.si(), q.si());
}

// The two points of its setting, and half way between them, to rounding.
TEST(Regulator, holds_its_setting_less_its_droop) {
  EXPECT_NEAR(behind(bar(6), litre_per_hour(0)), 3e5, 1e-9);
  EXPECT_NEAR(behind(bar(6), litre_per_hour(200)), 2.6e5, 1e-9);
  EXPECT_NEAR(behind(bar(6), litre_per_hour(100)), 2.8e5, 1e-9);
}

TEST(Regulator, lets_a_lower_pressure_through) {
  EXPECT_EQ(behind(bar(2), litre_per_hour(100)), 2e5);
  EXPECT_EQ(behind(bar(2.7), litre_per_hour(200)), 2.6e5);
}

// Wide open it follows the pressure before it, shut down the flow alone.
TEST(Regulator, has_the_slope_of_the_side_that_binds) {
  using S = numerics::Dual<2>;
  const auto at = [](double before) {
    return pressure_behind(
        kRegulator, S::variable(before, 0), S::variable(litre_per_hour(100).si(), 1));
  };
  EXPECT_EQ(at(2e5).v[0], 1);
  EXPECT_EQ(at(2e5).v[1], 0);
  EXPECT_EQ(at(6e5).v[0], 0);
  EXPECT_NEAR(at(6e5).v[1] * litre_per_hour(200).si(), -4e4, 1e-9);
}

}  // namespace
}  // namespace drawoff::plumbing
