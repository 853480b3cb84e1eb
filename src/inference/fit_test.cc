#include "inference/fit.h"

#include <gtest/gtest.h>

#include <cmath>

#include "numerics/random.h"
#include "numerics/sample.h"

namespace drawoff::inference {
namespace {

Model each(const std::function<std::optional<Numbers>(const Numbers&)>& one) {
  return [one](std::span<const Numbers> all) {
    std::vector<std::optional<Numbers>> answers;
    for (const Numbers& z : all) answers.push_back(one(z));
    return answers;
  };
}

std::vector<Numbers> prior(std::size_t unknowns, int draws) {
  std::vector<Numbers> sets;
  for (int j = 0; j < draws; ++j) {
    numerics::Random random(7, static_cast<std::uint64_t>(j));
    Numbers& z = sets.emplace_back(unknowns);
    for (double& one : z) one = random.normal();
  }
  return sets;
}

std::vector<double> of(const Fitted& fit, std::size_t which) {
  std::vector<double> values;
  for (const Numbers& z : fit.draws) values.push_back(z[which]);
  return values;
}

double covariance(const std::vector<double>& a, const std::vector<double>& b) {
  const double ma = numerics::mean(a);
  const double mb = numerics::mean(b);
  double sum = 0;
  for (std::size_t i = 0; i < a.size(); ++i) sum += (a[i] - ma) * (b[i] - mb);
  return sum / static_cast<double>(a.size());
}

// One reading y = a·z + e of standard normal z has, in closed form (Gaussian conditioning), the
// posterior mean K y and covariance I − K aᵀ with K = a/(a·a + σ²).
TEST(Fit, a_linear_model_is_fitted_as_the_closed_form_says) {
  const double a[] = {0.3, -0.4, 0.0};
  const double sigma = 0.1;
  const double y = 0.7;
  const Fitted found =
      fit({.prior = prior(3, 20000), .readings = {y}, .sigma = {sigma}},
          each([&](const Numbers& z) { return Numbers{a[0] * z[0] + a[1] * z[1]}; }));
  ASSERT_TRUE(found.found);
  const double whole = a[0] * a[0] + a[1] * a[1] + sigma * sigma;
  for (std::size_t i = 0; i < 3; ++i) {
    // 20,000 draws of a spread of at most 1: 4 standard errors.
    EXPECT_NEAR(numerics::mean(of(found, i)), a[i] * y / whole, 4 / std::sqrt(20000.0));
    for (std::size_t k = 0; k < 3; ++k) {
      const double expected = (i == k ? 1 : 0) - a[i] * a[k] / whole;
      // A sample variance strays by √(2/20,000) = 0.01 of itself.
      EXPECT_NEAR(covariance(of(found, i), of(found, k)), expected, 4 * 0.01);
    }
  }
}

// What one reading cannot tell apart stays unknown, while their sum is known.
TEST(Fit, what_cannot_be_told_apart_stays_jointly_uncertain) {
  const Fitted found = fit({.prior = prior(2, 2000), .readings = {1.0}, .sigma = {0.01}},
                           each([](const Numbers& z) { return Numbers{z[0] + z[1]}; }));
  ASSERT_TRUE(found.found);
  const auto first = of(found, 0);
  const auto second = of(found, 1);
  // Closed form: variance ½ each, correlation −1 but for 1e-4.
  EXPECT_NEAR(covariance(first, first), 0.5, 0.07);
  EXPECT_LT(
      covariance(first, second) / std::sqrt(covariance(first, first) * covariance(second, second)),
      -0.99);
}

// y = e^z + e: the posterior by quadrature on a grid.
TEST(Fit, a_bent_model_is_fitted_close_to_the_exact_posterior) {
  const double sigma = 0.2;
  const double y = 2.0;
  double weight = 0, first = 0, second = 0;
  for (double z = -6; z <= 6; z += 1e-4) {
    const double r = (y - std::exp(z)) / sigma;
    const double w = std::exp(-0.5 * (z * z + r * r));
    weight += w;
    first += w * z;
    second += w * z * z;
  }
  const double mean = first / weight;
  const double spread = std::sqrt(second / weight - mean * mean);
  const Fitted found = fit({.prior = prior(1, 4000), .readings = {y}, .sigma = {sigma}},
                           each([](const Numbers& z) { return Numbers{std::exp(z[0])}; }));
  ASSERT_TRUE(found.found);
  // Errors even instead of normal, one slope for all draws: off by less than a tenth of the spread.
  EXPECT_NEAR(numerics::mean(of(found, 0)), mean, 0.1 * spread);
  EXPECT_NEAR(numerics::standard_deviation(of(found, 0)), spread, 0.1 * spread);
}

// y = e^z far out, where e^z is five times as steep as over the prior: whole steps would diverge.
TEST(Fit, a_model_much_steeper_than_its_slope_still_settles) {
  const Fitted found = fit({.prior = prior(1, 400), .readings = {8.0}, .sigma = {0.2}},
                           each([](const Numbers& z) { return Numbers{std::exp(z[0])}; }));
  ASSERT_TRUE(found.found);
  // ln 8 = 2.079, the reading known to 2.5 %.
  EXPECT_NEAR(numerics::mean(of(found, 0)), std::log(8.0), 0.025);
}

TEST(Fit, readings_of_the_prior_are_as_far_off_as_chi_squared_says) {
  const auto model = each([](const Numbers& z) { return Numbers{z[0], 2 * z[1]}; });
  constexpr int kJobs = 400;
  int far = 0;
  for (int job = 0; job < kJobs; ++job) {
    numerics::Random random(20, static_cast<std::uint64_t>(job));
    const double sigma = 0.5;
    const Numbers readings{random.normal() + sigma * random.normal(),
                           2 * random.normal() + sigma * random.normal()};
    const Fitted found =
        fit({.prior = prior(2, 50), .readings = readings, .sigma = {sigma, sigma}}, model);
    far += found.probability < 0.1;
  }
  // Binomial(400, 0.1): 40 ± 4 x 6.
  EXPECT_NEAR(far, 40, 24);
}

TEST(Fit, without_readings_nothing_is_learned) {
  const Fitted found =
      fit({.prior = prior(2, 1000)}, each([](const Numbers&) { return Numbers{}; }));
  ASSERT_TRUE(found.found);
  EXPECT_EQ(found.probability, 1);
  EXPECT_NEAR(numerics::standard_deviation(of(found, 0)), 1, 0.1);
}

TEST(Fit, a_model_that_gives_no_readings_is_not_fitted) {
  const Fitted found = fit({.prior = prior(2, 50), .readings = {1.0}, .sigma = {1.0}},
                           each([](const Numbers&) { return std::optional<Numbers>{}; }));
  EXPECT_FALSE(found.found);
  EXPECT_TRUE(found.draws.empty());
}

}  // namespace
}  // namespace drawoff::inference
