#include "transients/wash.h"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>

#include "base/check.h"
#include "numerics/bracket.h"

namespace drawoff::transients {

namespace {

using Matrix = Eigen::MatrixXd;

// exp of the chain's matrix over `passed`: column j says where what was in volume j has gone.
Matrix exchange(const std::vector<double>& mixed, double passed) {
  const auto n = static_cast<Eigen::Index>(mixed.size());
  double fastest = 0;
  for (const double v : mixed) fastest = std::fmax(fastest, passed / v);
  // Halved until the fastest volume is exchanged at most once, then squared as often.
  const int halvings = fastest > 1 ? static_cast<int>(std::ceil(std::log2(fastest))) : 0;
  const double mean = std::ldexp(fastest, -halvings);
  Matrix step = Matrix::Zero(n, n);  // of one exchange of the fastest
  for (Eigen::Index i = 0; i < n; ++i) {
    const double moves = passed / mixed[static_cast<std::size_t>(i)] / fastest;
    step(i, i) = 1 - moves;
    if (i + 1 < n) step(i + 1, i) = moves;
  }
  // Poisson-weighted powers; with a mean of at most 1 the 24th weight is below 1e-24.
  constexpr int kTerms = 24;
  double weight = std::exp(-mean);
  Matrix power = Matrix::Identity(n, n);
  Matrix sum = power * weight;
  for (int k = 1; k <= kTerms; ++k) {
    power = step * power;
    weight *= mean / k;
    sum += power * weight;
  }
  for (int k = 0; k < halvings; ++k) sum = (sum * sum).eval();
  return sum;
}

}  // namespace

std::vector<double> held_after(const std::vector<double>& mixed,
                               const std::vector<double>& held,
                               double passed) {
  CHECK(mixed.size() == held.size());
  if (!(passed > 0) || mixed.empty()) return held;
  const Eigen::Map<const Eigen::VectorXd> before(held.data(),
                                                 static_cast<Eigen::Index>(held.size()));
  std::vector<double> after(held.size());
  Eigen::Map<Eigen::VectorXd>(after.data(), before.size()) = exchange(mixed, passed) * before;
  return after;
}

double share_left(const Chain& chain, double passed) {
  const double through = passed - chain.plug;
  if (!(through > 0)) return 1;
  if (chain.mixed.empty()) return 0;
  return held_after(chain.mixed, chain.mixed, through).back() / chain.mixed.back();
}

double passed_until(const Chain& chain, double share) {
  CHECK(share > 0 && share < 1);
  if (chain.mixed.empty()) return chain.plug;
  const double largest = *std::max_element(chain.mixed.begin(), chain.mixed.end());
  auto lacks = [&](double passed) { return std::log(share_left(chain, passed) / share); };
  double low = chain.plug;
  double high = chain.plug + largest;
  while (lacks(high) > 0) {
    low = high;
    high = chain.plug + 2 * (high - chain.plug);
  }
  const auto root =
      numerics::find_root(lacks, {.low = low, .high = high, .tolerance = 1e-12, .scale = largest});
  return root.root;
}

}  // namespace drawoff::transients
