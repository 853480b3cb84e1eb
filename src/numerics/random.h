// Seeded random numbers that are the same on every platform.
//
// Counter-based: draw i of stream s is a hash of (seed, s, i), so streams need no state that leaks
// from one computation into another, and a draw added to one stream moves no other. The
// standard library's distributions differ between implementations and are not used.
//
//   Random random(seed, stream);
//   double z = random.normal();
//
// The hash is the splitmix64 output function (Steele, Lea & Flood 2014) applied to the counter.
// [steele2014]  Check: seed 0, first output of splitmix64 is 0xE220A8397B1DCDAF.
#pragma once

#include <cstdint>

namespace drawoff::numerics {

std::uint64_t splitmix64(std::uint64_t counter);

class Random {
 public:
  explicit Random(std::uint64_t seed, std::uint64_t stream = 0);

  // Uniform in (0, 1): never 0 and never 1.
  double uniform();
  double uniform(double low, double high) { return low + (high - low) * uniform(); }
  // Standard normal, by inversion.
  double normal();
  // Whole number in [0, n).
  int below(int n);
  bool chance(double probability) { return uniform() < probability; }

 private:
  std::uint64_t state_;
};

// 95 % point of the standard normal distribution.
inline constexpr double kNormal95 = 1.6448536269514722;

// Quantile of the standard normal distribution. p in (0, 1). Check: p = 0.95 -> 1.6448536.
double normal_quantile(double p);
// Its inverse: P(Z <= z). Check: z = 1.6448536 -> 0.95.
double normal_probability(double z);

}  // namespace drawoff::numerics
