#include "inference/causes.h"

#include <Eigen/Dense>
#include <algorithm>
#include <boost/math/distributions/fisher_f.hpp>
#include <cmath>
#include <numbers>
#include <numeric>

#include "base/check.h"
#include "numerics/boost_policy.h"

namespace drawoff::inference {

namespace {

// Signatures closer than this (cosine, whitened) are one group.
constexpr double kAlike = 0.95;
// How much wider "something else" spreads the readings than a sound machine.
constexpr double kOtherSpread = 5;
// A test that tells less than this is not worth the walk [nat].
constexpr double kLeastGain = 0.02;

struct Sound {
  Eigen::VectorXd mean;
  Eigen::MatrixXd covariance;
};

Sound sound_machine(const Evidence& e) {
  const auto n = static_cast<Eigen::Index>(e.draws.size());
  const auto m = static_cast<Eigen::Index>(e.sigma.size());
  Eigen::MatrixXd x(n, m);
  for (Eigen::Index i = 0; i < n; ++i) {
    for (Eigen::Index j = 0; j < m; ++j) x(i, j) = e.draws[i][j];
  }
  Sound s;
  s.mean = x.colwise().mean();
  const Eigen::MatrixXd centred = x.rowwise() - s.mean.transpose();
  s.covariance = centred.transpose() * centred / static_cast<double>(n - 1);
  for (Eigen::Index j = 0; j < m; ++j) s.covariance(j, j) += e.sigma[j] * e.sigma[j];
  return s;
}

Eigen::VectorXd as_vector(const std::vector<double>& v, Eigen::Index size) {
  return Eigen::Map<const Eigen::VectorXd>(v.data(), size);
}

Eigen::Map<const Eigen::VectorXd> as_vector(std::span<const double> v) {
  return {v.data(), static_cast<Eigen::Index>(v.size())};
}

// Mills' ratio, exp(½x²) ∫ₓ^∞ exp(−½y²) dy for x ≥ 0; beyond 8 by its asymptotic series, whose
// first neglected term is 105/x⁸ < 7e-6. [abramowitz1964, sec. 7.1]
double mills_ratio(double x) {
  if (x < 8) {
    return std::sqrt(std::numbers::pi / 2) * std::exp(x * x / 2) *
           std::erfc(x / std::numbers::sqrt2);
  }
  const double q = 1 / (x * x);
  return (1 - q * (1 - q * (3 - q * 15))) / x;
}

// ln ∫ₐᵇ exp(−½x²) dx for a < b.
double log_normal_between(double a, double b) {
  if (b < 0) return log_normal_between(-b, -a);
  if (a > 0) {
    const double nearer = (a - b) * (a + b) / 2;
    return -a * a / 2 + std::log(mills_ratio(a) - std::exp(nearer) * mills_ratio(b));
  }
  return std::log(std::sqrt(std::numbers::pi / 2) *
                  (std::erf(b / std::numbers::sqrt2) - std::erf(a / std::numbers::sqrt2)));
}

// Where along from + t (to − from) the place nearest to `off` lies, t unbounded, and how long the
// way is; degrees that move nothing (length 0) are one place.
struct Way {
  double length = 0;
  double nearest = 0;
};

Way way_between(const Eigen::VectorXd& off,
                const Eigen::VectorXd& from,
                const Eigen::VectorXd& to) {
  // Shorter than this the density does not change along it, nor could it be told from rounding.
  constexpr double kOnePlace = 1e-6;
  const Eigen::VectorXd way = to - from;
  const double length = way.norm();
  if (length < kOnePlace) return {};
  return {length, (off - from).dot(way) / (length * length)};
}

double log_mean_between(const Eigen::VectorXd& off,
                        const Eigen::VectorXd& from,
                        const Eigen::VectorXd& to) {
  const Way way = way_between(off, from, to);
  if (way.length == 0) return -0.5 * (off - from).squaredNorm();
  const double aside = (off - from - way.nearest * (to - from)).squaredNorm();
  return -0.5 * aside - std::log(way.length) +
         log_normal_between(-way.nearest * way.length, (1 - way.nearest) * way.length);
}

// A path of degrees against the readings: ln of its mean likelihood, and the likeliest place on it
// as the degree before it and the share of the way to the next.
struct PathEvidence {
  double log_mean = 0;
  std::size_t degree = 0;
  double share = 0;
};

PathEvidence evidence_of_path(const Eigen::VectorXd& off,
                              const std::vector<Eigen::VectorXd>& degrees) {
  if (degrees.size() == 1) return {-0.5 * (off - degrees.front()).squaredNorm(), 0, 0};
  PathEvidence best;
  double nearest = INFINITY;
  std::vector<double> logs;
  for (std::size_t i = 0; i + 1 < degrees.size(); ++i) {
    logs.push_back(log_mean_between(off, degrees[i], degrees[i + 1]));
    const double share = std::clamp(way_between(off, degrees[i], degrees[i + 1]).nearest, 0.0, 1.0);
    const double distance =
        (off - degrees[i] - share * (degrees[i + 1] - degrees[i])).squaredNorm();
    if (distance < nearest) {
      nearest = distance;
      best.degree = i;
      best.share = share;
    }
  }
  const double highest = *std::max_element(logs.begin(), logs.end());
  double sum = 0;
  for (const double l : logs) sum += std::exp(l - highest);
  best.log_mean = highest + std::log(sum / static_cast<double>(logs.size()));
  return best;
}

}  // namespace

double probability_together(double d2, std::size_t readings, std::size_t draws) {
  CHECK(readings > 0);
  if (draws <= readings) return 1;
  const auto p = static_cast<double>(readings);
  const auto n = static_cast<double>(draws);
  const double f = std::fmax(0.0, d2) * (n - p) * n / (p * (n * n - 1));
  return boost::math::cdf(boost::math::complement(
      boost::math::fisher_f_distribution<double, numerics::QuietPolicy>(p, n - p), f));
}

double log_mean_on_segment(std::span<const double> off,
                           std::span<const double> from,
                           std::span<const double> to) {
  return log_mean_between(as_vector(off), as_vector(from), as_vector(to));
}

Ranking rank_causes(const Evidence& evidence, std::span<const Cause> causes) {
  CHECK(evidence.draws.size() > 1);
  const Sound sound = sound_machine(evidence);
  const auto measured = static_cast<Eigen::Index>(evidence.readings.size());
  const auto all = static_cast<Eigen::Index>(evidence.sigma.size());
  CHECK(measured > 0 && measured <= all);

  const Eigen::LLT<Eigen::MatrixXd> root(sound.covariance.topLeftCorner(measured, measured));
  const auto whiten = [&](const Eigen::VectorXd& v) -> Eigen::VectorXd {
    return root.matrixL().solve(v);
  };
  const Eigen::VectorXd off =
      whiten(as_vector(evidence.readings, measured) - sound.mean.head(measured));

  // Logarithms of prior × likelihood: the sound machine, what is not on the list, the causes.
  struct Candidate {
    std::string id;
    double log_weight;
    Eigen::VectorXd signature;  // whitened shift where likeliest; 0 for the first two
    Eigen::VectorXd full_shift;
  };
  const Eigen::VectorXd still = Eigen::VectorXd::Zero(measured);
  const Eigen::VectorXd all_still = Eigen::VectorXd::Zero(all);
  std::vector<Candidate> candidates;
  candidates.push_back(
      {"", std::log(evidence.sound_prior) - 0.5 * off.squaredNorm(), still, all_still});
  candidates.push_back({std::string(kOtherCause),
                        std::log(evidence.other_prior) -
                            0.5 * off.squaredNorm() / (kOtherSpread * kOtherSpread) -
                            static_cast<double>(measured) * std::log(kOtherSpread),
                        still,
                        all_still});
  for (const Cause& cause : causes) {
    CHECK(!cause.shifts.empty());
    std::vector<Eigen::VectorXd> degrees;
    for (const auto& shift : cause.shifts) degrees.push_back(whiten(as_vector(shift, measured)));
    const PathEvidence path = evidence_of_path(off, degrees);
    const std::size_t next = std::min(path.degree + 1, degrees.size() - 1);
    const auto likeliest = [&](const Eigen::VectorXd& from, const Eigen::VectorXd& to) {
      return Eigen::VectorXd(from + path.share * (to - from));
    };
    candidates.push_back(
        {cause.id,
         std::log(cause.prior) + path.log_mean,
         likeliest(degrees[path.degree], degrees[next]),
         likeliest(as_vector(cause.shifts[path.degree], all), as_vector(cause.shifts[next], all))});
  }
  double highest = candidates.front().log_weight;
  for (const Candidate& c : candidates) highest = std::max(highest, c.log_weight);
  double total = 0;
  for (const Candidate& c : candidates) total += std::exp(c.log_weight - highest);
  std::vector<double> probability;
  for (const Candidate& c : candidates) {
    probability.push_back(std::exp(c.log_weight - highest) / total);
  }

  std::vector<std::size_t> order(candidates.size());
  std::iota(order.begin(), order.end(), 0);
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    return probability[a] > probability[b];
  });

  Ranking ranking{.together = probability_together(
                      off.squaredNorm(), evidence.readings.size(), evidence.draws.size())};
  std::vector<bool> merged(candidates.size(), false);
  for (const std::size_t i : order) {
    if (merged[i]) continue;
    RankedCause ranked{.id = candidates[i].id, .probability = probability[i]};
    for (const std::size_t j : order) {
      if (j == i || merged[j]) continue;
      const auto& a = candidates[i].signature;
      const auto& b = candidates[j].signature;
      const double norm = a.norm() * b.norm();
      if (norm > 0 && a.dot(b) / norm > kAlike) {
        merged[j] = true;
        ranked.alike.push_back(candidates[j].id);
        ranked.probability += probability[j];
      }
    }
    merged[i] = true;
    ranking.causes.push_back(ranked);
  }
  // A group may outweigh a single cause that stood before it.
  std::stable_sort(
      ranking.causes.begin(), ranking.causes.end(), [](const RankedCause& a, const RankedCause& b) {
        return a.probability > b.probability;
      });

  // What each further reading would tell, given the readings so far.
  double best_rate = 0;
  for (Eigen::Index j = measured; j < all; ++j) {
    const Eigen::VectorXd with = sound.covariance.col(j).head(measured);
    const Eigen::VectorXd gain = root.solve(with);
    const double within = sound.covariance(j, j) - with.dot(gain);
    double mean = 0;
    double square = 0;
    for (std::size_t i = 0; i < candidates.size(); ++i) {
      // The cause's mean of j once the measured ones are known.
      const double at =
          candidates[i].full_shift(j) - gain.dot(candidates[i].full_shift.head(measured));
      mean += probability[i] * at;
      square += probability[i] * at * at;
    }
    const double spread = std::max(0.0, square - mean * mean);
    const double told = 0.5 * std::log1p(spread / within);
    const double minutes = evidence.minutes[static_cast<std::size_t>(j - measured)];
    if (told > kLeastGain && told / minutes > best_rate) {
      best_rate = told / minutes;
      ranking.next = {static_cast<int>(j), told, minutes};
    }
  }
  return ranking;
}

}  // namespace drawoff::inference
