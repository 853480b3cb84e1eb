// Which single cause explains a set of readings best.
//
// Work in numbers whose errors are near normal (logarithms of flows and strengths, pressures as
// they are). A sound machine predicts the readings with mean m and covariance C, which holds what
// is not known about plates, parts and water (from the draws) plus the instruments. A cause moves
// the mean by a shift d(a) that depends on how bad it is, a. The shift is known at a few degrees;
// between two of them it runs straight, and every place on that path is as likely.
//
//   evidence of a cause   L = mean along the path of N(z; m + d(a), C)
//   probability           P = prior · L / Σ prior · L
//
// How far the readings lie together from a sound machine's: d² = (z − m)ᵀ C⁻¹ (z − m). Of n draws
// and p readings a further sound machine's d² (n − p) n/(p (n² − 1)) is Fisher's F of p and n − p
// degrees of freedom (Hotelling; from memory), exactly so for normal draws and no instrument error.
// Check: n = 200, p = 1, d² = 3.9080 -> 0.0500 (Student's t of 199: 1.97196² · 201/200).
//
// No list is complete: one more candidate, "other", expects the sound readings five times as
// uncertain (covariance 25 C) and takes what no cause on the list explains.
//
// Causes whose signatures look alike through C (cosine of the whitened shifts above 0.95) cannot
// be told apart by these readings: they are reported as one group with the sum of their
// probabilities. The next test is the reading not yet taken that tells most about the cause per
// minute:
//
//   gain = ½ ln(1 + spread of the causes' means / variance within a cause)   [nat]
//
// an upper bound of the information for near-normal readings (channel capacity). [cover2006]
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace drawoff::inference {

inline constexpr std::string_view kOtherCause = "other";

// A candidate, with what it would do to every observable at each degree, from little to most.
struct Cause {
  std::string id;
  double prior = 0;
  std::vector<std::vector<double>> shifts;  // [degree][observable]
};

// The observables: first those measured, in the order of `readings`, then those that could be.
struct Evidence {
  std::vector<std::vector<double>> draws;  // [draw][observable], of a sound machine
  std::vector<double> readings;            // of the first readings.size() observables
  std::vector<double> sigma;               // instrument, per observable
  std::vector<double> minutes;             // to take it, per observable not yet measured
  double sound_prior = 0.7;                // that nothing is wrong (common practice, no source)
  double other_prior = 0.02;  // that it is something not on the list (common practice, no source)
};

struct RankedCause {
  std::string id;  // "" for: nothing is wrong
  double probability = 0;
  std::vector<std::string> alike;  // causes these readings cannot tell from it
};

struct NextTest {
  int observable = -1;  // index among all observables; -1 if none would tell anything
  double gain = 0;      // [nat]
  double minutes = 0;
};

struct Ranking {
  std::vector<RankedCause> causes;  // likeliest first; alike ones merged into the likeliest
  NextTest next;
  double together = 1;  // probability that a sound machine's readings lie together as far off
};

// The last number above: of d², p readings and n draws; 1 where n <= p, which tells nothing.
double probability_together(double d2, std::size_t readings, std::size_t draws);

// ln of the mean over t in [0, 1] of exp(−½ |off − (from + t (to − from))|²), exact to 1e-5 of the
// mean however far off; vectors of one length.
double log_mean_on_segment(std::span<const double> off,
                           std::span<const double> from,
                           std::span<const double> to);

Ranking rank_causes(const Evidence& evidence, std::span<const Cause> causes);

}  // namespace drawoff::inference
