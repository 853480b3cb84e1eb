// Equally likely draws from what is known: a standard normal prior in a few dimensions, told more
// by observations that need not be normal nor linear.
//
// Each member begins as a draw of the prior with its own draw of the observations' errors, and goes
// to the place that is likeliest under both, by Gauss-Newton: the exact posterior where all is
// linear, and it follows bent ridges [oliver1996]. Metropolis steps with the exact likelihood,
// shaped by the curvature where the member stands, then take away what the bend left over.
//
// Check: observations of a line against the closed form; coverage on a bent ridge (the test).
#pragma once

#include <Eigen/Core>
#include <cstdint>
#include <functional>
#include <vector>

namespace drawoff::numerics {

using Point = Eigen::VectorXd;

struct Evidence {
  int dimensions = 0;
  // The observations as residuals that are about standard normal at the truth.
  std::function<Point(const Point&)> residuals;
  // ln of their likelihood, up to a constant.
  std::function<double(const Point&)> log_likelihood;
};

struct Posterior {
  Point likeliest;
  Point residuals;             // there
  std::vector<Point> members;  // equally likely
};

// The same seed gives the same members.
Posterior posterior(const Evidence& evidence, int members, std::uint64_t seed);

}  // namespace drawoff::numerics
