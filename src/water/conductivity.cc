#include "water/conductivity.h"

#include <array>
#include <cmath>
#include <cstdlib>

#include "water/ion_pairs.h"
#include "water/properties.h"

namespace drawoff::water {
namespace {

constexpr double kIonSize = 4.2;              // a [Å], fitted to KCl and NaCl
constexpr double kPairWaldenExponent = 0.92;  // as for ions without one of their own

struct Carrier {
  int charge;  // with its sign
  double mol_m3;
  double equivalent;  // λ at temperature [S·cm²/mol of charge]
};

// All carriers of one sign as one.
struct Mean {
  double equivalents = 0;
  double charge = 0;
  double equivalent_conductivity = 0;
};

Mean mean_of(const Carrier* begin, const Carrier* end, int sign) {
  Mean m;
  for (const Carrier* i = begin; i != end; ++i) {
    const int z = i->charge * sign;
    if (z <= 0) continue;
    m.equivalents += z * i->mol_m3;
    m.charge += z * z * i->mol_m3;
    m.equivalent_conductivity += z * i->mol_m3 * i->equivalent;
  }
  if (m.equivalents > 0) {
    m.charge /= m.equivalents;
    m.equivalent_conductivity /= m.equivalents;
  }
  return m;
}

}  // namespace

units::Conductivity conductivity(const Composition& c, units::Temperature temperature) {
  const PairedWater water = pair_ions(c, temperature);
  const double mu = viscosity(temperature).si();
  const double log_fluidity = std::log(viscosity(units::celsius(25)).si() / mu);

  std::array<Carrier, kSpeciesCount + kIonPairCount> carriers{};
  std::size_t count = 0;
  const auto add = [&](int charge, double mol_m3, double lambda_25, double exponent) {
    if (charge == 0 || mol_m3 <= 0) return;
    const double lambda = lambda_25 * 1e4 * std::exp(exponent * log_fluidity);
    carriers[count++] = {charge, mol_m3, lambda / std::abs(charge)};
  };
  for (int i = 0; i < kSpeciesCount; ++i) {
    const SpeciesData& s = species_data(species_at(i));
    add(s.charge, water.free.mol_m3[i], s.molar_conductivity.si(), s.walden_exponent);
  }
  for (std::size_t i = 0; i < water.pairs.size(); ++i) {
    const IonPair& p = ion_pairs()[i];
    add(p.charge, water.pairs[i], p.molar_conductivity.si(), kPairWaldenExponent);
  }

  const Carrier* const end = carriers.data() + count;
  const Mean cation = mean_of(carriers.data(), end, 1);
  const Mean anion = mean_of(carriers.data(), end, -1);
  double b1 = 0;
  double b2 = 0;
  double screened_root = 0;
  if (cation.equivalents > 0 && anion.equivalents > 0) {
    const double et = relative_permittivity(temperature) * temperature.si();
    const double root = std::sqrt(water.ionic_strength.si() * 1e-3);
    const double q =
        cation.charge * anion.charge *
        (cation.equivalent_conductivity + anion.equivalent_conductivity) /
        ((cation.charge + anion.charge) * (cation.charge * anion.equivalent_conductivity +
                                           anion.charge * cation.equivalent_conductivity));
    b1 = 2.801e6 * q / (et * std::sqrt(et) * (1.0 + std::sqrt(q)));
    b2 = 41.25 / (10.0 * mu * std::sqrt(et));
    screened_root = root / (1.0 + 50.29 / std::sqrt(et) * kIonSize * root);
  }
  double kappa = 0;
  for (const Carrier* i = carriers.data(); i != end; ++i) {
    const double z = std::abs(i->charge);
    const double other = i->charge > 0 ? anion.charge : cation.charge;
    const double slowed = i->equivalent - (b1 * z * other * i->equivalent + b2 * z) * screened_root;
    kappa += z * i->mol_m3 * slowed * 1e-4;
  }
  return units::Conductivity(kappa);
}

units::Conductivity conductivity_25(const Composition& c) {
  return conductivity(c, units::celsius(25));
}

}  // namespace drawoff::water
