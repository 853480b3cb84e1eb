#include "water/species.h"

#include <gtest/gtest.h>

#include <cmath>
#include <string>

#include "base/reference_table.h"
#include "water/composition.h"

namespace drawoff::water {
namespace {

TEST(Species, keys_are_unique_and_round_trip) {
  for (int i = 0; i < kSpeciesCount; ++i) {
    const Species s = species_at(i);
    ASSERT_EQ(species_from_key(species_data(s).key), s) << species_data(s).key;
  }
  EXPECT_FALSE(species_from_key("Xx").has_value());
}

// Nernst-Einstein ties the two columns of an ion: D = R T λ°/(z² F²). The published values are
// rounded to three or four digits (0.2 %); anions without a published mobility carry two digits
// only (3 %).
TEST(Species, mobility_and_diffusivity_agree) {
  constexpr double kFaraday = 96485.33212;
  for (int i = 0; i < kSpeciesCount; ++i) {
    const SpeciesData& s = species_data(species_at(i));
    if (s.charge == 0) continue;
    const double diffusivity = 8.314462618 * 298.15 * s.molar_conductivity.si() /
                               (s.charge * s.charge * kFaraday * kFaraday);
    const double tolerance = s.source == "vanysek2005" ? 2e-3 : 3e-2;
    EXPECT_NEAR(s.diffusivity.si() / diffusivity, 1.0, tolerance) << s.key;
  }
}

// CRC Handbook table as carried in data/reference: to its digits.
TEST(Species, mobilities_are_those_of_the_reference_table) {
  const base::Csv table = base::reference_table("ion_mobility.csv");
  int found = 0;
  for (std::size_t row = 0; row < table.rows(); ++row) {
    const auto s = species_from_key(table.text(row, "ion"));
    if (!s) continue;  // bromide
    ++found;
    const double z = table.number(row, "|z|");
    EXPECT_EQ(std::abs(charge_of(*s)), z);
    EXPECT_DOUBLE_EQ(species_data(*s).molar_conductivity.si(),
                     z * table.number(row, "lambda0_equiv") * 1e-4);
    EXPECT_DOUBLE_EQ(species_data(*s).diffusivity.si(), table.number(row, "D0_1e-9_m2_s") * 1e-9);
    const bool read = table.text(row, "source").rfind("READ", 0) == 0;
    EXPECT_EQ(species_data(*s).confidence, read ? Confidence::kRead : Confidence::kMemory);
  }
  EXPECT_EQ(found, 15);
}

TEST(Composition, sums_of_a_simple_water) {
  Composition c;
  c[Species::Ca] = 2.0;
  c[Species::Mg] = 0.5;
  c[Species::HCO3] = 4.0;
  c[Species::Cl] = 1.0;
  c[Species::CO2] = 0.3;
  EXPECT_DOUBLE_EQ(equivalents_cations(c).si(), 5.0);
  EXPECT_DOUBLE_EQ(equivalents_anions(c).si(), 5.0);
  EXPECT_DOUBLE_EQ(ionic_strength(c).si(), 0.5 * (4 * 2.5 + 5.0));
  EXPECT_DOUBLE_EQ(total_molar(c).si(), 7.8);
  EXPECT_NEAR(hardness(c) / units::milligram_per_litre(1), 250.22, 0.01);
  EXPECT_NEAR(alkalinity(c) / units::milligram_per_litre(1), 200.17, 0.01);
  // CO2 is a gas and no dissolved solid.
  EXPECT_NEAR(total_dissolved(c) / units::milligram_per_litre(1),
              2 * 40.078 + 0.5 * 24.305 + 4 * 61.0168 + 35.453,
              1e-9);
  EXPECT_DOUBLE_EQ(scaled(c, 3)[Species::Ca], 6.0);
}

TEST(Composition, sodium_chloride_has_the_mass_it_was_made_of) {
  const Composition c = sodium_chloride(units::milligram_per_litre(500));
  EXPECT_NEAR(total_dissolved(c) / units::milligram_per_litre(1), 500.0, 1e-9);
  EXPECT_EQ(equivalents_cations(c), equivalents_anions(c));
}

}  // namespace
}  // namespace drawoff::water
