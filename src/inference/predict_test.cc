#include "inference/predict.h"

#include <gtest/gtest.h>

#include <cmath>
#include <vector>

#include "numerics/random.h"

namespace drawoff::inference {
namespace {

using numerics::normal_probability;
using numerics::normal_quantile;

// One draw: the mixture is a normal distribution about it, with quantiles in closed form.
// Tolerance: the bracket's, 1e-10 of the larger of σ and the end of the bracket.
TEST(Predict, a_single_draw_gives_normal_quantiles) {
  const std::vector<double> draws = {70};
  const auto interval = predicted_interval(draws, 4, 0.90);
  EXPECT_NEAR(interval.low, 70 + 4 * normal_quantile(0.05), 2e-8);
  EXPECT_NEAR(interval.middle, 70, 2e-8);
  EXPECT_NEAR(interval.high, 70 + 4 * normal_quantile(0.95), 2e-8);
  EXPECT_NEAR(interval.high, 76.5794, 5e-5);  // 70 + 4 × 1.64485
}

// Two draws far apart: each tail is that of one normal with half the weight.
TEST(Predict, two_far_draws_have_the_tails_of_each) {
  const std::vector<double> draws = {-1000, 1000};
  const auto interval = predicted_interval(draws, 1, 0.90);
  EXPECT_NEAR(interval.low, -1000 + normal_quantile(0.10), 1e-6);
  EXPECT_NEAR(interval.high, 1000 + normal_quantile(0.90), 1e-6);
}

// Draws of a normal plus an instrument of the same spread: variances add. Draws laid out at the
// quantiles of the normal stand for infinitely many; with 2000 their variance falls short by 0.1 %.
TEST(Predict, spread_of_draws_and_instrument_add_as_variances) {
  std::vector<double> draws;
  constexpr int kCount = 2000;
  for (int i = 0; i < kCount; ++i) draws.push_back(3 * normal_quantile((i + 0.5) / kCount));
  const auto interval = predicted_interval(draws, 4, 0.90);
  EXPECT_NEAR(interval.high, 5 * normal_quantile(0.95), 0.01);
  EXPECT_NEAR(interval.low, -interval.high, 1e-6);
  EXPECT_NEAR(probability_below(draws, 4, 5), normal_probability(1), 0.001);
}

TEST(Predict, a_perfect_instrument_leaves_the_draws) {
  const std::vector<double> draws = {3, 1, 2};
  EXPECT_DOUBLE_EQ(predicted_interval(draws, 0, 0.90).middle, 2);
  EXPECT_DOUBLE_EQ(probability_below(draws, 0, 2), 2.0 / 3);
}

// 90 % within 1.645 σ, 99 % within 2.576 σ.
TEST(Judge, names_how_far_out_a_reading_lies) {
  const std::vector<double> draws = {100};
  struct Expected {
    double reading;
    Fit fit;
  };
  constexpr Expected kExpected[] = {{100, Fit::kAsExpected},
                                    {101.6, Fit::kAsExpected},
                                    {98.4, Fit::kAsExpected},
                                    {101.7, Fit::kALittleHigh},
                                    {98.3, Fit::kALittleLow},
                                    {102.5, Fit::kALittleHigh},
                                    {97.5, Fit::kALittleLow},
                                    {102.6, Fit::kHigh},
                                    {97.4, Fit::kLow}};
  for (const auto& [reading, fit] : kExpected) {
    EXPECT_EQ(judge(draws, 1, reading).fit, fit) << reading;
  }
  EXPECT_NEAR(judge(draws, 1, 101).probability_below, normal_probability(1), 1e-12);
}

}  // namespace
}  // namespace drawoff::inference
