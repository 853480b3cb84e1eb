#include "numerics/sample.h"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "base/check.h"

namespace drawoff::numerics {

double quantile(std::span<const double> sorted, double p) {
  CHECK(!sorted.empty());
  const double n = static_cast<double>(sorted.size());
  const double at = std::clamp(p * (n + 1) - 1, 0.0, n - 1);
  const auto below = static_cast<std::size_t>(at);
  const auto above = std::min(below + 1, sorted.size() - 1);
  const double share = at - static_cast<double>(below);
  return sorted[below] + share * (sorted[above] - sorted[below]);
}

std::vector<double> sorted(std::span<const double> draws) {
  std::vector<double> copy(draws.begin(), draws.end());
  std::sort(copy.begin(), copy.end());
  return copy;
}

double mean(std::span<const double> draws) {
  return std::accumulate(draws.begin(), draws.end(), 0.0) / static_cast<double>(draws.size());
}

double standard_deviation(std::span<const double> draws) {
  CHECK(draws.size() > 1);
  const double centre = mean(draws);
  double sum = 0;
  for (const double d : draws) sum += (d - centre) * (d - centre);
  return std::sqrt(sum / static_cast<double>(draws.size() - 1));
}

}  // namespace drawoff::numerics
