#include "numerics/posterior.h"

#include <gtest/gtest.h>

#include <cmath>

#include "numerics/random.h"
#include "numerics/sample.h"

namespace drawoff::numerics {
namespace {

// Observations y = a + b t with error σ of a standard normal (a, b).
Evidence line_evidence(double sigma) {
  const auto residuals = [sigma](const Point& x) {
    Point r(2);
    r[0] = (x[0] + 0.5 * x[1] - 1.0) / sigma;
    r[1] = (x[0] - 0.5 * x[1] + 0.2) / sigma;
    return r;
  };
  return {.dimensions = 2, .residuals = residuals, .log_likelihood = [=](const Point& x) {
            return -0.5 * residuals(x).squaredNorm();
          }};
}

// In closed form: precision I + HᵀH/σ² is diagonal here (2/σ² + 1, 0.5/σ² + 1).
TEST(Posterior, of_a_line_is_normal) {
  for (const double sigma : {1.0, 0.1, 0.01}) {
    const double pa = 1 + 2 / (sigma * sigma);
    const double pb = 1 + 0.5 / (sigma * sigma);
    const double mean_a = 0.8 / (sigma * sigma) / pa;
    const double mean_b = 0.6 / (sigma * sigma) / pb;
    constexpr int kMembers = 4000;
    const Posterior p = posterior(line_evidence(sigma), kMembers, 1);
    EXPECT_NEAR(p.likeliest[0], mean_a, 1e-6);
    EXPECT_NEAR(p.likeliest[1], mean_b, 1e-6);
    std::vector<double> a;
    std::vector<double> b;
    for (const Point& x : p.members) {
      a.push_back(x[0]);
      b.push_back(x[1]);
    }
    const double error = 4 / std::sqrt(1.0 * kMembers);  // four standard errors
    EXPECT_NEAR(mean(a), mean_a, error / std::sqrt(pa));
    EXPECT_NEAR(mean(b), mean_b, error / std::sqrt(pb));
    EXPECT_NEAR(standard_deviation(a) * std::sqrt(pa), 1, error);
    EXPECT_NEAR(standard_deviation(b) * std::sqrt(pb), 1, error);
  }
}

// No observation: the prior, and its tails, whose standard error is 0.033.
TEST(Posterior, of_nothing_is_the_prior) {
  const Evidence none{.dimensions = 3,
                      .residuals = [](const Point&) { return Point(0); },
                      .log_likelihood = [](const Point&) { return 0.0; }};
  const Posterior p = posterior(none, 4000, 2);
  for (int i = 0; i < 3; ++i) {
    std::vector<double> x;
    for (const Point& member : p.members) x.push_back(member[i]);
    const auto ordered = sorted(x);
    EXPECT_NEAR(quantile(ordered, 0.05), -kNormal95, 0.13) << i;
    EXPECT_NEAR(quantile(ordered, 0.95), kNormal95, 0.13) << i;
  }
}

// A bent ridge: e^x + e^y seen to 2 %. The truth, drawn from the prior, must stand inside the 90 %
// intervals as often as they say: of 400, 360 ± 4 · 6.
TEST(Posterior, covers_a_bent_ridge) {
  int inside = 0;
  constexpr int kTruths = 400;
  for (int i = 0; i < kTruths; ++i) {
    Random random(3, static_cast<std::uint64_t>(i));
    const double x = random.normal();
    const double y = random.normal();
    const double seen = std::log(std::exp(x) + std::exp(y)) + 0.02 * random.normal();
    const auto residuals = [seen](const Point& p) {
      Point r(1);
      r[0] = (std::log(std::exp(p[0]) + std::exp(p[1])) - seen) / 0.02;
      return r;
    };
    const Evidence evidence{
        .dimensions = 2, .residuals = residuals, .log_likelihood = [&](const Point& q) {
          return -0.5 * residuals(q).squaredNorm();
        }};
    const Posterior p = posterior(evidence, 64, static_cast<std::uint64_t>(i));
    std::vector<double> xs;
    for (const Point& member : p.members) xs.push_back(member[0]);
    const auto ordered = sorted(xs);
    inside += quantile(ordered, 0.05) <= x && x <= quantile(ordered, 0.95) ? 1 : 0;
  }
  EXPECT_NEAR(inside, 0.9 * kTruths, 4 * std::sqrt(kTruths * 0.09));
}

TEST(Posterior, same_seed_same_members) {
  const Posterior a = posterior(line_evidence(0.1), 8, 5);
  const Posterior b = posterior(line_evidence(0.1), 8, 5);
  EXPECT_EQ(a.members[7], b.members[7]);
  EXPECT_NE(a.members[6], a.members[7]);
}

}  // namespace
}  // namespace drawoff::numerics
