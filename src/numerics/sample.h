// What a set of equally likely draws says: quantiles, mean, spread.
#pragma once

#include <span>
#include <vector>

namespace drawoff::numerics {

// Quantile p of the draws, 0 <= p <= 1, linear between order statistics at i/(n+1)
// (Hyndman & Fan 1996, type 6: unbiased coverage for a further draw). [hyndman1996]
// Check: {1, 2, 3}, p = 0.5 -> 2; p = 0.25 -> 1.
double quantile(std::span<const double> sorted, double p);
std::vector<double> sorted(std::span<const double> draws);

double mean(std::span<const double> draws);
// Sample standard deviation, n - 1 in the denominator.
double standard_deviation(std::span<const double> draws);

}  // namespace drawoff::numerics
