#include "numerics/posterior.h"

#include <Eigen/Cholesky>
#include <cmath>

#include "base/check.h"
#include "numerics/random.h"

namespace drawoff::numerics {
namespace {

using Matrix = Eigen::MatrixXd;

constexpr int kMetropolisSteps = 60;  // a member

Point normal_point(Random& random, Eigen::Index dimensions) {
  Point z(dimensions);
  for (double& x : z) x = random.normal();
  return z;
}

Matrix slope_of(const Evidence& evidence, const Point& at, const Point& residuals) {
  constexpr double kStep = 1e-5;
  Matrix slope(residuals.size(), at.size());
  for (Eigen::Index i = 0; i < at.size(); ++i) {
    Point moved = at;
    moved[i] += kStep;
    slope.col(i) = (evidence.residuals(moved) - residuals) / kStep;
  }
  return slope;
}

struct Place {
  Point at;
  Point residuals;
  Eigen::LLT<Matrix> curvature;
};

// The least of |x − centre|² + |r(x) − error|²: Gauss-Newton with halved steps.
Place nearest(const Evidence& evidence, const Point& centre, const Point& error) {
  constexpr int kMostSteps = 20;
  constexpr double kStill = 1e-3;  // standard deviations
  const Eigen::Index n = centre.size();
  Place p{centre, evidence.residuals(centre), {}};
  for (int i = 0; i < kMostSteps; ++i) {
    const Matrix slope = slope_of(evidence, p.at, p.residuals);
    p.curvature.compute(Matrix::Identity(n, n) + slope.transpose() * slope);
    const Point step =
        -p.curvature.solve(p.at - centre + slope.transpose() * (p.residuals - error));
    const auto distance = [&](const Point& x, const Point& r) {
      return (x - centre).squaredNorm() + (r - error).squaredNorm();
    };
    const double before = distance(p.at, p.residuals);
    double share = 1;
    for (; share > 1e-4; share /= 2) {
      const Point moved = p.at + share * step;
      const Point residuals = evidence.residuals(moved);
      if (distance(moved, residuals) < before) {
        p.at = moved;
        p.residuals = residuals;
        break;
      }
    }
    if (share <= 1e-4 || share * step.norm() < kStill) break;
  }
  return p;
}

}  // namespace

Posterior posterior(const Evidence& evidence, int members, std::uint64_t seed) {
  CHECK(evidence.dimensions >= 1 && members >= 1);
  const Eigen::Index n = evidence.dimensions;
  const Point origin = Point::Zero(n);
  const Eigen::Index observations = evidence.residuals(origin).size();
  const Place best = nearest(evidence, origin, Point::Zero(observations));
  Posterior out{best.at, best.residuals, {}};

  const auto log_target = [&](const Point& x) {
    return evidence.log_likelihood(x) - 0.5 * x.squaredNorm();
  };
  const double length = 2.38 / std::sqrt(static_cast<double>(n));  // [roberts2001]
  for (int i = 0; i < members; ++i) {
    Random random(seed, static_cast<std::uint64_t>(i));
    const Point centre = normal_point(random, n);
    const Place start = nearest(evidence, centre, normal_point(random, observations));
    Point x = start.at;
    double here = log_target(x);
    for (int k = 0; k < kMetropolisSteps; ++k) {
      const Point moved = x + length * start.curvature.matrixU().solve(normal_point(random, n));
      const double there = log_target(moved);
      if (std::log(random.uniform()) < there - here) {
        x = moved;
        here = there;
      }
    }
    out.members.push_back(x);
  }
  return out;
}

}  // namespace drawoff::numerics
