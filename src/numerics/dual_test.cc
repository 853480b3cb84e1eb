#include "numerics/dual.h"

#include <gtest/gtest.h>

#include <cmath>

namespace drawoff::numerics {
namespace {

using D = Dual<2>;

// A product of everything that Dual offers, against the same written out by hand: derivative by x
// and y in closed form, so equal to rounding.
TEST(Dual, derivatives_match_closed_forms) {
  for (const double x : {0.3, 1.0, 2.7, 40.0}) {
    for (const double y : {0.2, 1.5}) {
      const D a = D::variable(x, 0);
      const D b = D::variable(y, 1);
      const auto expect = [&](const D& d, double value, double by_x, double by_y) {
        EXPECT_NEAR(d.x, value, 1e-14 * std::fabs(value));
        EXPECT_NEAR(d.v[0], by_x, 1e-14 * (std::fabs(by_x) + std::fabs(value)));
        EXPECT_NEAR(d.v[1], by_y, 1e-14 * (std::fabs(by_y) + std::fabs(value)));
      };
      expect(a * b, x * y, y, x);
      expect(a / b, x / y, 1 / y, -x / (y * y));
      expect(2.0 * a - b + 1.0, 2 * x - y + 1, 2, -1);
      expect(-a, -x, -1, 0);
      expect(exp(b * 0.5), std::exp(0.5 * y), 0, 0.5 * std::exp(0.5 * y));
      expect(log(a), std::log(x), 1 / x, 0);
      expect(sqrt(a), std::sqrt(x), 0.5 / std::sqrt(x), 0);
      expect(cbrt(a), std::cbrt(x), std::cbrt(x) / (3 * x), 0);
      expect(pow(a, -0.3), std::pow(x, -0.3), -0.3 * std::pow(x, -1.3), 0);
      expect(abs(-a), x, 1, 0);
      D c = a;
      c *= b;
      c /= a;
      c += b;
      c -= a;
      expect(c, 2 * y - x, -1, 2);
    }
  }
}

// A root at zero has no slope; 0 is given there so that an absent species is no NaN.
TEST(Dual, roots_of_zero_are_finite) {
  const D zero = D::variable(0, 0);
  EXPECT_EQ(sqrt(zero).v[0], 0);
  EXPECT_EQ(cbrt(zero).v[0], 0);
  EXPECT_EQ(pow(zero, 0.5).v[0], 0);
}

TEST(Dual, branches_look_at_the_value) {
  const D small = D::variable(1, 0);
  const D large = D::variable(2, 1);
  EXPECT_LT(small, large);
  EXPECT_GT(large, small);
  EXPECT_LE(small, D(1));
  EXPECT_GE(large, D(2));
  EXPECT_EQ(value_of(large), 2);
  EXPECT_EQ(value_of(3.5), 3.5);
}

}  // namespace
}  // namespace drawoff::numerics
