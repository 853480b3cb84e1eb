#include "numerics/sample.h"

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <vector>

#include "numerics/random.h"

namespace drawoff::numerics {
namespace {

// Type 6: the i-th of n order statistics is the quantile i/(n + 1). [hyndman1996]
TEST(Sample, quantile_check_values) {
  const std::array<double, 3> three{1, 2, 3};
  EXPECT_EQ(quantile(three, 0.5), 2);
  EXPECT_EQ(quantile(three, 0.25), 1);
  EXPECT_EQ(quantile(three, 0.75), 3);
  EXPECT_EQ(quantile(three, 0.375), 1.5);
  EXPECT_EQ(quantile(three, 0.0), 1);
  EXPECT_EQ(quantile(three, 1.0), 3);
  const std::array<double, 1> one{7};
  EXPECT_EQ(quantile(one, 0.3), 7);
}

// What that type is for: the interval between two quantiles of n draws holds one further draw
// with just the probability between them. N trials: within 4.892 binomial standard errors.
TEST(Sample, quantiles_cover_a_further_draw) {
  constexpr int kTrials = 20000;
  constexpr int kDraws = 39;  // 0.05 and 0.95 are the 2nd and 38th of 40 steps
  int inside = 0;
  for (int trial = 0; trial < kTrials; ++trial) {
    Random random(31, static_cast<std::uint64_t>(trial));
    std::vector<double> draws(kDraws);
    for (double& d : draws) d = random.normal();
    const auto order = sorted(draws);
    const double next = random.normal();
    if (next > quantile(order, 0.05) && next < quantile(order, 0.95)) ++inside;
  }
  EXPECT_NEAR(inside, 0.9 * kTrials, 4.892 * std::sqrt(0.9 * 0.1 * kTrials));
}

TEST(Sample, mean_and_spread_of_a_small_sample) {
  const std::array<double, 8> draws{2, 4, 4, 4, 5, 5, 7, 9};
  EXPECT_EQ(mean(draws), 5);
  EXPECT_NEAR(standard_deviation(draws), std::sqrt(32.0 / 7), 1e-15 * 3);
}

TEST(Sample, sorting_leaves_the_draws_alone) {
  const std::vector<double> draws{3, 1, 2};
  EXPECT_EQ(sorted(draws), (std::vector<double>{1, 2, 3}));
  EXPECT_EQ(draws, (std::vector<double>{3, 1, 2}));
}

}  // namespace
}  // namespace drawoff::numerics
