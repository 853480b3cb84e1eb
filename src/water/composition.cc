#include "water/composition.h"

#include <cstdlib>

namespace drawoff::water {
namespace {

// Sum of weight(species) · concentration.
template <class Weight>
double sum(const Composition& c, Weight weight) {
  double total = 0;
  for (int i = 0; i < kSpeciesCount; ++i) {
    const Species s = species_at(i);
    if (c[s] != 0) total += weight(s) * c[s];
  }
  return total;
}

}  // namespace

Composition sodium_chloride(units::Density mass_concentration) {
  const double molar_mass = molar_mass_of(Species::Na) + molar_mass_of(Species::Cl);
  Composition c;
  c[Species::Na] = c[Species::Cl] = mass_concentration.si() / molar_mass;
  return c;
}

units::MolarConcentration ionic_strength(const Composition& c) {
  return units::mol_per_cubic_metre(
      sum(c, [](Species s) { return 0.5 * charge_of(s) * charge_of(s); }));
}

units::MolarConcentration equivalents_cations(const Composition& c) {
  return units::mol_per_cubic_metre(
      sum(c, [](Species s) { return charge_of(s) > 0 ? charge_of(s) : 0; }));
}

units::MolarConcentration equivalents_anions(const Composition& c) {
  return units::mol_per_cubic_metre(
      sum(c, [](Species s) { return charge_of(s) < 0 ? -charge_of(s) : 0; }));
}

units::MolarConcentration total_molar(const Composition& c) {
  return units::mol_per_cubic_metre(sum(c, [](Species) { return 1.0; }));
}

units::Density total_dissolved(const Composition& c) {
  return units::Density(
      sum(c, [](Species s) { return s == Species::CO2 ? 0.0 : molar_mass_of(s); }));
}

units::Density hardness(const Composition& c) {
  return units::Density((c[Species::Ca] + c[Species::Mg]) * kCalciumCarbonate);
}

units::Density alkalinity(const Composition& c) {
  const double charge = c[Species::HCO3] + 2 * c[Species::CO3] + c[Species::OH] - c[Species::H];
  return units::Density(charge * kCalciumCarbonate / 2);
}

Composition scaled(const Composition& c, double factor) {
  Composition r = c;
  for (double& x : r.mol_m3) x *= factor;
  return r;
}

}  // namespace drawoff::water
