// What natural fresh waters are like: the prior of a water that is known only in part.
//
// A water is a point of eight standard normal numbers: strength, the proportions of its cations and
// of its anions, and the carbon dioxide behind its pH. The charges balance at every point. The
// minor constituents (fluoride, iron, silica, …) are drawn beside it. data/natural_waters.csv says
// how wide each is, data/natural_water_links.csv what goes together: an own estimate, wide on
// purpose, fitted to no table of waters.
#pragma once

#include <array>
#include <span>

#include "water/composition.h"

namespace drawoff::water {

inline constexpr int kNaturalDimensions = 8;

inline constexpr std::array kMinorSpecies{
    Species::F, Species::Fe, Species::Mn, Species::Sr, Species::Ba, Species::B, Species::SiO2};
using MinorAmounts = std::array<double, kMinorSpecies.size()>;  // [mol/m³], in that order

// What a point and its minor constituents make: all but the carbonate, and what speciation_at_ph()
// makes that of.
struct NaturalWater {
  Composition constituents;
  units::MolarConcentration alkalinity;
  double ph = 7;
};
NaturalWater natural_water(std::span<const double> point, const MinorAmounts& minors);

// The strength at a point [mol of charge/m³].
double natural_strength(std::span<const double> point);

// The logarithm of a minor constituent [mol/m³] is normal, at a strength.
struct MinorPrior {
  double mean = 0;
  double spread = 0;
};
MinorPrior minor_prior(std::size_t minor, double strength);

}  // namespace drawoff::water
