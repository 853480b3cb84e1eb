// Composition: what a water holds, as the molar concentration of each species [mol/m³].
//
// The one form in which water travels through the engine. A lab's paper becomes a Composition by
// speciate() (analysis.h); blends (mixing.h), osmotic pressure (pitzer.h, osmotic_curve.h) and
// conductivity (conductivity.h) take it from there. A value: copy it, scale it, mix it.
#pragma once

#include <array>

#include "units/quantity.h"
#include "water/species.h"

namespace drawoff::water {

struct Composition {
  std::array<double, kSpeciesCount> mol_m3{};

  double& operator[](Species s) { return mol_m3[index(s)]; }
  const double& operator[](Species s) const { return mol_m3[index(s)]; }
  bool operator==(const Composition&) const = default;
};

// Calcium carbonate, the coin of hardness and alkalinity: 100.0869 g/mol (IUPAC 2021 weights).
inline constexpr double kCalciumCarbonate = 0.1000869;  // kg/mol

// One salt in water, for tests and for rating plates: sodium_chloride(milligram_per_litre(500)).
Composition sodium_chloride(units::Density mass_concentration);

// I = ½ Σ z² c  [mol/m³].
units::MolarConcentration ionic_strength(const Composition& c);

// Σ |z| c over the cations, and over the anions [mol/m³ of charge, = meq/L].
units::MolarConcentration equivalents_cations(const Composition& c);
units::MolarConcentration equivalents_anions(const Composition& c);

// Σ c over all species, charged or not [mol/m³]: what van 't Hoff would count.
units::MolarConcentration total_molar(const Composition& c);

// Mass of all dissolved species but CO2, a gas [kg/m³]. HCO3 and CO3 count as they are.
units::Density total_dissolved(const Composition& c);

// (Ca + Mg) as CaCO3, 100.087 g/mol [kg/m³].
units::Density hardness(const Composition& c);

// HCO3 + 2 CO3 + OH − H as CaCO3, 50.043 g per mole of charge [kg/m³].
units::Density alkalinity(const Composition& c);

// Every species times the factor.
Composition scaled(const Composition& c, double factor);

}  // namespace drawoff::water
