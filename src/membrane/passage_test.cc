#include "membrane/passage.h"

#include <gtest/gtest.h>

#include <cmath>

#include "base/csv.h"
#include "data/embedded.h"
#include "water/composition.h"

namespace drawoff::membrane {
namespace {

using water::Composition;
using water::Species;

// The plate's own salt is the reference: its ratio is 1.
TEST(Passage, sodium_chloride_has_ratio_one) {
  const Composition salt = water::sodium_chloride(units::milligram_per_litre(500));
  EXPECT_NEAR(salt_ratio(salt, typical_passage()), 1, 1e-15);
  EXPECT_EQ(salt_ratio(Composition{}, typical_passage()), 1);
}

// By hand: equal equivalents of Ca and Na with chloride, ρ 0.30 and 1: w₊ = 0.65, w₋ = 1,
// z₊ = (4 + 2)/4 = 1.5, z₋ = 1: r = 2.5 · 0.65/(1.5 · 0.65 + 1).
TEST(Passage, mixed_salt_check_value) {
  Composition c;
  c[Species::Ca] = 1;
  c[Species::Na] = 2;
  c[Species::Cl] = 4;
  EXPECT_NEAR(salt_ratio(c, typical_passage()), 2.5 * 0.65 / (1.5 * 0.65 + 1), 1e-15);
}

// All that an analysis can name has a row, once: a species that the table forgot would pass
// nothing, and a hazard would vanish from the product without a word.
TEST(Passage, every_species_of_an_analysis_has_a_row) {
  const auto csv = base::Csv::parse(data::file("passage_ratios.csv"));
  std::array<int, water::kSpeciesCount> rows{};
  for (std::size_t i = 0; i < csv.rows(); ++i) {
    const auto species = water::species_from_key(csv.text(i, "species"));
    ASSERT_TRUE(species) << csv.text(i, "species");
    ++rows[water::index(*species)];
    EXPECT_GT(csv.number(i, "ratio"), 0) << csv.text(i, "species");
    EXPECT_GT(csv.number(i, "spread"), 0) << csv.text(i, "species");
  }
  for (int i = 0; i < water::kSpeciesCount; ++i) {
    // CO2 passes freely and has none.
    EXPECT_EQ(rows[static_cast<std::size_t>(i)], water::species_at(i) == Species::CO2 ? 0 : 1)
        << water::species_data(water::species_at(i)).key;
  }
}

// Draws have the table's medians and spreads: the logarithms' mean within 4.892 standard errors of
// 0 and their spread of 1 (n draws: 1/√n and 1/√(2n)), which a right one fails once in a million.
TEST(Passage, draws_follow_the_table) {
  constexpr int kDraws = 4000;
  constexpr double kRare = 4.892;
  const auto csv = base::Csv::parse(data::file("passage_ratios.csv"));
  std::array<double, water::kSpeciesCount> sum{};
  std::array<double, water::kSpeciesCount> square{};
  for (std::uint64_t i = 0; i < kDraws; ++i) {
    numerics::Random random(52, i);
    const PassageRatios ratios = draw_passage(random);
    for (std::size_t row = 0; row < csv.rows(); ++row) {
      const auto s = water::index(*water::species_from_key(csv.text(row, "species")));
      const double z = std::log(ratios[s] / csv.number(row, "ratio")) / csv.number(row, "spread");
      sum[s] += z;
      square[s] += z * z;
    }
  }
  for (std::size_t row = 0; row < csv.rows(); ++row) {
    const auto s = water::index(*water::species_from_key(csv.text(row, "species")));
    EXPECT_NEAR(sum[s] / kDraws, 0, kRare / std::sqrt(kDraws)) << csv.text(row, "species");
    EXPECT_NEAR(std::sqrt(square[s] / kDraws), 1, kRare / std::sqrt(2.0 * kDraws))
        << csv.text(row, "species");
  }
}

}  // namespace
}  // namespace drawoff::membrane
