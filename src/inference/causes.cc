#include "inference/causes.h"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <numeric>

#include "base/check.h"

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

}  // namespace

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
    Eigen::VectorXd signature;  // whitened shift of the likeliest degree; 0 for the first two
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
    std::vector<double> logs;
    for (const auto& shift : cause.shifts) {
      logs.push_back(-0.5 * (off - whiten(as_vector(shift, measured))).squaredNorm());
    }
    const auto best =
        static_cast<std::size_t>(std::max_element(logs.begin(), logs.end()) - logs.begin());
    double sum = 0;
    for (const double l : logs) sum += std::exp(l - logs[best]);
    candidates.push_back(
        {cause.id,
         std::log(cause.prior) + logs[best] + std::log(sum / static_cast<double>(logs.size())),
         whiten(as_vector(cause.shifts[best], measured)),
         as_vector(cause.shifts[best], all)});
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

  Ranking ranking;
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
