#include "water/ion_pairs.h"

#include <algorithm>
#include <cmath>

#include "base/check.h"
#include "base/csv.h"
#include "data/embedded.h"
#include "water/activity.h"
#include "water/properties.h"

namespace drawoff::water {
namespace {

std::array<IonPair, kIonPairCount> parse_pairs() {
  constexpr double kJoulePerKilocalorie = 4184.0;
  const base::Csv csv = base::Csv::parse(data::file("ion_pairs.csv"));
  CHECK(csv.rows() == kIonPairCount);
  std::array<IonPair, kIonPairCount> pairs;
  for (std::size_t row = 0; row < pairs.size(); ++row) {
    const auto cation = species_from_key(csv.text(row, "cation"));
    const auto anion = species_from_key(csv.text(row, "anion"));
    CHECK(cation && anion && charge_of(*cation) > 0 && charge_of(*anion) < 0);
    pairs[row] = {*cation,
                  *anion,
                  csv.number(row, "log_k"),
                  csv.number(row, "enthalpy_kcal_mol") * kJoulePerKilocalorie,
                  charge_of(*cation) + charge_of(*anion),
                  MolarConductivity(csv.number(row, "molar_conductivity_S_cm2_mol") * 1e-4)};
  }
  return pairs;
}

}  // namespace

const std::array<IonPair, kIonPairCount>& ion_pairs() {
  static const std::array<IonPair, kIonPairCount> parsed = parse_pairs();
  return parsed;
}

PairedWater pair_ions(const Composition& total, units::Temperature temperature) {
  constexpr double kTolerance = 1e-10;
  constexpr int kMostRounds = 100;
  const auto& table = ion_pairs();
  PairedWater water;
  water.free = total;
  water.ionic_strength = ionic_strength(total);

  // Pairs of which both ions are there, with ln K at the temperature.
  struct Active {
    std::size_t row, cation, anion;
    double log_k;
    int power;  // z_c² + z_a² − z_p²: of γ₁
    double k = 0;
  };
  std::array<Active, kIonPairCount> active;
  std::size_t count = 0;
  for (std::size_t row = 0; row < table.size(); ++row) {
    const IonPair& p = table[row];
    if (total[p.cation] <= 0 || total[p.anion] <= 0) continue;
    const int zc = charge_of(p.cation);
    const int za = charge_of(p.anion);
    const double log_k =
        p.log_k * std::log(10.0) +
        p.enthalpy / kGasConstant * (1.0 / units::celsius(25).si() - 1.0 / temperature.si());
    active[count++] = {
        row, index(p.cation), index(p.anion), log_k, zc * zc + za * za - p.charge * p.charge};
  }
  if (count == 0) return water;

  auto& free = water.free.mol_m3;
  const double bare_strength = water.ionic_strength.si();
  for (int round = 0; round < kMostRounds; ++round) {
    const double log_gamma = davies_log_activity(water.ionic_strength.si() * 1e-3, temperature);
    for (std::size_t i = 0; i < count; ++i) {
      active[i].k = std::exp(active[i].log_k + active[i].power * log_gamma) * 1e-3;  // m³/mol
    }
    double change = 0;
    // Each side in turn: free = total/(1 + Σ K · free partner).
    for (const bool anions : {true, false}) {
      std::array<double, kSpeciesCount> bound{};
      for (std::size_t i = 0; i < count; ++i) {
        const Active& p = active[i];
        bound[anions ? p.anion : p.cation] += p.k * free[anions ? p.cation : p.anion];
      }
      for (std::size_t s = 0; s < bound.size(); ++s) {
        if (bound[s] == 0) continue;
        const double next = total.mol_m3[s] / (1.0 + bound[s]);
        change = std::max(change, std::abs(next - free[s]) / next);
        free[s] = next;
      }
    }
    double strength = bare_strength;
    for (std::size_t i = 0; i < count; ++i) {
      const Active& p = active[i];
      const double pair = p.k * free[p.cation] * free[p.anion];
      water.pairs[p.row] = pair;
      strength -= 0.5 * pair * p.power;  // two ions less, one pair more
    }
    water.ionic_strength = units::mol_per_cubic_metre(std::max(strength, 0.0));
    if (change < kTolerance) break;
  }
  return water;
}

}  // namespace drawoff::water
