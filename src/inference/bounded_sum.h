// Errors of which only the bounds are known, added up: a standard's tolerance, a thermometer, a
// last digit.
//
// Within its bound ±bᵢ no value is preferred [jcgm2008, 4.3.7]. The sum S of n such errors is then
//
//   P(S <= x) = Σ_s (Π sᵢ) (x + Σ sᵢ bᵢ)₊ⁿ/(n! 2ⁿ Π bᵢ)       s over all 2ⁿ choices of signs
//
// exactly (the share of a box below a plane, corner by corner; from memory). No normal curve: where
// one bound rules, ±1.645 standard deviations would hold 95 % and not 90.
// Checks: {1}: P(S <= 0.9) = 0.95; {1, 1}: P(S <= 1) = 7/8.
#pragma once

#include <span>

namespace drawoff::inference {

// Probability that the errors within these bounds add up to at most x. Bounds >= 0, at least one
// above 0, at most eight; one below a thousandth of the largest is too small to matter.
double probability_of_sum_below(std::span<const double> bounds, double x);

}  // namespace drawoff::inference
