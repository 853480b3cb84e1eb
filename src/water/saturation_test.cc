#include "water/saturation.h"

#include <gtest/gtest.h>

#include <cmath>

#include "base/reference_table.h"
#include "water/analysis.h"

namespace drawoff::water {
namespace {

// phreeqc_results.csv and phreeqc_inputs.csv: the four waters at 25 °C and their own pH. PHREEQC's
// two data bases differ by 0.02 among themselves, in the pairs of calcium; 0.05 is what the design
// allows an index to be off.
TEST(CalciteIndex, reproduces_phreeqc) {
  const auto inputs = base::reference_table("phreeqc_inputs.csv");
  const auto results = base::reference_table("phreeqc_results.csv");
  int seen = 0;
  for (std::size_t w = 0; w < inputs.rows(); ++w) {
    Analysis a;
    a.temperature = units::celsius(25);
    a.ph = inputs.number(w, "pH_25C");
    const auto put = [&](Species s, const char* column) {
      a[s] = measured(units::milligram_per_litre(inputs.number(w, column)));
    };
    put(Species::Ca, "Ca_mg_L");
    put(Species::Mg, "Mg_mg_L");
    put(Species::Na, "Na_mg_L");
    put(Species::K, "K_mg_L");
    put(Species::HCO3, "Alk_mg_L_as_HCO3");
    put(Species::Cl, "Cl_mg_L");
    put(Species::SO4, "SO4_mg_L");
    put(Species::NO3, "NO3_mg_L");
    const auto water = speciate(a);
    ASSERT_TRUE(water);
    for (std::size_t r = 0; r < results.rows(); ++r) {
      if (results.text(r, "water") != inputs.text(w, "water") || results.number(r, "T_C") != 25) {
        continue;
      }
      EXPECT_NEAR(calcite_index(*water, a.temperature), results.number(r, "SI_calcite"), 0.05)
          << results.text(r, "water") << " " << results.text(r, "database");
      ++seen;
    }
  }
  EXPECT_GE(seen, 8);
}

TEST(CalciteIndex, is_minus_infinity_without_calcium) {
  Composition c;
  c[Species::CO3] = 0.1;
  c[Species::Na] = 0.2;
  EXPECT_EQ(calcite_index(c, units::celsius(25)), -INFINITY);
}

}  // namespace
}  // namespace drawoff::water
