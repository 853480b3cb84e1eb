// Root of a continuous function between two points where its sign differs.
//
// Every network solve of a machine ends here. The method (TOMS 748 of Alefeld, Potra & Shi 1995,
// by Boost.Math) keeps the root enclosed, so it cannot diverge; [alefeld1995].
//
//   BracketResult r = find_root(f, {.low = 0, .high = 8e5, .tolerance = 1e-13});
#pragma once

#include <boost/math/tools/toms748_solve.hpp>
#include <cmath>
#include <cstdint>

#include "numerics/boost_policy.h"

namespace drawoff::numerics {

enum class BracketStatus {
  kFound,
  kNoSignChange,  // f has the same sign at both ends
  kTooManySteps,  // the bracket is still wider than asked
};

struct Bracket {
  double low = 0;
  double high = 0;
  double tolerance = 1e-13;  // on the width of the bracket, relative to max(|low|, |high|, scale)
  double scale = 1;          // magnitude below which the width counts absolutely
  int steps = 100;
};

struct BracketResult {
  BracketStatus status = BracketStatus::kNoSignChange;
  double root = 0;
  int evaluations = 0;
};

template <class F>
BracketResult find_root(F&& f, const Bracket& b) {
  int evaluations = 0;
  auto counted = [&](double x) {
    ++evaluations;
    return f(x);
  };
  const double at_low = counted(b.low);
  if (at_low == 0) return {BracketStatus::kFound, b.low, evaluations};
  const double at_high = counted(b.high);
  if (at_high == 0) return {BracketStatus::kFound, b.high, evaluations};
  if (std::signbit(at_low) == std::signbit(at_high) || std::isnan(at_low) || std::isnan(at_high)) {
    return {BracketStatus::kNoSignChange, 0, evaluations};
  }
  auto close = [&](double low, double high) {
    const double size = std::fmax(std::fmax(std::fabs(low), std::fabs(high)), b.scale);
    return high - low <= b.tolerance * size;
  };
  auto steps = static_cast<std::uintmax_t>(b.steps);
  const auto [low, high] = boost::math::tools::toms748_solve(
      counted, b.low, b.high, at_low, at_high, close, steps, kQuietPolicy);
  const auto status = close(low, high) ? BracketStatus::kFound : BracketStatus::kTooManySteps;
  return {status, 0.5 * (low + high), evaluations};
}

}  // namespace drawoff::numerics
