#include "transients/wash.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "numerics/random.h"
#include "transients/flush.h"

namespace drawoff::transients {
namespace {

// Closed forms; the squarings double rounding ten times or so: 1e-12.
TEST(Wash, one_mixed_volume_is_an_exponential) {
  const Chain chain{.mixed = {2e-4}};
  for (const double x : {1e-6, 1e-4, 2e-4, 1e-3, 5e-3}) {
    EXPECT_NEAR(share_left(chain, x) / std::exp(-x / 2e-4), 1, 1e-12) << x;
  }
  EXPECT_NEAR(passed_until(chain, 0.05), 2e-4 * std::log(20), 2e-4 * 1e-10);
}

// Erlang's law for equal volumes. [levenspiel1999]
TEST(Wash, equal_volumes_are_erlang) {
  const double v = 3e-4;
  for (int n = 2; n <= 5; ++n) {
    const Chain chain{.mixed = std::vector<double>(static_cast<std::size_t>(n), v)};
    for (const double x : {0.1, 1.0, 3.0, 10.0, 30.0}) {
      double sum = 0;
      double term = 1;
      for (int k = 0; k < n; ++k) {
        sum += term;
        term *= x / (k + 1);
      }
      EXPECT_NEAR(share_left(chain, x * v) / (std::exp(-x) * sum), 1, 1e-12) << n << " " << x;
    }
  }
}

// Two unlike ones: (V₁ e^(−x/V₁) − V₂ e^(−x/V₂))/(V₁ − V₂), by partial fractions.
TEST(Wash, two_unlike_volumes_are_partial_fractions) {
  const double a = 4e-3;
  const double b = 2.5e-4;
  for (const double x : {1e-5, 1e-4, 1e-3, 1e-2, 4e-2}) {
    const double want = (a * std::exp(-x / a) - b * std::exp(-x / b)) / (a - b);
    EXPECT_NEAR(share_left({.mixed = {b, a}}, x) / want, 1, 1e-11) << x;
    EXPECT_NEAR(share_left({.mixed = {a, b}}, x) / want, 1, 1e-11) << x;
  }
}

TEST(Wash, a_tube_only_delays) {
  const Chain tube{.mixed = {}, .plug = 5e-5};
  EXPECT_EQ(share_left(tube, 4.9e-5), 1);
  EXPECT_EQ(share_left(tube, 5.1e-5), 0);
  EXPECT_EQ(passed_until(tube, 0.1), 5e-5);
  const Chain both{.mixed = {1e-4}, .plug = 5e-5};
  EXPECT_NEAR(passed_until(both, 0.05), 5e-5 + 1e-4 * std::log(20), 1e-14);
}

// What left the chain is what entered less what is still there: ∫ share dx = Σ V to the end.
TEST(Wash, salt_is_conserved) {
  numerics::Random random(3);
  for (int i = 0; i < 20; ++i) {
    std::vector<double> mixed;
    double sum = 0;
    for (int k = 0; k < 1 + i % 5; ++k) {
      mixed.push_back(std::exp(random.uniform(std::log(5e-5), std::log(5e-3))));
      sum += mixed.back();
    }
    // Simpson over one exchange of all: outflow, against what is held.
    const int n = 2000;
    const double h = sum / n;
    double out = 0;
    for (int k = 0; k <= n; ++k) {
      const double weight = k == 0 || k == n ? 1 : (k % 2 == 1 ? 4 : 2);
      out += weight * share_left({.mixed = mixed}, k * h) * h / 3;
    }
    double left = 0;
    for (const double m : held_after(mixed, mixed, sum)) left += m;
    // Simpson's error: h⁴/180 of the fourth derivative, (h/V)⁴ of the smallest volume.
    const double smallest = *std::min_element(mixed.begin(), mixed.end());
    EXPECT_NEAR(out + left, sum, sum * (1e-11 + std::pow(h / smallest, 4)));
  }
}

TEST(Wash, more_water_leaves_less_and_more_volume_more) {
  const Chain small{.mixed = {1e-4, 2e-4}};
  const Chain large{.mixed = {1e-4, 3e-4}};
  double before = 1;
  for (int i = 1; i < 50; ++i) {
    const double x = i * 5e-5;
    EXPECT_LT(share_left(small, x), before);
    EXPECT_LT(share_left(small, x), share_left(large, x));
    before = share_left(small, x);
  }
}

// The check of common practice (no source), with the conditions under which it was computed.
TEST(Wash, a_blend_change_shows_after_three_to_four_minutes) {
  const double bore = 4.3e-3;
  const double tube = 3 * std::numbers::pi * bore * bore / 4;
  const double flow = 14 / 3.6e6;
  const Path before_cooler{.chain = {.mixed = {2.5e-4}, .plug = tube}, .flow = flow};
  EXPECT_NEAR(flushed(before_cooler, 0.05).time / 60, 3.4, 0.05);
  const Path cooler{.chain = {.mixed = {4e-3}}, .flow = flow};
  EXPECT_NEAR(flushed(cooler, 0.05).time / 60, 51, 0.5);
  const Path whole{.chain = {.mixed = {2.5e-4, 4e-3}, .plug = tube}, .flow = flow};
  EXPECT_GT(flushed(whole, 0.05).time, flushed(cooler, 0.05).time);
  // One after the other takes no longer than both in turn.
  EXPECT_LT(flushed(whole, 0.05).time,
            flushed(cooler, 0.05).time + flushed(before_cooler, 0.05).time);
}

}  // namespace
}  // namespace drawoff::transients
