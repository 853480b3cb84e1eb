#include "numerics/random.h"

#include <boost/math/special_functions/erf.hpp>
#include <cmath>

#include "numerics/boost_policy.h"

namespace drawoff::numerics {

namespace {
constexpr std::uint64_t kGamma = 0x9E3779B97F4A7C15ULL;
}

std::uint64_t splitmix64(std::uint64_t counter) {
  std::uint64_t z = counter;
  z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9ULL;
  z = (z ^ (z >> 27)) * 0x94D049BB133111EBULL;
  return z ^ (z >> 31);
}

Random::Random(std::uint64_t seed, std::uint64_t stream)
    : state_(splitmix64(seed + kGamma) ^ splitmix64(stream * kGamma + 1)) {}

double Random::uniform() {
  state_ += kGamma;
  // 52 bits, centred in their cell: never exactly 0 or 1.
  return (static_cast<double>(splitmix64(state_) >> 12) + 0.5) * 0x1.0p-52;
}

double Random::normal() { return normal_quantile(uniform()); }

int Random::below(int n) { return static_cast<int>(uniform() * n); }

double normal_quantile(double p) {
  return -std::sqrt(2.0) * boost::math::erfc_inv(2.0 * p, kQuietPolicy);
}

double normal_probability(double z) { return 0.5 * std::erfc(-z / std::sqrt(2.0)); }

}  // namespace drawoff::numerics
