// Electrical conductivity of a water from its ions.
//
// Each ion moves at its own limiting speed, slowed by the others' charge cloud: Onsager's limiting
// law with the finite ion size of its extended form, here per ion, the other sign taken as one mean
// ion. Bound ions (ion_pairs.h) do not carry current. Nothing is fitted to natural waters; only
// the ion size is fitted, to the KCl and NaCl standards.
//
//   κ = Σ |zᵢ| cᵢ [λᵢ − (B₁ |zᵢ| z_o λᵢ + B₂ |zᵢ|) √I/(1 + B a √I)]   [S/m]
//   λᵢ  = (λᵢ°/|zᵢ|)(25 °C) (µ(25 °C)/µ(T))^pᵢ, equivalent conductivity; p in species.csv
//   B₁  = 2.801e6 q/((ε T)^{3/2} (1 + √q)),  q = z₊z₋(λ₊ + λ₋)/((z₊ + z₋)(z₊λ₋ + z₋λ₊))
//   B₂  = 41.25/(10 µ √(ε T)) [S·cm²/mol]     B = 50.29/√(ε T) [1/Å]     a = 4.2 Å
//   z_o mean charge of the other sign;  I in mol/L;  T 0 … 50 °C
//
// [robinson1959, eqs. 7.36, 7.37], constants from memory. KCl and NaCl within 0.3 % to 0.1 mol/L;
// measured groundwaters: median 3 %; kConductivityRelativeError is what to expect of a full
// analysis. Check: KCl 0.01 mol/L, 25 °C -> 1412 µS/cm.
#pragma once

#include "units/quantity.h"
#include "water/composition.h"
#include "water/speciation.h"

namespace drawoff::water {

// Median over the groundwaters of data/reference/open; four acid or very dilute ones of 48-85 µS/cm
// are 8-19 % lower in fact than any sum of their reported ions.
inline constexpr double kConductivityRelativeError = 0.03;

// Of a water told apart in full, at its own temperature [S/m].
units::Conductivity conductivity(const Speciation& water);

// The fast form, by the pairs of ion_pairs.h at the pH that it has [S/m].
units::Conductivity conductivity(const Composition& c, units::Temperature temperature);

// As a meter that compensates perfectly shows it: the same water at 25 °C [S/m].
units::Conductivity conductivity_25(const Composition& c);

}  // namespace drawoff::water
