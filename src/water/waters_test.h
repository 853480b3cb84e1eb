// For tests and benchmarks only: waters that several of them use.
#pragma once

#include <string>

#include "base/check.h"
#include "units/quantity.h"
#include "water/composition.h"
#include "water/pitzer.h"
#include "water/properties.h"

namespace drawoff::water {

// A single salt by molality [mol/kg water].
inline Composition salt_solution(const std::string& salt,
                                 double molality,
                                 units::Temperature temperature) {
  Composition one;
  const auto ions = [&one](Species cation, double nc, Species anion, double na) {
    one[cation] = nc;
    one[anion] = na;
  };
  if (salt == "NaCl") ions(Species::Na, 1, Species::Cl, 1);
  if (salt == "KCl") ions(Species::K, 1, Species::Cl, 1);
  if (salt == "CaCl2") ions(Species::Ca, 1, Species::Cl, 2);
  if (salt == "MgCl2") ions(Species::Mg, 1, Species::Cl, 2);
  if (salt == "Na2SO4") ions(Species::Na, 2, Species::SO4, 1);
  if (salt == "MgSO4") ions(Species::Mg, 1, Species::SO4, 1);
  CHECK(total_molar(one).si() > 0);
  // c = m ρ_w (1 − v c): the solutes take room.
  const double n = molality * density(temperature).si();
  return scaled(one, n / (1.0 + n * PitzerMixture(one, temperature).volume_share()));
}

// Standard sea salt at a solution density: [millero2008, table 4], mol per kg at 35.16504 g/kg.
inline Composition sea_salt(double grams_per_kg, units::Density solution) {
  Composition c;
  c[Species::Na] = 0.4689674;
  c[Species::Mg] = 0.0528171;
  c[Species::Ca] = 0.0102821;
  c[Species::K] = 0.0102077;
  c[Species::Sr] = 0.0000907;
  c[Species::Cl] = 0.5458696 + 0.0008421;  // with bromide
  c[Species::SO4] = 0.0282352;
  c[Species::HCO3] = 0.0017177;
  c[Species::CO3] = 0.0002389;
  c[Species::F] = 0.0000683;
  c[Species::B] = 0.0003143;
  c[Species::OH] = 0.0001008 + 0.0000080;  // with borate
  c[Species::CO2] = 0.0000097;
  return scaled(c, grams_per_kg / 35.16504 * solution.si());
}

// A gypsum groundwater [mol/m³]: calcium, magnesium, sulfate, some of everything.
inline Composition gypsum_water() {
  Composition c;
  c[Species::Ca] = 6.0;
  c[Species::Mg] = 2.5;
  c[Species::Na] = 2.8;
  c[Species::K] = 0.1;
  c[Species::SO4] = 7.2;
  c[Species::Cl] = 1.8;
  c[Species::HCO3] = 3.7;
  c[Species::SiO2] = 0.3;
  c[Species::CO2] = 0.3;
  return c;
}

}  // namespace drawoff::water
