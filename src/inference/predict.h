// What a reading will be, before it is taken, and whether the one taken fits.
//
// A model has been asked many times, each time for one equally likely machine and water (a draw).
// The reading adds the instrument's own error to each, so the predicted distribution is the
// mixture of normals around the draws:
//
//   P(reading <= x) = (1/n) Σ Φ((x − y_k)/σ)
//
// Its quantiles are found exactly (bracketed), not by adding random numbers.
#pragma once

#include <span>

namespace drawoff::inference {

struct Interval {
  double low = 0;
  double middle = 0;  // median
  double high = 0;
};

// Probability that a reading comes out at or below x. σ in the unit of the draws, >= 0.
double probability_below(std::span<const double> draws, double sigma, double x);

// Central interval holding `level` of the probability, with the median. 0 < level < 1.
Interval predicted_interval(std::span<const double> draws, double sigma, double level);

enum class Fit {
  kAsExpected,  // inside the 90 % interval
  kALittleLow,  // outside it, inside the 99 % interval
  kALittleHigh,
  kLow,  // outside the 99 % interval
  kHigh,
};

constexpr bool is_far(Fit fit) { return fit == Fit::kLow || fit == Fit::kHigh; }

struct Judgement {
  Interval expected;               // 90 %
  double probability_below = 0.5;  // of a reading at or below this one
  Fit fit = Fit::kAsExpected;
};

inline constexpr double kExpectedLevel = 0.90;
inline constexpr double kFarLevel = 0.99;

Judgement judge(std::span<const double> draws, double sigma, double reading);

}  // namespace drawoff::inference
