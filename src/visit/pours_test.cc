#include "visit/pours.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <string>

#include "numerics/random.h"

namespace drawoff::visit {
namespace {

using numerics::Random;

Pour pour(double millilitres, double seconds) {
  return {.volume = units::Volume(millilitres * 1e-6), .time = units::Time(seconds)};
}
constexpr units::Volume kFifty = units::Volume(50e-6);
double litres_an_hour(units::VolumeFlow q) { return q.si() * 3.6e6; }

TEST(Pours, one_pour_in_closed_form) {
  const std::vector<Pour> pours = {pour(1000, 60)};
  const PouredFlow q = poured_flow(pours, kFifty);
  // The header's check value, to its printed digits.
  EXPECT_NEAR(q.share, 0.015184, 5e-7);
  EXPECT_NEAR(litres_an_hour(q.flow), 60, 1e-9);
  EXPECT_NEAR(litres_an_hour(q.low()), 58.501, 5e-4);
  EXPECT_NEAR(litres_an_hour(q.high()), 61.499, 5e-4);
  EXPECT_FALSE(q.birge);
  EXPECT_EQ(q.scatter, 0);
}

TEST(Pours, equal_pours_average_and_unequal_ones_weigh_by_what_they_know) {
  const std::vector<Pour> four(4, pour(1000, 60));
  EXPECT_NEAR(poured_flow(four, kFifty).share, 0.015184 / 2, 5e-7);
  // A long pour and a hasty one, of the same marks: least squares through nothing, Σ V t/Σ t².
  const std::vector<Pour> two = {pour(1000, 60), pour(100, 5.5)};
  const double flow = (1000 * 60 + 100 * 5.5) / (60 * 60 + 5.5 * 5.5);
  EXPECT_NEAR(poured_flow(two, kFifty).flow.si() * 1e6, flow, 1e-12 * flow);
}

TEST(Pours, scatter_rules_where_marks_and_hand_do_not_explain_it) {
  const std::vector<Pour> pours = {pour(1000, 55), pour(1000, 60), pour(1000, 65)};
  const PouredFlow q = poured_flow(pours, units::Volume(1e-6));
  ASSERT_GT(q.scatter, 0);
  // Nearly equal weights, as marks and hand come to 0.5 % and the scatter to 8 %: the mean's
  // standard deviation from the scatter, by hand, and t_2 = 2.92.
  const double flows[] = {1000 / 55.0, 1000 / 60.0, 1000 / 65.0};
  const double mean = (flows[0] + flows[1] + flows[2]) / 3;
  double squares = 0;
  for (const double f : flows) squares += (f - mean) * (f - mean);
  const double standard = std::sqrt(squares / 2 / 3) / mean;
  // (0.5/8)² of it, at most.
  EXPECT_NEAR(q.share, standard, 0.004 * standard);
  EXPECT_NEAR(q.half_width, 2.92 * q.share, 1e-12);
}

TEST(Pours, the_order_of_the_pours_does_not_matter) {
  Random random(3);
  for (int i = 0; i < 200; ++i) {
    std::vector<Pour> pours;
    const int n = 2 + random.below(5);
    for (int k = 0; k < n; ++k) {
      pours.push_back(pour(random.uniform(200, 2000), random.uniform(20, 90)));
    }
    const PouredFlow forth = poured_flow(pours, std::nullopt);
    std::reverse(pours.begin(), pours.end());
    const PouredFlow back = poured_flow(pours, std::nullopt);
    // Sums of up to six terms in another order: a few roundings.
    EXPECT_NEAR(forth.flow.si(), back.flow.si(), 1e-14 * forth.flow.si());
    EXPECT_NEAR(forth.half_width, back.half_width, 1e-12 * forth.half_width);
    EXPECT_GE(forth.low().si(), 0);
  }
}

// Pours of a known flow as the header describes them, with a scatter of their own beside.
std::vector<Pour> poured(Random& random, double scatter, int n) {
  constexpr double kFlow = 20;  // [mL/s]
  std::vector<Pour> pours;
  for (int k = 0; k < n; ++k) {
    const double seconds = random.uniform(30, 60);
    const double caught = kFlow * seconds * (1 + scatter * random.normal());
    const double hand = 0.2 * std::numbers::sqrt2 * random.normal();
    pours.push_back(pour(caught + random.uniform(-25, 25), seconds + hand));
  }
  return pours;
}
double coverage(double scatter, int n, int runs) {
  Random random(11, static_cast<std::uint64_t>(n));
  int held = 0;
  for (int i = 0; i < runs; ++i) {
    const PouredFlow q = poured_flow(poured(random, scatter, n), kFifty);
    held += q.low().si() <= 20e-6 && 20e-6 <= q.high().si() ? 1 : 0;
  }
  return static_cast<double>(held) / runs;
}

// Acceptance region of a share of 0.90 in so many runs: ±2.58 standard deviations of the binomial
// distribution, 99 %.
constexpr int kRuns = 4000;
const double kRegion = 2.58 * std::sqrt(0.9 * 0.1 / kRuns);

// Scatter far beyond marks and hand, which come to 1 %: Student's t holds what it says.
TEST(Pours, the_interval_holds_the_flow_nine_times_in_ten) {
  for (const int n : {3, 5, 8}) EXPECT_NEAR(coverage(0.15, n, kRuns), 0.9, kRegion) << n;
}

// With less, whether the scatter rules is itself a matter of chance. The ends were seen in
// 20,000 runs each: 0.885 to 0.922 of three pours or more, 0.836 to 0.908 of two.
TEST(Pours, with_little_scatter_it_holds_nearly_as_often) {
  for (const double scatter : {0.0, 0.005, 0.01, 0.02, 0.03, 0.05}) {
    for (const int n : {2, 3, 4, 6}) {
      const double held = coverage(scatter, n, kRuns);
      EXPECT_GT(held, (n > 2 ? 0.885 : 0.836) - kRegion) << scatter << ' ' << n;
      EXPECT_LT(held, 0.922 + kRegion) << scatter << ' ' << n;
    }
  }
}

TEST(Pours, the_next_pour_brings_what_it_promises) {
  Random random(5);
  for (int i = 0; i < 300; ++i) {
    const double flow = std::exp(random.uniform(-1, 5));  // [mL/s]
    std::vector<Pour> pours;
    for (int k = 0; k < 1 + i % 3; ++k) pours.push_back(pour(flow * 12, 12));
    for (const auto& mark : {std::optional<units::Volume>(), std::optional(units::Volume(2e-6))}) {
      if (mark && pours[0].volume < *mark) continue;
      const NextPour next = next_pour(pours, mark, 0.02);
      if (next.reached) {
        EXPECT_LE(poured_flow(pours, mark).half_width, 0.02);
        continue;
      }
      ASSERT_TRUE(next.pour);
      auto with = pours;
      with.push_back(*next.pour);
      // One closed form against the other: rounding.
      EXPECT_NEAR(poured_flow(with, mark).half_width, 0.02, 1e-12) << flow;
    }
  }
}

TEST(Pours, scattered_pours_ask_for_more_of_them) {
  const std::vector<Pour> pours = {pour(1000, 57), pour(1000, 60), pour(1000, 63)};
  const NextPour next = next_pour(pours, units::Volume(1e-6), 0.05);
  ASSERT_TRUE(next.more);
  EXPECT_GE(*next.more, 1);
  EXPECT_FALSE(next.pour);
  EXPECT_FALSE(next_pour(pours, units::Volume(1e-6), 0.005).more);  // not with twenty either
}

TEST(Pours, doubts_the_hasty_and_the_far) {
  const auto ids = [](const std::vector<Pour>& pours) {
    std::vector<std::string> out;
    for (const auto& m : doubts(pours, kFifty)) out.push_back(m.id);
    return out;
  };
  using Ids = std::vector<std::string>;
  EXPECT_EQ(ids({pour(1000, 60), pour(1000, 61), pour(1000, 60)}), Ids{});
  EXPECT_EQ(ids({pour(100, 4.9)}), Ids{"pours.doubt.short"});
  EXPECT_EQ(ids({pour(1000, 60), pour(1000, 61), pour(1200, 60)}), Ids{"pours.doubt.more"});
  EXPECT_EQ(ids({pour(1000, 60), pour(1000, 45), pour(1000, 60)}), Ids{"pours.doubt.more"});
  EXPECT_EQ(ids({pour(700, 60), pour(1000, 61), pour(1000, 60)}), Ids{"pours.doubt.less"});
  EXPECT_EQ(ids({pour(1000, 60), pour(1000, 80)}), Ids{"pours.doubt.two_differ"});
}

TEST(Pours, honest_pours_are_seldom_doubted) {
  Random random(13);
  int doubted = 0;
  for (int i = 0; i < kRuns; ++i) doubted += doubts(poured(random, 0, 4), kFifty).empty() ? 0 : 1;
  // Four pours at three standard deviations: at most 4 · 0.0027; half as much again for the scatter
  // of the count.
  EXPECT_LT(doubted, 1.5 * 4 * 0.0027 * kRuns);
}

TEST(Pours, every_usual_mark_is_less_than_what_it_is_for) {
  for (double v = 1e-6; v < 0.1; v *= 1.1) {
    EXPECT_LE(usual_mark(units::Volume(v)).si(), v);
  }
}

}  // namespace
}  // namespace drawoff::visit
