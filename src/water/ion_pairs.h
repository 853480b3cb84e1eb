// Ion pairs, the fast way: what the ions of a water's conductivity lose to one another at a fixed
// pH.
//
// The eleven pairs of complexes.h between Ca, Mg, Na, K, NH4 and HCO3, CO3, SO4, which together
// hold all but a few thousandths of what is bound in a natural water; the rest of speciation.h (pH,
// traces) left out. For what is asked thousands of times; speciation.h is the whole.
#pragma once

#include <array>

#include "units/quantity.h"
#include "water/complexes.h"
#include "water/composition.h"

namespace drawoff::water {

inline constexpr int kIonPairCount = 11;

struct IonPair {
  Species cation;
  Species anion;
  const Complex* complex;
};

const std::array<IonPair, kIonPairCount>& ion_pairs();

// A water with its pairs split off.
struct PairedWater {
  Composition free;                           // what is left of each ion
  std::array<double, kIonPairCount> pairs{};  // [mol/m³], in the order of ion_pairs()
  units::MolarConcentration ionic_strength;   // of all that is charged
};

// Association equilibrium of a composition whose species are totals over pairs.
//
//   [pair] γ_p = K [cation] γ_c [anion] γ_a
//
// K and γ of complexes.h, 0 … 60 °C. Anions and cations are solved in turn, which closes in on the
// one solution from above; 1e-10 relative. Check: against speciation.h, ion_pairs_test.cc.
PairedWater pair_ions(const Composition& total, units::Temperature temperature);

}  // namespace drawoff::water
