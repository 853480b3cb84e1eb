// Ion pairs: ions of opposite sign that spend part of their time bound, and then carry less
// current.
//
// In a gypsum water a third of the sulfate is bound to calcium and magnesium; a conductivity from
// ions that leaves that out comes 10 % too high. The pairs and their constants are
// data/ion_pairs.csv.
#pragma once

#include <array>

#include "units/quantity.h"
#include "water/composition.h"

namespace drawoff::water {

inline constexpr int kIonPairCount = 12;

struct IonPair {
  Species cation;
  Species anion;
  double log_k = 0;                      // association, 25 °C, activities in mol/kg
  double enthalpy = 0;                   // [J/mol]
  int charge = 0;                        // of the pair
  MolarConductivity molar_conductivity;  // λ° of a charged pair, 25 °C
};

// The rows of data/ion_pairs.csv, parsed once.
const std::array<IonPair, kIonPairCount>& ion_pairs();

// A water with its pairs split off.
struct PairedWater {
  Composition free;                           // what is left of each ion
  std::array<double, kIonPairCount> pairs{};  // [mol/m³], in the order of ion_pairs()
  units::MolarConcentration ionic_strength;   // of all that is charged
};

// Association equilibrium of a composition whose species are totals over pairs.
//
//   [pair] γ_p = K [cation] γ_c [anion] γ_a,  ln K(T) = ln K₂₅ + ΔH/R (1/298.15 − 1/T)
//
// γ by Davies (activity.h), 0 … 60 °C. Anions and cations are solved in turn, which closes in on
// the one solution from above; 1e-10 relative.
PairedWater pair_ions(const Composition& total, units::Temperature temperature);

}  // namespace drawoff::water
