#include "membrane/passage.h"

#include <cmath>

#include "base/check.h"
#include "base/csv.h"
#include "data/embedded.h"

namespace drawoff::membrane {

namespace {

using water::charge_of;
using water::species_at;

struct Row {
  double ratio = 0;   // 0: the table has no such species, nothing of it passes
  double spread = 0;  // standard deviation of the logarithm
};

const std::array<Row, water::kSpeciesCount>& rows() {
  static const auto table = [] {
    std::array<Row, water::kSpeciesCount> result{};
    const auto csv = base::Csv::parse(data::file("passage_ratios.csv"));
    for (std::size_t i = 0; i < csv.rows(); ++i) {
      const auto species = water::species_from_key(csv.text(i, "species"));
      CHECK(species.has_value());
      result[water::index(*species)] = {csv.number(i, "ratio"), csv.number(i, "spread")};
    }
    return result;
  }();
  return table;
}

struct MeanRatios {
  double cations = 1;
  double anions = 1;
  double cation_charge = 1;
  double anion_charge = 1;
};

MeanRatios mean_ratios(const water::Composition& raw, const PassageRatios& ratios) {
  std::array<double, 2> weighted{}, whole{}, charged{};
  for (int i = 0; i < water::kSpeciesCount; ++i) {
    const int charge = charge_of(species_at(i));
    if (charge == 0) continue;
    const std::size_t side = charge > 0 ? 0 : 1;
    const double equivalents = std::abs(charge) * raw.mol_m3[i];
    weighted[side] += equivalents * ratios[i];
    whole[side] += equivalents;
    charged[side] += std::abs(charge) * equivalents;
  }
  MeanRatios mean;
  if (whole[0] > 0) {
    mean.cations = weighted[0] / whole[0];
    mean.cation_charge = charged[0] / whole[0];
  }
  if (whole[1] > 0) {
    mean.anions = weighted[1] / whole[1];
    mean.anion_charge = charged[1] / whole[1];
  }
  return mean;
}

}  // namespace

const PassageRatios& typical_passage() {
  static const PassageRatios typical = [] {
    PassageRatios ratios{};
    for (int i = 0; i < water::kSpeciesCount; ++i) ratios[i] = rows()[i].ratio;
    return ratios;
  }();
  return typical;
}

PassageRatios passage_of(std::span<const double, water::kSpeciesCount> chance) {
  PassageRatios ratios = typical_passage();
  for (int i = 0; i < water::kSpeciesCount; ++i)
    ratios[i] *= std::exp(rows()[i].spread * chance[i]);
  return ratios;
}

PassageRatios draw_passage(numerics::Random& random) {
  std::array<double, water::kSpeciesCount> chance{};
  for (double& z : chance) z = random.normal();
  return passage_of(chance);
}

double salt_ratio(const water::Composition& raw, const PassageRatios& ratios) {
  const MeanRatios mean = mean_ratios(raw, ratios);
  return (mean.cation_charge + mean.anion_charge) * mean.cations * mean.anions /
         (mean.cation_charge * mean.cations + mean.anion_charge * mean.anions);
}

}  // namespace drawoff::membrane
