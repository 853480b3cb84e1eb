#include "numerics/random.h"

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <set>
#include <vector>

#include "numerics/sample.h"

namespace drawoff::numerics {
namespace {

constexpr int kDraws = 100000;
// Two-sided normal quantile that a correct statistic passes but once in a million.
constexpr double kRare = 4.892;

// The generator's first outputs for state 0, as its authors' reference program prints them:
// splitmix64 adds the golden gamma to its state before each output. [steele2014]
TEST(Random, hash_matches_the_reference_generator) {
  constexpr std::uint64_t kGamma = 0x9E3779B97F4A7C15ULL;
  EXPECT_EQ(splitmix64(kGamma), 0xE220A8397B1DCDAFULL);
  EXPECT_EQ(splitmix64(2 * kGamma), 0x6E789E6AA1B965F4ULL);
  EXPECT_EQ(splitmix64(3 * kGamma), 0x06C45D188009454FULL);
}

// The normal distribution's usual table values, to its digits.
TEST(Random, normal_quantile_matches_the_table) {
  struct Row {
    double p, z;
  };
  for (const auto& row : {Row{0.5, 0},
                          Row{0.75, 0.6744897501960817},
                          Row{0.9, 1.2815515655446004},
                          Row{0.95, 1.6448536269514722},
                          Row{0.975, 1.959963984540054},
                          Row{0.995, 2.5758293035489004},
                          Row{0.9995, 3.2905267314919255}}) {
    EXPECT_NEAR(normal_quantile(row.p), row.z, 1e-14 * (1 + row.z));
    EXPECT_NEAR(normal_quantile(1 - row.p), -row.z, 1e-12);
    EXPECT_NEAR(normal_probability(row.z), row.p, 1e-15);
  }
  for (double z = -6; z <= 6; z += 0.25) {
    // The slope of the quantile there, 1/φ(z), times the rounding of the probability.
    const double slope = std::sqrt(2 * M_PI) * std::exp(z * z / 2);
    EXPECT_NEAR(normal_quantile(normal_probability(z)), z, 1e-15 * (10 + slope));
  }
}

// Moments of n draws lie within kRare standard errors: 1/√n for a mean of variance 1, √(2/n) for
// a normal variance, √(15/n) and √(96/n) for third and fourth moments (var of z³ is 15, of z⁴ 96).
TEST(Random, normal_draws_have_the_moments) {
  const double n = kDraws;
  Random random(5, 3);
  std::array<double, 5> moment{};
  for (int i = 0; i < kDraws; ++i) {
    const double z = random.normal();
    double power = 1;
    for (double& m : moment) {
      m += power / n;
      power *= z;
    }
  }
  EXPECT_NEAR(moment[1], 0, kRare * std::sqrt(1 / n));
  EXPECT_NEAR(moment[2], 1, kRare * std::sqrt(2 / n));
  EXPECT_NEAR(moment[3], 0, kRare * std::sqrt(15 / n));
  EXPECT_NEAR(moment[4], 3, kRare * std::sqrt(96 / n));
}

// Uniform draws fall evenly into 100 cells: χ² of 99 degrees of freedom, mean 99, variance 198.
TEST(Random, uniform_draws_are_even) {
  Random random(6);
  std::array<int, 100> cells{};
  double low = 1;
  double high = 0;
  for (int i = 0; i < kDraws; ++i) {
    const double u = random.uniform();
    low = std::fmin(low, u);
    high = std::fmax(high, u);
    ++cells[static_cast<std::size_t>(u * 100)];
  }
  EXPECT_GT(low, 0);
  EXPECT_LT(high, 1);
  double chi = 0;
  for (const int count : cells) chi += (count - 1000.0) * (count - 1000.0) / 1000.0;
  EXPECT_NEAR(chi, 99, kRare * std::sqrt(198.0));
}

TEST(Random, below_and_chance_have_their_shares) {
  Random random(7);
  std::array<int, 6> faces{};
  int heads = 0;
  for (int i = 0; i < kDraws; ++i) {
    ++faces[static_cast<std::size_t>(random.below(6))];
    heads += random.chance(0.3) ? 1 : 0;
  }
  const auto error = [](double p) { return kRare * std::sqrt(p * (1 - p) * kDraws); };
  for (const int count : faces) EXPECT_NEAR(count, kDraws / 6.0, error(1.0 / 6));
  EXPECT_NEAR(heads, 0.3 * kDraws, error(0.3));
}

// Same seed and stream, same draws; another stream has nothing to do with it: correlation of n
// pairs within kRare/√n of 0.
TEST(Random, streams_repeat_and_are_independent) {
  Random once(9, 1);
  Random again(9, 1);
  Random other(9, 2);
  Random seeded(10, 1);
  double by_stream = 0;
  double by_seed = 0;
  for (int i = 0; i < kDraws; ++i) {
    const double z = once.normal();
    ASSERT_EQ(z, again.normal());
    by_stream += z * other.normal() / kDraws;
    by_seed += z * seeded.normal() / kDraws;
  }
  EXPECT_NEAR(by_stream, 0, kRare / std::sqrt(kDraws));
  EXPECT_NEAR(by_seed, 0, kRare / std::sqrt(kDraws));
}

}  // namespace
}  // namespace drawoff::numerics
