#include "inference/bounded_sum.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "base/check.h"

namespace drawoff::inference {
namespace {

constexpr double kTooSmall = 1e-3;  // of the largest: beyond, the powers cancel to nothing

}  // namespace

double probability_of_sum_below(std::span<const double> bounds, double x) {
  std::array<double, 8> kept{};
  CHECK(!bounds.empty() && bounds.size() <= kept.size());
  const double largest = *std::max_element(bounds.begin(), bounds.end());
  CHECK(largest > 0);
  std::size_t n = 0;
  for (const double b : bounds) {
    if (b > kTooSmall * largest) kept[n++] = b / largest;
  }
  // By symmetry the smaller of the two tails, where the powers are small too.
  const double from = -std::fabs(x / largest);
  double scale = 1;
  for (std::size_t i = 0; i < n; ++i) scale *= 2 * static_cast<double>(i + 1) * kept[i];
  double sum = 0;
  for (unsigned corner = 0; corner < 1U << n; ++corner) {
    double reach = from;
    double sign = 1;
    for (std::size_t i = 0; i < n; ++i) {
      const bool low = (corner >> i & 1U) != 0;
      reach += low ? -kept[i] : kept[i];
      if (low) sign = -sign;
    }
    if (reach > 0) sum += sign * std::pow(reach, static_cast<double>(n));
  }
  const double tail = std::clamp(sum / scale, 0.0, 0.5);
  return x > 0 ? 1 - tail : tail;
}

}  // namespace drawoff::inference
