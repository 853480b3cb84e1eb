#include "visit/blend_guide.h"

#include <gtest/gtest.h>

#include <cmath>

namespace drawoff::visit {
namespace {

BlendSetting setting() {
  return {.raw = 600, .permeate = 20, .turns_open = 5, .running = units::Time(3600)};
}

TEST(BlendGuide, begins_with_a_turn_from_shut) {
  const BlendGuide g = blend_guide(setting());
  EXPECT_EQ(g.standing, BlendStanding::kTurn);
  EXPECT_FALSE(g.back_to);
  EXPECT_EQ(g.turn, g.to);
  EXPECT_EQ(std::fmod(g.to, kFinestTurn), 0);
  EXPECT_GE(g.wait, setting().lag);
  ASSERT_TRUE(g.expected);
  EXPECT_LT(g.expected->low, g.expected->high);
  EXPECT_FALSE(g.product);
}

// 580 ppm between the waters, 55 wanted of them: a share of 0.095 hits the middle of the window.
TEST(BlendGuide, is_done_in_the_middle_of_the_window) {
  BlendSetting s = setting();
  s.readings = {{.turns = 0.5, .product = 40}, {.turns = 1, .product = 65}};
  const BlendGuide g = blend_guide(s);
  EXPECT_EQ(g.standing, BlendStanding::kDone);
  EXPECT_GT(g.inside, 0.99);
  ASSERT_TRUE(g.share);
  EXPECT_GT(g.share->high, 45.0 / 580);
  EXPECT_LT(g.share->low, 45.0 / 580);
}

// Whatever is likely: the meter has the last word.
TEST(BlendGuide, is_never_done_while_the_meter_reads_outside) {
  for (double product = 30; product < 120; ++product) {
    if (product >= 55 && product <= 75) continue;
    BlendSetting s = setting();
    s.readings = {{.turns = 1, .product = product}};
    const auto standing = blend_guide(s).standing;
    EXPECT_NE(standing, BlendStanding::kDone) << product;
    EXPECT_NE(standing, BlendStanding::kNearest) << product;
  }
}

TEST(BlendGuide, comes_back_past_the_play_and_opens_again) {
  BlendSetting s = setting();
  s.readings = {{.turns = 2, .product = 110}};
  const BlendGuide g = blend_guide(s);
  EXPECT_EQ(g.standing, BlendStanding::kTurn);
  EXPECT_LT(g.to, 2);
  ASSERT_TRUE(g.back_to);
  EXPECT_GE(g.to - *g.back_to, 0.03 * s.turns_open);
  EXPECT_EQ(g.turn, g.to - *g.back_to);
}

TEST(BlendGuide, goes_further_where_it_reads_too_little) {
  BlendSetting s = setting();
  s.readings = {{.turns = 1, .product = 40}};
  const BlendGuide g = blend_guide(s);
  EXPECT_EQ(g.standing, BlendStanding::kTurn);
  EXPECT_GT(g.to, 1);
  EXPECT_FALSE(g.back_to);
}

TEST(BlendGuide, waits_on_where_it_was_read_too_early) {
  BlendSetting s = setting();
  s.readings = {{.turns = 1, .product = 45, .waited = 0.25 * s.lag}};
  const BlendGuide g = blend_guide(s);
  EXPECT_EQ(g.standing, BlendStanding::kWait);
  EXPECT_DOUBLE_EQ(g.wait / s.lag, 0.75);
}

// 43 in the end: after 1/4 and 3/4 of t_95 e^(−3/4) and e^(−9/4) of the step are still to come.
// What a valve would have to be that shows so much at once cannot be set; it was the step before.
TEST(BlendGuide, a_reading_that_was_too_early_condemns_no_valve) {
  BlendSetting s{.raw = 481, .permeate = 31, .turns_open = 5, .running = units::Time(3600)};
  s.readings = {{.turns = 11.0 / 16, .product = 103, .waited = 0.03 * s.lag}};
  const BlendGuide g = blend_guide(s);
  EXPECT_EQ(g.standing, BlendStanding::kWait);
  EXPECT_NEAR(g.wait.si(), 0.97 * s.lag.si(), 1e-9);
}

TEST(BlendGuide, waits_at_one_position_add_up) {
  BlendSetting s = setting();
  s.readings = {{.turns = 1, .product = 32, .waited = 0.25 * s.lag},
                {.turns = 1, .product = 41, .waited = 0.5 * s.lag}};
  const BlendGuide more = blend_guide(s);
  EXPECT_EQ(more.standing, BlendStanding::kWait);
  EXPECT_DOUBLE_EQ(more.wait / s.lag, 0.25);
  s.readings.push_back({.turns = 1, .product = 42, .waited = 0.25 * s.lag});
  const BlendGuide over = blend_guide(s);
  EXPECT_EQ(over.standing, BlendStanding::kTurn);
  EXPECT_GT(over.to, 1);
  // Turned, so that the wait begins again.
  s.readings.push_back({.turns = 1.25, .product = 45, .waited = 0.25 * s.lag});
  const BlendGuide anew = blend_guide(s);
  EXPECT_EQ(anew.standing, BlendStanding::kWait);
  EXPECT_DOUBLE_EQ(anew.wait / s.lag, 0.75);
}

TEST(BlendGuide, a_valve_that_was_read_too_early_is_not_one_that_cannot_be_held) {
  BlendSetting s = setting();
  for (int i = 1; i <= kMostWaits + 1; ++i) {
    const double left = std::exp(-3 * 0.1 * i);
    s.readings.push_back(
        {.turns = 1, .product = std::round(43 - left * (43 - 20)), .waited = 0.1 * s.lag});
  }
  EXPECT_EQ(blend_guide(s).standing, BlendStanding::kWait);
}

// From 0.33 turns, where it came by closing, the way back is told in sixteenths too.
TEST(BlendGuide, comes_back_to_where_a_hand_can_count) {
  BlendSetting s = setting();
  s.readings = {{.turns = 0.33, .product = 54, .turned = TurnedBy::kClosing}};
  const BlendGuide g = blend_guide(s);
  EXPECT_EQ(g.standing, BlendStanding::kTurn);
  ASSERT_TRUE(g.back_to);
  EXPECT_EQ(std::fmod(*g.back_to, kFinestTurn), 0);
  EXPECT_EQ(std::fmod(g.turn, kFinestTurn), 0);
}

// 0.08 is what the middle of the window takes; only the least turn may exceed what is permitted.
TEST(BlendGuide, stays_below_the_permitted_share) {
  BlendSetting s = setting();
  s.highest_share = 0.09;
  const BlendGuide first = blend_guide(s);
  EXPECT_EQ(first.standing, BlendStanding::kTurn);
  EXPECT_TRUE(first.over_share <= kOverShare || (first.trial && first.to == kFinestTurn));
  s.readings = {{.turns = 0.5, .product = 35}};
  const BlendGuide second = blend_guide(s);
  EXPECT_EQ(second.standing, BlendStanding::kTurn);
  EXPECT_LE(second.over_share, kOverShare);
}

// 5 % of 580 ppm above 20 are 49: less than wanted.
TEST(BlendGuide, says_when_what_is_wanted_is_not_permitted) {
  BlendSetting s = setting();
  s.highest_share = 0.05;
  EXPECT_EQ(blend_guide(s).standing, BlendStanding::kNotPermitted);
}

TEST(BlendGuide, says_when_no_blend_is_needed_or_none_would_do) {
  BlendSetting s = setting();
  s.permeate = 64;
  EXPECT_EQ(blend_guide(s).standing, BlendStanding::kNoneNeeded);
  s.permeate = 90;
  EXPECT_EQ(blend_guide(s).standing, BlendStanding::kOverWithout);
  s = setting();
  s.raw = 45;
  s.permeate = 4;
  EXPECT_EQ(blend_guide(s).standing, BlendStanding::kRawTooWeak);
}

TEST(BlendGuide, says_when_full_open_is_too_little) {
  BlendSetting s = setting();
  s.readings = {{.turns = 2.5, .product = 25}, {.turns = 5, .product = 30}};
  EXPECT_EQ(blend_guide(s).standing, BlendStanding::kTooSmall);
}

TEST(BlendGuide, says_when_the_least_turn_is_too_much) {
  BlendSetting s = setting();
  s.readings = {{.turns = 0.25, .product = 500}, {.turns = 0.0625, .product = 300}};
  EXPECT_EQ(blend_guide(s).standing, BlendStanding::kTooCoarse);
}

TEST(BlendGuide, says_when_the_valve_does_not_follow) {
  BlendSetting s = setting();
  s.readings = {{.turns = 1, .product = 200}, {.turns = 2, .product = 40}};
  EXPECT_EQ(blend_guide(s).standing, BlendStanding::kDoesNotFollow);
}

// A pen of 20 ppm at 65: the truth lies anywhere from 45 to 85, if the permeate lets it.
TEST(BlendGuide, a_pen_too_coarse_for_the_window_is_said) {
  BlendSetting s = setting();
  s.meter = {.full_scale = 1000, .share_of_full_scale = 0.02, .last_digit = 1};
  s.readings = {{.turns = 0.5, .product = 40}, {.turns = 1, .product = 65}};
  const BlendGuide g = blend_guide(s);
  EXPECT_NE(g.standing, BlendStanding::kDone);
  EXPECT_LT(g.inside, kSure);
}

}  // namespace
}  // namespace drawoff::visit
