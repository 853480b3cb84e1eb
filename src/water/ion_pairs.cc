#include "water/ion_pairs.h"

#include <algorithm>
#include <cmath>

#include "base/check.h"

namespace drawoff::water {
namespace {

constexpr std::array kCations{Species::Ca, Species::Mg, Species::Na, Species::K, Species::NH4};
constexpr std::array kAnions{Species::HCO3, Species::CO3, Species::SO4};

std::array<IonPair, kIonPairCount> pick_pairs() {
  std::array<IonPair, kIonPairCount> pairs{};
  std::size_t count = 0;
  for (const Complex& complex : complexes()) {
    if (complex.parts.size != 2) continue;
    const auto& [first, second, none] = complex.parts.part;
    if (std::find(kCations.begin(), kCations.end(), first.species) == kCations.end() ||
        std::find(kAnions.begin(), kAnions.end(), second.species) == kAnions.end()) {
      continue;
    }
    CHECK(count < pairs.size() && first.count == 1 && second.count == 1);
    pairs[count++] = {first.species, second.species, &complex};
  }
  CHECK(count == pairs.size());
  return pairs;
}

}  // namespace

const std::array<IonPair, kIonPairCount>& ion_pairs() {
  static const std::array<IonPair, kIonPairCount> picked = pick_pairs();
  return picked;
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
    ActivityData cation_activity, anion_activity, pair_activity;
    double k = 0;
  };
  std::array<Active, kIonPairCount> active;
  std::size_t count = 0;
  for (std::size_t row = 0; row < table.size(); ++row) {
    const IonPair& p = table[row];
    if (total[p.cation] <= 0 || total[p.anion] <= 0) continue;
    active[count++] = {row,
                       index(p.cation),
                       index(p.anion),
                       p.complex->log_k.at(temperature) * std::numbers::ln10,
                       activity_of(p.cation),
                       activity_of(p.anion),
                       p.complex->activity};
  }
  if (count == 0) return water;

  auto& free = water.free.mol_m3;
  const ActivityLaw::Slopes slopes(temperature);
  const double bare_strength = water.ionic_strength.si();
  for (int round = 0; round < kMostRounds; ++round) {
    const ActivityLaw gamma(water.ionic_strength.si() * 1e-3, slopes);
    for (std::size_t i = 0; i < count; ++i) {
      Active& p = active[i];
      p.k = std::exp(p.log_k + gamma(p.cation_activity) + gamma(p.anion_activity) -
                     gamma(p.pair_activity)) *
            1e-3;  // m³/mol
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
      // Two ions less, one pair more.
      const auto square = [](const ActivityData& of) { return of.charge * of.charge; };
      strength -= 0.5 * pair *
                  (square(p.cation_activity) + square(p.anion_activity) - square(p.pair_activity));
    }
    water.ionic_strength = units::mol_per_cubic_metre(std::max(strength, 0.0));
    if (change < kTolerance) break;
  }
  return water;
}

}  // namespace drawoff::water
