// A water known only in part: from a meter, a few strips or drop tests, or nothing but its kind,
// to equally likely whole waters that honour every reading within its uncertainty.
//
//   posterior ∝ prior of natural waters (natural_waters.h) · likelihood of the readings
//
// A value y with standard deviation σ: normal. The field of a strip, low … high: the chance that an
// eye whose judgement is off by a spread of ln `blur` takes the water for that field. A
// conductivity also carries the spread of the conductivity model. [oliver1996] for the draws,
// numerics/posterior.h.
//
//   const HalfKnown known{.temperature = celsius(18), .readings = {{.of = Known::kHardness, …}}};
//   const LikelyWaters waters = likely_waters(known, 1);    // 64 of them
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "units/quantity.h"
#include "water/speciation.h"

namespace drawoff::water {

enum class Known {
  kConductivity,  // at 25 °C [S/m]
  kPh,            // [1]
  kHardness,      // as CaCO3 [kg/m³], this and all below
  kAlkalinity,    // as CaCO3
  kChloride,
  kSulfate,
  kNitrate,  // as NO3
  kFluoride,
  kIron
};

struct KnownReading {
  Known of = Known::kConductivity;
  std::optional<double> value;
  double sigma = 0;            // of the value; of a conductivity, of its logarithm
  std::optional<double> low;   // of a field: above this …
  std::optional<double> high;  // … and below that
  double blur = 0.2;           // spread of ln
};

struct HalfKnown {
  units::Temperature temperature = units::celsius(15);
  std::vector<KnownReading> readings;
};

inline constexpr int kLikelyWaters = 64;

struct LikelyWaters {
  std::vector<Speciation> members;  // equally likely
  // Of each reading: how far the likeliest water stands from it, in standard deviations.
  std::vector<double> misfit;
};

// Each reading has a value, or a low, a high or both of a field. The same seed, the same waters.
LikelyWaters likely_waters(const HalfKnown& known, std::uint64_t seed, int count = kLikelyWaters);

// What a reading would find in a water: the quantity of `Known`, in its unit.
double quantity_of(Known of, const Speciation& water);

}  // namespace drawoff::water
