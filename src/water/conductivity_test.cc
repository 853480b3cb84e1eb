#include "water/conductivity.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "base/reference_table.h"
#include "water/ion_pairs.h"
#include "water/meter.h"
#include "water/waters_test.h"

namespace drawoff::water {
namespace {

using units::celsius;

double microsiemens(units::Conductivity k) { return k / units::microsiemens_per_cm(1); }

Composition chloride(Species cation, double mol_l) {
  Composition c;
  c[cation] = c[Species::Cl] = mol_l * 1e3;
  return c;
}

// KCl: Standard Methods 2510, table 2510:I; NaCl: CRC Handbook (from memory). Asked for: 1 % to
// 0.02 mol/L and 2 % to 0.1; reached: 0.25 % throughout, held at 0.3 % here.
TEST(Conductivity, chloride_standards_at_25_degrees) {
  const base::Csv table = base::reference_table("conductivity_salts_25C.csv");
  int compared = 0;
  for (std::size_t row = 0; row < table.rows(); ++row) {
    if (table.empty(row, table.column("published_Lambda_S_cm2_mol"))) continue;
    const Species cation = table.text(row, "salt") == "KCl" ? Species::K : Species::Na;
    const double c = table.number(row, "concentration");
    const double expected = c * 1e3 * table.number(row, "published_Lambda_S_cm2_mol");
    EXPECT_NEAR(microsiemens(conductivity_25(chloride(cation, c))), expected, 0.003 * expected)
        << table.text(row, "salt") << " " << c;
    ++compared;
  }
  EXPECT_EQ(compared, 15);
}

// KCl by molality at 0-50 °C (Pratt et al. 2001, CRC; from memory): within 0.5 %.
TEST(Conductivity, potassium_chloride_against_temperature) {
  const base::Csv table = base::reference_table("conductivity_kcl.csv");
  ASSERT_GE(table.rows(), 20u);
  for (std::size_t row = 0; row < table.rows(); ++row) {
    const units::Temperature t = celsius(table.number(row, "T_C"));
    const Composition c = salt_solution("KCl", table.number(row, "KCl_mol_per_kg_water"), t);
    const double expected = table.number(row, "SC_uS_cm_recalled");
    EXPECT_NEAR(microsiemens(conductivity(c, t)), expected, 0.005 * expected) << row;
  }
}

// 17 groundwaters measured at 20 °C (Stuyfzand 1987). The median is what the header promises. The
// worst are acid rain-fed waters of 48 and 65 µS/cm that conduct a fifth less than their own
// reported ions, H⁺ among them: no sum of ions can come closer, and the bound only guards against
// getting worse. Above 100 µS/cm no error exceeds 7 %.
TEST(Conductivity, measured_groundwaters) {
  const base::Csv table = base::reference_table("open/groundwater_conductivity.csv");
  std::vector<double> errors;
  for (std::size_t row = 0; row < table.rows(); ++row) {
    Composition c;
    for (const Species s : {Species::Cl,
                            Species::HCO3,
                            Species::SO4,
                            Species::NO3,
                            Species::CO3,
                            Species::Na,
                            Species::K,
                            Species::Ca,
                            Species::Mg,
                            Species::NH4}) {
      c[s] = table.number(row, species_data(s).key + "_mg_L") * 1e-3 / molar_mass_of(s);
    }
    c[Species::H] = std::pow(10.0, 3.0 - table.number(row, "pH"));
    const double measured = table.number(row, "conductivity_20C_measured");
    const double relative = microsiemens(conductivity(c, celsius(20))) / measured - 1.0;
    errors.push_back(std::abs(relative));
    EXPECT_LT(std::abs(relative), measured < 100 ? 0.20 : 0.07) << table.text(row, "no");
  }
  ASSERT_EQ(errors.size(), 17u);
  std::nth_element(errors.begin(), errors.begin() + 8, errors.end());
  EXPECT_LT(errors[8], kConductivityRelativeError);
}

// κ(25 °C)/κ(20 °C) = 1.116: German water-works practice for natural waters, from memory; ±1 %.
TEST(Conductivity, compensation_of_a_natural_water) {
  const Composition c = scaled(gypsum_water(), 0.3);
  EXPECT_NEAR(conductivity_25(c) / conductivity(c, celsius(20)), 1.116, 0.011);
}

TEST(Conductivity, pure_water_conducts_nothing_and_one_ion_its_limit) {
  EXPECT_EQ(conductivity_25(Composition{}).si(), 0.0);
  Composition c;
  c[Species::K] = 1.0;
  EXPECT_NEAR(conductivity_25(c).si(), 73.48e-4, 1e-12);
}

// Mass is kept: free ions and pairs add up to what went in, and the law of mass action holds at the
// end.
TEST(IonPairs, mass_is_kept_and_equilibrium_holds) {
  for (const double strength : {0.1, 1.0, 20.0}) {
    const Composition total = scaled(gypsum_water(), strength);
    const PairedWater water = pair_ions(total, celsius(25));
    Composition sum = water.free;
    for (std::size_t i = 0; i < water.pairs.size(); ++i) {
      sum[ion_pairs()[i].cation] += water.pairs[i];
      sum[ion_pairs()[i].anion] += water.pairs[i];
    }
    for (std::size_t i = 0; i < sum.mol_m3.size(); ++i) {
      EXPECT_NEAR(sum.mol_m3[i], total.mol_m3[i], 1e-8 * total.mol_m3[i]);
    }
    EXPECT_LT(water.ionic_strength, ionic_strength(total));
  }
}

// PHREEQC, wateq4f.dat, gypsum groundwater at 25 °C: of 5.99 mmol Ca 4.505 remain free, I = 0.0275.
// Davies for all ions and constants from memory: within 3 %.
TEST(IonPairs, gypsum_groundwater) {
  Composition c;
  const auto set = [&c](Species s, double mg_l) { c[s] = mg_l * 1e-3 / molar_mass_of(s); };
  set(Species::Ca, 240);
  set(Species::Mg, 60);
  set(Species::Na, 65);
  set(Species::K, 4);
  set(Species::HCO3, 250);
  set(Species::Cl, 65);
  set(Species::SO4, 690);
  const PairedWater water = pair_ions(c, celsius(25));
  EXPECT_NEAR(water.free[Species::Ca], 4.5051, 0.03 * 4.5051);
  EXPECT_NEAR(water.ionic_strength.si(), 27.49, 0.03 * 27.49);
}

// Common practice: a pen's scales are 0.5 and 0.7 of µS/cm at 25 °C.
TEST(Meter, scales_and_back) {
  const units::Conductivity k = units::microsiemens_per_cm(1000);
  EXPECT_DOUBLE_EQ(shown(k, Meter{MeterScale::kMicrosiemens}), 1000.0);
  EXPECT_DOUBLE_EQ(shown(k, Meter{MeterScale::kHalf}), 500.0);
  EXPECT_DOUBLE_EQ(shown(k, Meter{MeterScale::kSevenTenths}), 700.0);
  const Meter own{MeterScale::kCalibrated, 0.64};
  EXPECT_DOUBLE_EQ(shown(k, own), 640.0);
  EXPECT_DOUBLE_EQ(microsiemens(conductivity_25_from(640.0, own)), 1000.0);
}

// The 0.5 scale is that of NaCl: 1000 mg/L reads about 994 (1986.8 µS/cm, PHREEQC), so a pen on it
// shows NaCl within 2 %, and a hard natural water too low. A ppm is no mg/L.
TEST(Meter, half_scale_is_sodium_chloride) {
  const Composition salt = sodium_chloride(units::milligram_per_litre(1000));
  EXPECT_NEAR(shown(conductivity_25(salt), Meter{MeterScale::kHalf}), 993.4, 0.02 * 993.4);
  const double hard = shown(conductivity_25(gypsum_water()), Meter{MeterScale::kHalf});
  EXPECT_LT(hard, 0.8 * (total_dissolved(gypsum_water()) / units::milligram_per_litre(1)));
}

}  // namespace
}  // namespace drawoff::water
