#include "inference/causes.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

namespace drawoff::inference {
namespace {

constexpr double kRoot = 0.70710678118654752;

// Draws with mean 0 and exactly the identity as covariance over n − 1, for two observables; the
// instruments are perfect, so that results stand in closed form.
Evidence two_observables(std::vector<double> readings) {
  Evidence e;
  e.other_prior = 0;  // only the list, so that results stand in closed form
  const double a = std::sqrt(1.5);
  e.draws = {{a, 0}, {-a, 0}, {0, a}, {0, -a}};
  e.readings = std::move(readings);
  e.sigma = {0, 0};
  e.minutes.assign(2 - e.readings.size(), 1);
  e.sound_prior = 0.5;
  return e;
}

double probability_of(const Ranking& r, const std::string& id) {
  for (const auto& c : r.causes) {
    if (c.id == id) return c.probability;
  }
  return 0;
}

double sum_of(const Ranking& r) {
  double sum = 0;
  for (const auto& c : r.causes) sum += c.probability;
  return sum;
}

// P = prior · exp(−½|z − d|²): sound 0.5 e^(−4.5), A 0.3, B 0.2 e^(−½(9 + 9)).
TEST(Causes, probabilities_follow_bayes) {
  const std::vector<Cause> causes = {{.id = "A", .prior = 0.3, .shifts = {{3, 0}}},
                                     {.id = "B", .prior = 0.2, .shifts = {{0, 3}}}};
  const auto r = rank_causes(two_observables({3, 0}), causes);
  const double total = 0.5 * std::exp(-4.5) + 0.3 + 0.2 * std::exp(-9.0);
  EXPECT_EQ(r.causes.front().id, "A");
  EXPECT_NEAR(probability_of(r, "A"), 0.3 / total, 1e-12);
  EXPECT_NEAR(probability_of(r, ""), 0.5 * std::exp(-4.5) / total, 1e-12);
  EXPECT_NEAR(probability_of(r, "B"), 0.2 * std::exp(-9.0) / total, 1e-12);
  EXPECT_NEAR(sum_of(r), 1, 1e-12);
}

TEST(Causes, readings_as_expected_mean_that_nothing_is_wrong) {
  const std::vector<Cause> causes = {{.id = "A", .prior = 0.5, .shifts = {{3, 0}}}};
  EXPECT_EQ(rank_causes(two_observables({0.2, -0.3}), causes).causes.front().id, "");
}

// From (1, 0) to (4, 0) every place is as likely. For (4, 0) the mean of exp(−½(4 − x)²) over
// x in [1, 4] is √(π/2) erf(3/√2) / 3.
TEST(Causes, a_cause_has_degrees) {
  const std::vector<Cause> causes = {{.id = "A", .prior = 0.5, .shifts = {{1, 0}, {4, 0}}}};
  const auto r = rank_causes(two_observables({4, 0}), causes);
  const double mean = std::sqrt(std::acos(0.0)) * std::erf(3 * kRoot) / 3;
  const double cause = 0.5 * mean;
  EXPECT_NEAR(probability_of(r, "A"), cause / (cause + 0.5 * std::exp(-8.0)), 1e-12);
}

// Two stretches of a path weigh alike, however long: ½ of each one's mean.
TEST(Causes, stretches_of_a_path_weigh_alike) {
  const std::vector<Cause> causes = {{.id = "A", .prior = 0.5, .shifts = {{0, 0}, {1, 0}, {1, 8}}}};
  const auto r = rank_causes(two_observables({1, 4}), causes);
  const double first = std::exp(-8.0) * std::sqrt(std::acos(0.0)) * std::erf(kRoot);
  const double second = 2 * std::sqrt(std::acos(0.0)) * std::erf(4 * kRoot) / 8;
  const double cause = 0.5 * 0.5 * (first + second);
  EXPECT_NEAR(probability_of(r, "A"), cause / (cause + 0.5 * std::exp(-8.5)), 1e-12);
}

// A fault between two degrees, each of them far from the readings, is that cause's all the same.
TEST(Causes, a_fault_between_two_degrees_is_found) {
  Evidence e = two_observables({20, 20});
  e.other_prior = 0.02;
  const std::vector<Cause> causes = {{.id = "A", .prior = 0.1, .shifts = {{0, 0}, {40, 40}}}};
  const auto r = rank_causes(e, causes);
  EXPECT_EQ(r.causes.front().id, "A");
  EXPECT_GT(r.causes.front().probability, 0.99);
}

// Against the mean over 200,000 midpoints; their own error on the steepest here is below 1e-8.
TEST(Causes, the_mean_on_a_segment_is_exact) {
  const std::vector<double> from = {0, 0};
  for (const double length : {1e-9, 1e-3, 1.0, 30.0}) {
    const std::vector<double> to = {0.6 * length, 0.8 * length};
    for (const double along : {-20.0, -3.0, 0.0, 0.5, 3.0, 9.0, 33.0}) {
      const std::vector<double> off = {0.6 * along - 0.8, 0.8 * along + 0.6};
      constexpr int kSteps = 200'000;
      // Relative to the nearest place, so that nothing underflows.
      const double nearest = std::clamp(along, 0.0, length);
      const double least = 0.5 * (along - nearest) * (along - nearest) + 0.5;
      double sum = 0;
      for (int i = 0; i < kSteps; ++i) {
        const double at = along - (i + 0.5) / kSteps * length;
        sum += std::exp(least - 0.5 - 0.5 * at * at);
      }
      EXPECT_NEAR(log_mean_on_segment(off, from, to), std::log(sum / kSteps) - least, 1e-5)
          << length << " " << along;
    }
  }
}

// Cosine of (3, 0) and (3, 0.5) is 0.986: one group; of (3, 0) and (3, 3) it is 0.707: two.
TEST(Causes, alike_causes_are_one_group) {
  const std::vector<Cause> causes = {{.id = "A", .prior = 0.2, .shifts = {{3, 0}}},
                                     {.id = "twin", .prior = 0.2, .shifts = {{3, 0.5}}},
                                     {.id = "other", .prior = 0.1, .shifts = {{3, 3}}}};
  const auto r = rank_causes(two_observables({3, 0}), causes);
  ASSERT_EQ(r.causes.size(), 4U);  // group, other, sound
  EXPECT_EQ(r.causes.front().id, "A");
  EXPECT_EQ(r.causes.front().alike, std::vector<std::string>{"twin"});
  const double total = 0.5 * std::exp(-4.5) + 0.2 + 0.2 * std::exp(-0.125) + 0.1 * std::exp(-4.5);
  EXPECT_NEAR(r.causes.front().probability, (0.2 + 0.2 * std::exp(-0.125)) / total, 1e-12);
  EXPECT_NEAR(sum_of(r), 1, 1e-12);
}

// What is alike depends on what is known: correlated observables whiten (1, 1) and (1, 0.8) apart.
// Covariance ((1, ρ), (ρ, 1)) with ρ = 0.99; along (1, −1) its spread is √(1 − ρ).
TEST(Causes, likeness_is_judged_through_the_covariance) {
  Evidence e = two_observables({1, 1});
  const double plus = std::sqrt(1.5 * 1.99) * kRoot;
  const double minus = std::sqrt(1.5 * 0.01) * kRoot;
  e.draws = {{plus, plus}, {-plus, -plus}, {minus, -minus}, {-minus, minus}};
  const std::vector<Cause> causes = {{.id = "A", .prior = 0.25, .shifts = {{1, 1}}},
                                     {.id = "B", .prior = 0.25, .shifts = {{1, 0.8}}}};
  const auto r = rank_causes(e, causes);
  EXPECT_TRUE(std::all_of(
      r.causes.begin(), r.causes.end(), [](const RankedCause& c) { return c.alike.empty(); }));
}

// Two causes of equal prior that the first reading cannot tell; on the second they differ by 2 and
// nothing else is possible. Means ±1 with ½ each: spread 1, variance within 1: gain ½ ln 2.
TEST(NextTest, tells_what_the_closed_form_says) {
  Evidence e = two_observables({5});
  e.sound_prior = 1e-300;
  const std::vector<Cause> causes = {{.id = "A", .prior = 0.5, .shifts = {{5, 1}}},
                                     {.id = "B", .prior = 0.5, .shifts = {{5, -1}}}};
  const auto r = rank_causes(e, causes);
  EXPECT_EQ(r.next.observable, 1);
  EXPECT_NEAR(r.next.gain, 0.5 * std::log(2.0), 1e-12);
  EXPECT_EQ(r.next.minutes, 1);
}

// With an instrument of variance 3 the variance within is 4: gain ½ ln(1 + 1/4).
TEST(NextTest, a_poor_instrument_tells_less) {
  Evidence e = two_observables({5});
  e.sound_prior = 1e-300;
  e.sigma = {0, std::sqrt(3.0)};
  const std::vector<Cause> causes = {{.id = "A", .prior = 0.5, .shifts = {{5, 1}}},
                                     {.id = "B", .prior = 0.5, .shifts = {{5, -1}}}};
  EXPECT_NEAR(rank_causes(e, causes).next.gain, 0.5 * std::log(1.25), 1e-12);
}

// The dearer of two tests that tell the same is left; one that tells nothing is none.
TEST(NextTest, counts_the_minutes) {
  Evidence e;
  e.other_prior = 0;  // only the list, so that results stand in closed form
  const double a = std::sqrt(2.5);
  e.draws = {{a, 0, 0}, {-a, 0, 0}, {0, a, 0}, {0, -a, 0}, {0, 0, a}, {0, 0, -a}};
  e.readings = {5};
  e.sigma = {0, 0, 0};
  e.minutes = {4, 2};
  e.sound_prior = 1e-300;
  std::vector<Cause> causes = {{.id = "A", .prior = 0.5, .shifts = {{5, 1, 1}}},
                               {.id = "B", .prior = 0.5, .shifts = {{5, -1, -1}}}};
  EXPECT_EQ(rank_causes(e, causes).next.observable, 2);
  e.minutes = {2, 4};
  EXPECT_EQ(rank_causes(e, causes).next.observable, 1);
  causes[0].shifts = causes[1].shifts;
  EXPECT_EQ(rank_causes(e, causes).next.observable, -1);
}

// Readings that nothing on the list would give: "other" takes them, however bad the best fit.
TEST(Causes, what_is_not_on_the_list_is_said) {
  Evidence e = two_observables({6, -8});
  e.other_prior = 0.02;
  const std::vector<Cause> causes = {{.id = "A", .prior = 0.1, .shifts = {{5, 5}}},
                                     {.id = "B", .prior = 0.1, .shifts = {{-5, 5}}}};
  const auto r = rank_causes(e, causes);
  EXPECT_EQ(r.causes.front().id, kOtherCause);
  EXPECT_GT(r.causes.front().probability, 0.99);
  // A fault that a cause explains is still that cause's.
  e.readings = {5, 5};
  EXPECT_EQ(rank_causes(e, causes).causes.front().id, "A");
}

// The check value of the header is Student's t of 199 degrees of freedom, squared; of many draws
// nothing is left but χ², P(χ²_2 >= 2 ln 20) = 1/20.
TEST(Causes, how_far_readings_lie_together) {
  EXPECT_NEAR(probability_together(3.9080, 1, 200), 0.05, 2e-5);
  EXPECT_NEAR(probability_together(2 * std::log(20.0), 2, 1000000), 0.05, 1e-5);
  EXPECT_EQ(probability_together(0, 3, 200), 1);
  EXPECT_EQ(probability_together(1e3, 5, 5), 1);  // as many readings as draws tell nothing
  const auto near = rank_causes(two_observables({0.2, -0.3}), {});
  const auto far = rank_causes(two_observables({9, 9}), {});
  EXPECT_GT(near.together, 0.5);
  EXPECT_LT(far.together, near.together);
}

}  // namespace
}  // namespace drawoff::inference
