// What readings say of the numbers that chance decided.
//
// A model turns independent standard normal numbers z (what is not known of machine and water) into
// the readings that it would give, h(z). Given readings y, z is no longer any draw: some directions
// are known well, others as little as before. Every draw ξ_j of the prior is moved to what was
// read, less an error e_j of its own, by as little as that takes: where
//
//   |z − ξ_j|² + (y − e_j − h(z))ᵀ R⁻¹ (y − e_j − h(z)),   R = diag σ²
//
// is least (randomised maximum likelihood [oliver1996]). They step there
// with one slope A of the model, regressed over the whole prior:
//
//   z_j <- ξ_j + K (y − e_j − h(z_j) + A (z_j − ξ_j)),   K = Aᵀ (A Aᵀ + R)⁻¹    [chen2013]
//
// For a linear model and normal errors the result is draws of the exact posterior, after one step.
// The errors here are even within √3 σ, as data sheets mean it (inference/instrument.h): then the
// draws are calibrated too.
//
// Before the readings the model expects N(b, A Aᵀ + Ω + R) of them, Ω what the slope leaves out;
// how far y lies from that, in χ² with as many degrees as readings, says whether they can be such a
// machine's at all.
#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <span>
#include <vector>

namespace drawoff::inference {

using Numbers = std::vector<double>;

// Readings of each set of numbers; none where that machine gives none. Asked for all draws at once.
using Model = std::function<std::vector<std::optional<Numbers>>(std::span<const Numbers>)>;

struct FitInput {
  std::vector<Numbers> prior;  // equally likely sets, all of one length
  Numbers readings;            // near-normal observables
  Numbers sigma;               // of each, > 0
  std::uint64_t seed = 1;      // of the errors
};

struct Fitted {
  bool found = false;          // false where too few draws give readings, or they do not settle
  double probability = 1;      // of readings that lie as far off, from a machine of the prior
  std::vector<Numbers> draws;  // equally likely sets of numbers, given the readings
};

// Needs twice as many draws as the slope has numbers: one more than a set.
Fitted fit(const FitInput& input, const Model& model);

}  // namespace drawoff::inference
