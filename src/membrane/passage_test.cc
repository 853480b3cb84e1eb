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

// A neutral water with some of every charged species: what is random in it is balanced by sodium
// or chloride.
Composition random_water(numerics::Random& random) {
  Composition c;
  for (int i = 0; i < water::kSpeciesCount; ++i) {
    c.mol_m3[i] = random.chance(0.3) ? 0 : std::exp(random.uniform(-6, 1.5));
  }
  const double excess = water::equivalents_cations(c).si() - water::equivalents_anions(c).si();
  (excess > 0 ? c[Species::Cl] : c[Species::Na]) += std::fabs(excess);
  return c;
}

// Charges of the permeate balance by construction: to the rounding of two sums of thirty terms.
TEST(Passage, permeate_is_neutral) {
  int exact = 0;
  for (std::uint64_t i = 0; i < 500; ++i) {
    numerics::Random random(51, i);
    const Composition raw = random_water(random);
    const PassageRatios ratios = draw_passage(random);
    const double strength = random.uniform(0.005, 0.3);
    const auto permeate =
        permeate_composition(raw, ratios, strength, {.flux = 5e-6, .salt_permeability = 1e-7});
    const double cations = water::equivalents_cations(permeate).si();
    const double anions = water::equivalents_anions(permeate).si();
    EXPECT_NEAR(cations / anions, 1, 1e-12) << i;
    // s_p is the strength in charge equivalents, less where an ion would pass more than whole.
    const double reached = cations / water::equivalents_cations(raw).si() / strength;
    EXPECT_LE(reached, 1 + 1e-12) << i;
    if (reached > 1 - 1e-12) ++exact;
  }
  EXPECT_GT(exact, 350);  // the cap is the exception
}

// The plate's own salt is the reference: its ratio is 1, and it passes in its proportion.
TEST(Passage, sodium_chloride_has_ratio_one) {
  const Composition salt = water::sodium_chloride(units::milligram_per_litre(500));
  EXPECT_NEAR(salt_ratio(salt, typical_passage()), 1, 1e-15);
  const auto permeate = permeate_composition(salt, typical_passage(), 0.04, {});
  EXPECT_NEAR(permeate[Species::Na] / salt[Species::Na], 0.04, 1e-15);
  EXPECT_NEAR(permeate[Species::Cl] / salt[Species::Cl], 0.04, 1e-15);
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
  const auto permeate = permeate_composition(c, typical_passage(), 0.1, {});
  EXPECT_NEAR(permeate[Species::Ca], 0.1 * 0.30 / 0.65, 1e-15);
  EXPECT_NEAR(permeate[Species::Na], 0.1 * 2 / 0.65, 1e-15);
  EXPECT_NEAR(permeate[Species::Cl], 0.1 * 4, 1e-15);
}

// c_p = c ρBP/(J + ρBP) for silica, all of CO2, whatever the salt does.
TEST(Passage, uncharged_species_pass_by_their_own_permeability) {
  Composition c;
  c[Species::Na] = c[Species::Cl] = 3;
  c[Species::SiO2] = 0.2;
  c[Species::CO2] = 0.4;
  c[Species::B] = 0.05;
  const UnchargedPassage through{.flux = 4e-6, .salt_permeability = 1e-7, .polarisation = 1.25};
  const auto permeate = permeate_composition(c, typical_passage(), 0.03, through);
  EXPECT_EQ(permeate[Species::CO2], 0.4);
  EXPECT_NEAR(permeate[Species::SiO2], 0.2 * 1.25e-7 / (4e-6 + 1.25e-7), 1e-15);
  EXPECT_NEAR(permeate[Species::B], 0.05 * 25e-7 / (4e-6 + 25e-7), 1e-15);
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

// Nitrate in a water of sulfate: the ratios alone would let more through than there is.
TEST(Passage, no_ion_passes_more_than_whole) {
  Composition c;
  c[Species::Na] = 10;
  c[Species::SO4] = 4.5;
  c[Species::NO3] = 1;
  const auto permeate = permeate_composition(c, typical_passage(), 0.5, {});
  for (int i = 0; i < water::kSpeciesCount; ++i) EXPECT_LE(permeate.mol_m3[i], c.mol_m3[i]);
  EXPECT_NEAR(
      water::equivalents_cations(permeate).si(), water::equivalents_anions(permeate).si(), 1e-12);
}

}  // namespace
}  // namespace drawoff::membrane
