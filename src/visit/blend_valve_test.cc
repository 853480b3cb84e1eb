#include "visit/blend_valve.h"

#include <gtest/gtest.h>

#include <cmath>

namespace drawoff::visit {
namespace {

BlendSetting setting() {
  return {.raw = 600, .permeate = 20, .turns_open = 5, .running = units::Time(3600)};
}

double mean_product(const LikelyValves& likely) {
  double sum = 0;
  for (const LikelyValve& v : likely.members) sum += product_at(v, v.needle);
  return sum / static_cast<double>(likely.members.size());
}

TEST(BlendValve, a_linear_valve_of_the_permeates_flow_half_open) {
  const LikelyValve v{.raw = 610, .permeate = 10};
  EXPECT_DOUBLE_EQ(share_at(v, 0.5), 1.0 / 3);
  EXPECT_DOUBLE_EQ(product_at(v, 0.5), 210);
  EXPECT_EQ(share_at(v, 0), 0);
}

// Equal percentage: equal steps multiply alike. Here R = e⁴, d = 1, off its seat.
TEST(BlendValve, each_step_of_an_equal_percentage_valve_multiplies_alike) {
  const LikelyValve v{.bend = 4, .crack = 1};
  const double low = characteristic(v, 0.4) / characteristic(v, 0.2);
  const double high = characteristic(v, 0.9) / characteristic(v, 0.7);
  EXPECT_NEAR(low, std::exp(0.8), 1e-12);
  EXPECT_NEAR(high, std::exp(0.8), 1e-12);
  EXPECT_NEAR(characteristic(v, 1), 1, 1e-12);
}

TEST(BlendValve, opens_from_nothing_to_all_without_turning_back) {
  for (const double bend : {-4.0, -1.0, 0.0, 1e-8, 2.0, 4.0}) {
    for (const double lift : {0.45, 1.0, 1.2}) {
      const LikelyValve v{.bend = bend, .lift = lift, .crack = bend > 0 ? 0.5 : 0};
      EXPECT_EQ(characteristic(v, 0), 0);
      EXPECT_NEAR(characteristic(v, 1), 1, 1e-12);
      for (int i = 0; i < 100; ++i) {
        EXPECT_LT(characteristic(v, i / 100.0), characteristic(v, (i + 1) / 100.0));
      }
    }
  }
}

// Play of 2 % of travel: nothing moves for so long on each reversal.
TEST(BlendValve, play_is_taken_up_before_the_needle_moves) {
  LikelyValve v{.play = 0.02};
  EXPECT_EQ(needle_after(v, 0.01), 0);
  v.needle = needle_after(v, 0.12);
  EXPECT_NEAR(v.needle, 0.10, 1e-12);
  v.needle = needle_after(v, 0.11);
  EXPECT_NEAR(v.needle, 0.10, 1e-12);
  v.needle = needle_after(v, 0.05);
  EXPECT_NEAR(v.needle, 0.05, 1e-12);
}

TEST(BlendValve, the_same_seed_gives_the_same_valves) {
  const auto a = likely_valves(setting(), 7);
  const auto b = likely_valves(setting(), 7);
  ASSERT_EQ(a.members.size(), b.members.size());
  EXPECT_EQ(a.members.front().capacity, b.members.front().capacity);
  EXPECT_EQ(a.members.back().bend, b.members.back().bend);
}

// A pen of 2 % and 2 digits that reads 65: the truth within 3.3 and half a digit, as its members.
TEST(BlendValve, the_valves_agree_with_what_was_read) {
  BlendSetting s = setting();
  s.readings = {{.turns = 1, .product = 65}};
  const auto likely = likely_valves(s);
  ASSERT_FALSE(likely.members.empty());
  EXPECT_NEAR(mean_product(likely), 65, 1);
  for (const LikelyValve& v : likely.members) {
    // Four standard deviations of what blurs: half a digit, 1.5 % of what the blend adds.
    EXPECT_NEAR(v.gain * product_at(v, v.needle) + v.offset, 65, 4 * 0.9);
  }
}

// After one lag 5 % of the step is still to come: what the members hold stands above what was read.
TEST(BlendValve, a_reading_taken_early_is_still_rising) {
  BlendSetting s = setting();
  s.readings = {{.turns = 1, .product = 65, .waited = s.lag}};
  const double after_one_lag = mean_product(likely_valves(s));
  s.readings = {{.turns = 1, .product = 65, .waited = 0.5 * s.lag}};
  const double after_half = mean_product(likely_valves(s));
  EXPECT_GT(after_one_lag, 66);
  EXPECT_GT(after_half, after_one_lag + 5);
}

TEST(BlendValve, a_valve_that_closes_as_it_is_opened_is_none_of_them) {
  BlendSetting s = setting();
  s.readings = {{.turns = 1, .product = 200}, {.turns = 2, .product = 60}};
  const auto likely = likely_valves(s);
  EXPECT_TRUE(likely.members.empty() || likely.least_misfit > 100);
}

TEST(BlendValve, a_scale_is_brought_to_the_half_scale) {
  BlendSetting s = setting();
  s.meter.scale = water::MeterScale::kSevenTenths;
  EXPECT_DOUBLE_EQ(half_scale(s), 0.5 / 0.7);
  s.unit = MeterUnit::kMicrosiemens;
  EXPECT_DOUBLE_EQ(half_scale(s), 0.5);
}

}  // namespace
}  // namespace drawoff::visit
