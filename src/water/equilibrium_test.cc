#include "water/equilibrium.h"

#include <gtest/gtest.h>

#include <cmath>

#include "base/reference_table.h"
#include "numerics/random.h"
#include "water/analysis.h"

namespace drawoff::water {
namespace {

// phreeqc_blend.csv: raw waters, permeates and blends through PHREEQC, from its own alkalinity and
// carbonate. It has ion pairs and we have none: a hundredth of a pH in waters below 1 mmol/L, where
// there are next to none; above, 0.08 at most (seen: 0.072 in a raw water of pH 7.9, whose little
// CO2 moves most).
TEST(Settled, reproduces_phreeqc) {
  const auto table = base::reference_table("phreeqc_blend.csv");
  int seen = 0;
  for (std::size_t row = 0; row < table.rows(); ++row) {
    SCOPED_TRACE(row);
    auto number = [&](const char* name) { return table.number(row, name); };
    const double strength = number("ionic_strength_mol_kgw");
    Composition c;
    c[Species::HCO3] = number("alk_meq_kgw");
    c[Species::CO2] = number("DIC_mmol_kgw") - c[Species::HCO3];
    // The rest of the ionic strength as an inert salt.
    const double rest = std::fmax(0.0, strength * 1e3 - 0.5 * c[Species::HCO3]);
    c[Species::Na] = rest + c[Species::HCO3] / 2;
    c[Species::Cl] = rest - c[Species::HCO3] / 2 > 0 ? rest - c[Species::HCO3] / 2 : 0;
    const auto s = settled(c, units::celsius(number("T_C")));
    EXPECT_NEAR(s.ph, number("pH"), strength < 1e-3 ? 0.01 : 0.08);
    ++seen;
  }
  EXPECT_EQ(seen, 40);
}

// A water as an analysis gives it is settled: it comes back with its own pH, and mixing it with
// itself changes nothing. Twelve rounds there, eight here: to 1e-9.
TEST(Settled, leaves_a_settled_water_alone) {
  for (std::uint64_t i = 0; i < 200; ++i) {
    numerics::Random random(71, i);
    Analysis a;
    a.temperature = units::celsius(random.uniform(2, 45));
    a.ph = random.uniform(6, 9);
    a[Species::HCO3] = measured(units::milligram_per_litre(random.uniform(20, 500)));
    a[Species::Ca] = measured(units::milligram_per_litre(random.uniform(1, 200)));
    a[Species::Cl] = measured(units::milligram_per_litre(random.uniform(1, 300)));
    const auto c = speciate(a);
    ASSERT_TRUE(c);
    const auto s = settled(*c, a.temperature);
    EXPECT_NEAR(s.ph, a.ph, 1e-9) << i;
    EXPECT_NEAR(s.composition[Species::CO2] / (*c)[Species::CO2], 1, 1e-8) << i;
  }
}

// What the pH moves between forms is conserved.
TEST(Settled, keeps_alkalinity_and_carbonate) {
  for (std::uint64_t i = 0; i < 200; ++i) {
    numerics::Random random(72, i);
    Composition c;
    c[Species::HCO3] = random.uniform(0, 6);
    c[Species::CO3] = random.uniform(0, 0.2);
    c[Species::CO2] = random.uniform(0, 2);
    c[Species::Na] = c[Species::HCO3] + 2 * c[Species::CO3];
    const auto s = settled(c, units::celsius(random.uniform(2, 45))).composition;
    EXPECT_NEAR(s[Species::HCO3] + 2 * s[Species::CO3] + s[Species::OH] - s[Species::H],
                c[Species::HCO3] + 2 * c[Species::CO3],
                1e-9);
    EXPECT_NEAR(s[Species::HCO3] + s[Species::CO3] + s[Species::CO2],
                c[Species::HCO3] + c[Species::CO3] + c[Species::CO2],
                1e-12);
  }
}

}  // namespace
}  // namespace drawoff::water
