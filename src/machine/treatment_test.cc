#include "machine/treatment.h"

#include <gtest/gtest.h>

#include "machine/example_test.h"

namespace drawoff::machine {
namespace {

using units::milligram_per_litre;
using water::Species;

// hard_water() holds 2.5 + 0.9 mmol/L of Ca and Mg: 2 × 3.4 × 0.98 mmol/L of sodium come for them.
TEST(Softener, exchanges_hardness_for_sodium_by_charge) {
  const auto raw = hard_water();
  const auto soft = softened(raw, 0.02);
  EXPECT_NEAR(soft[Species::Ca], 0.05, 1e-15);
  EXPECT_NEAR(soft[Species::Na], 1.6 + 6.664, 1e-14);
  EXPECT_NEAR(water::equivalents_cations(soft).si(), water::equivalents_cations(raw).si(), 1e-13);
  EXPECT_EQ(soft[Species::Cl], raw[Species::Cl]);
  EXPECT_EQ(soft[Species::K], raw[Species::K]);
  EXPECT_NEAR(water::hardness(soft) / water::hardness(raw), 0.02, 1e-14);
}

TEST(Softener, spent_it_leaves_the_water_as_it_is) {
  EXPECT_EQ(softened(hard_water(), 1), hard_water());
}

TEST(Mineral, adds_as_much_hardness_as_alkalinity) {
  const auto hard = mineralised(hard_water(), milligram_per_litre(10));
  const auto raw = hard_water();
  EXPECT_NEAR(hard[Species::Ca] - raw[Species::Ca], 0.0999, 1e-4);
  // 50.043 and 100.087 g/mol are rounded to five digits.
  EXPECT_NEAR((water::hardness(hard) - water::hardness(raw)) / milligram_per_litre(1), 10, 1e-4);
  EXPECT_NEAR(
      (water::alkalinity(hard) - water::alkalinity(raw)) / milligram_per_litre(1), 10, 1e-4);
  EXPECT_NEAR(water::equivalents_cations(hard).si() - water::equivalents_cations(raw).si(),
              water::equivalents_anions(hard).si() - water::equivalents_anions(raw).si(),
              1e-13);
}

TEST(Mineral, takes_carbon_dioxide_as_far_as_there_is_any) {
  auto raw = hard_water();
  raw[Species::CO2] = 0.05;
  EXPECT_EQ(mineralised(raw, milligram_per_litre(10))[Species::CO2], 0);
  EXPECT_NEAR(mineralised(raw, milligram_per_litre(1))[Species::CO2], 0.05 - 0.00999, 1e-5);
}

}  // namespace
}  // namespace drawoff::machine
