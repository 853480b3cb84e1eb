#include "inference/bounded_sum.h"

#include <gtest/gtest.h>

#include <cmath>
#include <vector>

#include "numerics/random.h"

namespace drawoff::inference {
namespace {

double below(const std::vector<double>& bounds, double x) {
  return probability_of_sum_below(bounds, x);
}

// One error: a straight line. Two alike: a triangle, 1 − (2 − x)²/8. Three of bound 1: the cubic of
// the corners, (3 − 1)³/48 − 3 (1 − 1)³/48 = 1/6 below −1. To rounding.
TEST(BoundedSum, follows_the_line_the_triangle_and_the_cubic) {
  EXPECT_NEAR(below({1}, 0.9), 0.95, 1e-15);
  EXPECT_NEAR(below({2}, -1), 0.25, 1e-15);
  EXPECT_NEAR(below({1, 1}, 1), 7.0 / 8, 1e-15);
  EXPECT_NEAR(below({3, 1}, 0), 0.5, 1e-15);
  EXPECT_NEAR(below({1, 1, 1}, -1), 1.0 / 6, 1e-15);
}

TEST(BoundedSum, is_nothing_and_all_at_the_ends) {
  EXPECT_EQ(below({1, 2, 0.5}, -3.5), 0);
  EXPECT_EQ(below({1, 2, 0.5}, 3.5), 1);
  EXPECT_EQ(below({1, 2, 0.5}, -9), 0);
}

// Beside the largest a bound of a thousandth changes the standard deviation by a millionth: leaving
// it out may not show. None at all is as none.
TEST(BoundedSum, leaves_out_what_is_too_small_to_see) {
  EXPECT_EQ(below({1, 0, 0}, 0.3), below({1}, 0.3));
  EXPECT_NEAR(below({1, 0.5, 0.0011, 0.0009}, 1.1), below({1, 0.5}, 1.1), 1e-6);
}

// Against counting: 40,000 draws, within 4 binomial standard errors (once in 16,000).
TEST(BoundedSum, agrees_with_counting) {
  const std::vector<double> bounds{1, 0.6, 0.3, 0.9};
  numerics::Random random(7);
  constexpr int kDraws = 40000;
  std::vector<double> sums;
  for (int i = 0; i < kDraws; ++i) {
    double sum = 0;
    for (const double b : bounds) sum += random.uniform(-b, b);
    sums.push_back(sum);
  }
  for (const double x : {-1.8, -0.7, 0.1, 1.2}) {
    int count = 0;
    for (const double sum : sums) count += sum <= x ? 1 : 0;
    const double p = below(bounds, x);
    EXPECT_NEAR(static_cast<double>(count) / kDraws, p, 4 * std::sqrt(p * (1 - p) / kDraws)) << x;
  }
}

}  // namespace
}  // namespace drawoff::inference
