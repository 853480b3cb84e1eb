#include "inference/predict.h"

#include <algorithm>
#include <cmath>

#include "base/check.h"
#include "numerics/bracket.h"
#include "numerics/random.h"
#include "numerics/sample.h"

namespace drawoff::inference {

double probability_below(std::span<const double> draws, double sigma, double x) {
  CHECK(!draws.empty());
  double sum = 0;
  for (const double y : draws) {
    sum += sigma > 0 ? numerics::normal_probability((x - y) / sigma) : (y <= x ? 1.0 : 0.0);
  }
  return sum / static_cast<double>(draws.size());
}

namespace {

double predicted_quantile(std::span<const double> draws,
                          std::span<const double> sorted,
                          double sigma,
                          double p) {
  if (!(sigma > 0)) return numerics::quantile(sorted, p);
  const double reach = 10 * sigma;  // Φ(10) is 1 to the last digit
  const numerics::Bracket bracket{.low = sorted.front() - reach,
                                  .high = sorted.back() + reach,
                                  .tolerance = 1e-10,
                                  .scale = sigma};
  const auto root = numerics::find_root(
      [&](double x) { return probability_below(draws, sigma, x) - p; }, bracket);
  CHECK(root.status != numerics::BracketStatus::kNoSignChange);
  return root.root;
}

}  // namespace

Interval predicted_interval(std::span<const double> draws, double sigma, double level) {
  CHECK(level > 0 && level < 1);
  const auto sorted = numerics::sorted(draws);
  const double tail = (1 - level) / 2;
  return {.low = predicted_quantile(draws, sorted, sigma, tail),
          .middle = predicted_quantile(draws, sorted, sigma, 0.5),
          .high = predicted_quantile(draws, sorted, sigma, 1 - tail)};
}

Judgement judge(std::span<const double> draws, double sigma, double reading) {
  Judgement j;
  j.expected = predicted_interval(draws, sigma, kExpectedLevel);
  j.probability_below = probability_below(draws, sigma, reading);
  const Interval far = predicted_interval(draws, sigma, kFarLevel);
  if (reading < far.low) {
    j.fit = Fit::kLow;
  } else if (reading > far.high) {
    j.fit = Fit::kHigh;
  } else if (reading < j.expected.low) {
    j.fit = Fit::kALittleLow;
  } else if (reading > j.expected.high) {
    j.fit = Fit::kALittleHigh;
  }
  return j;
}

}  // namespace drawoff::inference
