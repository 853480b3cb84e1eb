// When an interval from exact derivatives may stand for one from sampling.
#include "machine/linear_intervals.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "machine/tolerances.h"
#include "numerics/sample.h"
#include "support/random_machine.h"
#include "water/analysis.h"

namespace drawoff {
namespace {

using machine::Point;

constexpr int kDraws = 400;

struct Compared {
  std::array<std::optional<machine::LinearInterval>, machine::kPointCount> lines;
  std::array<std::vector<double>, machine::kPointCount> draws;
};

std::optional<Compared> compared(const support::TypicalCase& site,
                                 const machine::Condition& condition = {
                                     .product_to = machine::ProductVessel::kJug}) {
  const auto composition = water::speciate(water::analysis_of(site.survey.water));
  if (!composition) return std::nullopt;
  const machine::RawWater raw{.composition = *composition,
                              .temperature = site.survey.water.temperature,
                              .strength_spread = site.survey.strength_spread,
                              .temperature_spread = machine::tolerance("day_temperature_spread")};
  const auto feed = machine::feed_of(raw, site.entry);
  const auto median = machine::nominal(site.entry, feed);
  if (median.status != membrane::RatingStatus::kFound) return std::nullopt;
  // Covariance and comparison from machines drawn apart.
  const auto variation = machine::variation_of(
      median.specimen, machine::specimens(site.entry, raw, feed, 1, kDraws), feed);
  Compared out{.lines = machine::linear_intervals(median.specimen, variation, feed, condition)};
  for (const auto& s : machine::specimens(site.entry, raw, feed, 2, kDraws)) {
    const auto values = machine::values_at(s, feed, condition);
    for (std::size_t i = 0; i < values.size(); ++i) {
      if (!std::isnan(values[i])) out.draws[i].push_back(values[i]);
    }
  }
  return out;
}

double share_inside(const machine::LinearInterval& line, const std::vector<double>& draws) {
  const auto inside = std::count_if(
      draws.begin(), draws.end(), [&](double x) { return x >= line.low && x <= line.high; });
  return static_cast<double>(inside) / static_cast<double>(draws.size());
}

// Over machines as people hang them on walls, most intervals may come from the slope, and those
// that may hold what they promise: nine draws in ten, on average within 0.04, each within 0.11:
// first order leaves up to 0.06 (seen over 600 intervals), the scatter of 400 draws is 0.015.
TEST(LinearIntervals, hold_nine_draws_in_ten_where_they_say_so) {
  int all = 0;
  int held = 0;
  std::array<double, machine::kPointCount> sum{};
  std::array<int, machine::kPointCount> count{};
  for (int job = 0; job < 24; ++job) {
    numerics::Random random(77, static_cast<std::uint64_t>(job));
    const auto result = compared(support::typical_case(random));
    if (!result) continue;
    for (std::size_t i = 0; i < result->lines.size(); ++i) {
      if (result->draws[i].size() < kDraws * 9 / 10) continue;
      ++all;
      if (!result->lines[i]) continue;
      ++held;
      const double share = share_inside(*result->lines[i], result->draws[i]);
      EXPECT_NEAR(share, 0.9, 0.11) << "case " << job << " point " << i;
      sum[i] += share;
      ++count[i];
    }
  }
  ASSERT_GT(all, 200);
  EXPECT_GT(held, all * 9 / 10);
  for (std::size_t i = 0; i < sum.size(); ++i) EXPECT_NEAR(sum[i] / count[i], 0.9, 0.04) << i;
}

// A supply that hardly lifts the water to the outlet, and is hardly known: product or none. No line
// says that.
TEST(LinearIntervals, do_not_hold_where_the_machine_may_stop) {
  numerics::Random random(77, 3);
  auto site = support::typical_case(random);
  site.entry.pump.reset();
  site.entry.supply.pressure = units::bar(1.5);
  site.entry.supply.uncertainty = units::bar(0.8);
  const auto result = compared(site, {.height = units::metre(3)});
  ASSERT_TRUE(result);
  const auto product = static_cast<std::size_t>(Point::kProductFlow);
  EXPECT_GT(std::count_if(result->draws[product].begin(),
                          result->draws[product].end(),
                          [](double flow) { return flow > 0; }),
            kDraws / 2);
  EXPECT_FALSE(result->lines[product]);
}

// What varies in a regulator is in no parameter: there every interval must be drawn.
TEST(LinearIntervals, are_not_given_for_parts_without_a_parameter) {
  numerics::Random random(77, 1);
  auto site = support::typical_case(random);
  site.entry.regulator = machine::RegulatorEntry{};
  const auto result = compared(site);
  ASSERT_TRUE(result);
  for (const auto& line : result->lines) EXPECT_FALSE(line);
}

}  // namespace
}  // namespace drawoff
