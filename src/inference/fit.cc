#include "inference/fit.h"

#include <Eigen/Dense>
#include <boost/math/distributions/chi_squared.hpp>
#include <cmath>
#include <numbers>

#include "base/check.h"
#include "numerics/boost_policy.h"
#include "numerics/random.h"

namespace drawoff::inference {

namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

constexpr int kMostSteps = 24;
// The draws have settled when they move by less than this, root mean square in units of the prior.
constexpr double kSettled = 0.02;

// Slopes smaller than this many times their scatter are taken for none.
constexpr double kByChance = 2.5;

// The draws still in the fit, one column each: where they began, where they stand, their errors and
// what the model says of them.
struct Draws {
  MatrixXd from, at, error, shown;
  Eigen::RowVectorXd pace;    // share of the step that each takes
  Eigen::RowVectorXd before;  // length of its step before
};

MatrixXd as_columns(std::span<const Numbers> sets) {
  MatrixXd out(static_cast<Index>(sets.front().size()), static_cast<Index>(sets.size()));
  for (std::size_t j = 0; j < sets.size(); ++j) {
    out.col(static_cast<Index>(j)) = VectorXd::Map(sets[j].data(), out.rows());
  }
  return out;
}

std::vector<Numbers> as_sets(const MatrixXd& columns) {
  std::vector<Numbers> sets;
  for (Index j = 0; j < columns.cols(); ++j) {
    const VectorXd column = columns.col(j);
    sets.emplace_back(column.begin(), column.end());
  }
  return sets;
}

// Even within what the instrument can be off.
MatrixXd errors(const Numbers& sigma, Index draws, std::uint64_t seed) {
  MatrixXd out(static_cast<Index>(sigma.size()), draws);
  for (Index j = 0; j < draws; ++j) {
    numerics::Random random(seed, static_cast<std::uint64_t>(j));
    for (Index i = 0; i < out.rows(); ++i) {
      out(i, j) = std::numbers::sqrt3 * sigma[static_cast<std::size_t>(i)] * random.uniform(-1, 1);
    }
  }
  return out;
}

// Asks the model where the draws stand; those without an answer leave the fit.
void ask(const Model& model, Index readings, Draws& draws) {
  const auto sets = as_sets(draws.at);
  const auto answers = model(sets);
  CHECK(answers.size() == sets.size());
  std::vector<Index> whole;
  for (std::size_t j = 0; j < answers.size(); ++j) {
    if (answers[j]) whole.push_back(static_cast<Index>(j));
  }
  draws.from = MatrixXd(draws.from(Eigen::all, whole));
  draws.at = MatrixXd(draws.at(Eigen::all, whole));
  draws.error = MatrixXd(draws.error(Eigen::all, whole));
  draws.pace = Eigen::RowVectorXd(draws.pace(whole));
  draws.before = Eigen::RowVectorXd(draws.before(whole));
  draws.shown.resize(readings, static_cast<Index>(whole.size()));
  for (std::size_t j = 0; j < whole.size(); ++j) {
    const Numbers& answer = *answers[static_cast<std::size_t>(whole[j])];
    draws.shown.col(static_cast<Index>(j)) = VectorXd::Map(answer.data(), readings);
  }
}

// Least squares of what is shown on where the draws stand.
struct Line {
  MatrixXd slope;      // A
  VectorXd at_zero;    // b
  MatrixXd remainder;  // Ω
};

Line regressed(const Draws& draws) {
  const Index terms = draws.at.rows() + 1;
  MatrixXd design(draws.at.cols(), terms);
  design.col(0).setOnes();
  design.rightCols(draws.at.rows()) = draws.at.transpose();
  const MatrixXd found = design.colPivHouseholderQr().solve(draws.shown.transpose());
  const MatrixXd rest = draws.shown.transpose() - design * found;
  Line line{.slope = found.bottomRows(draws.at.rows()).transpose(),
            .at_zero = found.row(0).transpose(),
            .remainder = rest.transpose() * rest / static_cast<double>(draws.at.cols() - terms)};
  // Many small slopes that are none would together pass for knowledge. The draws are standard
  // normal, so a slope of nothing scatters by √(ω/(n − terms)).
  for (Index i = 0; i < line.slope.rows(); ++i) {
    const double scatter =
        std::sqrt(line.remainder(i, i) / static_cast<double>(draws.at.cols() - terms));
    for (Index k = 0; k < line.slope.cols(); ++k) {
      if (std::fabs(line.slope(i, k)) < kByChance * scatter) line.slope(i, k) = 0;
    }
  }
  return line;
}

// Where the model is steeper than its slope over all draws, whole steps would overshoot farther
// each time: a draw whose step has grown goes on at half the pace.
void move_towards(const MatrixXd& target, Draws& draws) {
  for (Index j = 0; j < target.cols(); ++j) {
    const VectorXd step = target.col(j) - draws.at.col(j);
    if (step.norm() > draws.before(j)) draws.pace(j) *= 0.5;
    draws.before(j) = step.norm();
    draws.at.col(j) += draws.pace(j) * step;
  }
}

double tail_of_chi_squared(double distance, Index degrees) {
  return boost::math::cdf(
      boost::math::complement(boost::math::chi_squared_distribution<double, numerics::QuietPolicy>(
                                  static_cast<double>(degrees)),
                              std::fmax(0.0, distance)));
}

}  // namespace

Fitted fit(const FitInput& input, const Model& model) {
  CHECK(input.readings.size() == input.sigma.size());
  Fitted out;
  const auto readings = static_cast<Index>(input.readings.size());
  if (readings == 0) {
    out.found = true;
    out.draws = input.prior;
    return out;
  }
  if (input.prior.empty()) return out;
  const VectorXd y = VectorXd::Map(input.readings.data(), readings);
  const VectorXd variance = VectorXd::Map(input.sigma.data(), readings).array().square().matrix();
  Draws draws{.from = as_columns(input.prior)};
  draws.at = draws.from;
  Line line;
  MatrixXd spread;  // A Aᵀ + R
  draws.pace = Eigen::RowVectorXd::Ones(draws.from.cols());
  draws.before = Eigen::RowVectorXd::Constant(draws.from.cols(), 1e300);
  draws.error = errors(input.sigma, draws.from.cols(), input.seed);
  for (int step = 0; step < kMostSteps && !out.found; ++step) {
    ask(model, readings, draws);
    if (draws.at.cols() < 2 * (draws.at.rows() + 1)) return out;
    if (step == 0) {
      line = regressed(draws);
      spread = line.slope * line.slope.transpose();
      spread.diagonal() += variance;
      const MatrixXd expected = spread + line.remainder;
      const VectorXd off = y - line.at_zero;
      out.probability = tail_of_chi_squared(off.dot(expected.llt().solve(off)), readings);
    }
    const MatrixXd missing = (-draws.error - draws.shown).colwise() + y;
    const MatrixXd wanted = missing + line.slope * (draws.at - draws.from);
    const MatrixXd target = draws.from + line.slope.transpose() * spread.llt().solve(wanted);
    out.found =
        (target - draws.at).norm() < kSettled * std::sqrt(static_cast<double>(target.size()));
    move_towards(target, draws);
  }
  if (out.found) out.draws = as_sets(draws.at);
  return out;
}

}  // namespace drawoff::inference
