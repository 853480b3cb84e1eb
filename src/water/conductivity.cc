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

class Carriers {
 public:
  explicit Carriers(units::Temperature temperature)
      : temperature_(temperature),
        log_fluidity_(std::log(viscosity(units::celsius(25)).si() / viscosity(temperature).si())) {}

  void add(int charge, double mol_m3, MolarConductivity at_25, double walden_exponent) {
    if (charge == 0 || mol_m3 <= 0) return;
    const double lambda = at_25.si() * 1e4 * std::exp(walden_exponent * log_fluidity_);
    carriers_[count_++] = {charge, mol_m3, lambda / std::abs(charge)};
  }
  void add_free(const Composition& free) {
    for (int i = 0; i < kSpeciesCount; ++i) {
      const SpeciesData& s = species_data(species_at(i));
      add(s.charge, free.mol_m3[i], s.molar_conductivity, s.walden_exponent);
    }
  }
  void add(const Complex& complex, double mol_m3) {
    add(complex.activity.charge, mol_m3, complex.molar_conductivity, kPairWaldenExponent);
  }

  [[nodiscard]] units::Conductivity conductivity(units::MolarConcentration ionic_strength) const;

 private:
  units::Temperature temperature_;
  double log_fluidity_;
  std::array<Carrier, kSpeciesCount + kComplexCount> carriers_{};
  std::size_t count_ = 0;
};

units::Conductivity Carriers::conductivity(units::MolarConcentration ionic_strength) const {
  const Carrier* const end = carriers_.data() + count_;
  const Mean cation = mean_of(carriers_.data(), end, 1);
  const Mean anion = mean_of(carriers_.data(), end, -1);
  double b1 = 0;
  double b2 = 0;
  double screened_root = 0;
  if (cation.equivalents > 0 && anion.equivalents > 0) {
    const double et = relative_permittivity(temperature_) * temperature_.si();
    const double root = std::sqrt(ionic_strength.si() * 1e-3);
    const double q =
        cation.charge * anion.charge *
        (cation.equivalent_conductivity + anion.equivalent_conductivity) /
        ((cation.charge + anion.charge) * (cation.charge * anion.equivalent_conductivity +
                                           anion.charge * cation.equivalent_conductivity));
    b1 = 2.801e6 * q / (et * std::sqrt(et) * (1.0 + std::sqrt(q)));
    b2 = 41.25 / (10.0 * viscosity(temperature_).si() * std::sqrt(et));
    screened_root = root / (1.0 + 50.29 / std::sqrt(et) * kIonSize * root);
  }
  double kappa = 0;
  for (const Carrier* i = carriers_.data(); i != end; ++i) {
    const double z = std::abs(i->charge);
    const double other = i->charge > 0 ? anion.charge : cation.charge;
    const double slowed = i->equivalent - (b1 * z * other * i->equivalent + b2 * z) * screened_root;
    kappa += z * i->mol_m3 * slowed * 1e-4;
  }
  return units::Conductivity(kappa);
}

}  // namespace

units::Conductivity conductivity(const Speciation& water) {
  Carriers carriers(water.temperature);
  carriers.add_free(water.free);
  for (std::size_t i = 0; i < water.complexes.size(); ++i) {
    carriers.add(complexes()[i], water.complexes[i]);
  }
  return carriers.conductivity(units::mol_per_cubic_metre(water.ionic_strength * water.water));
}

units::Conductivity conductivity(const Composition& c, units::Temperature temperature) {
  const PairedWater water = pair_ions(c, temperature);
  Carriers carriers(temperature);
  carriers.add_free(water.free);
  for (std::size_t i = 0; i < water.pairs.size(); ++i) {
    carriers.add(*ion_pairs()[i].complex, water.pairs[i]);
  }
  return carriers.conductivity(water.ionic_strength);
}

units::Conductivity conductivity_25(const Composition& c) {
  return conductivity(c, units::celsius(25));
}

}  // namespace drawoff::water
