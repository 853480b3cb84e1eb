#include "water/conductivity.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "base/reference_table.h"
#include "water/ion_pairs.h"
#include "water/meter.h"
#include "water/reference_waters_test.h"
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

// The fast way against the whole: the four reference waters at three temperatures, raw and
// threefold. It leaves the pairs of traces out: free ions within 1 %, conductivity within 0.4 %.
TEST(IonPairs, agree_with_the_whole_speciation) {
  for (const char* name : {"W1", "W2", "W3", "W4"}) {
    for (const double t : {10.0, 25.0, 35.0}) {
      for (const double factor : {1.0, 3.0}) {
        SCOPED_TRACE(std::string(name) + " " + std::to_string(t) + " " + std::to_string(factor));
        const auto told = speciation(reference_water(name));
        ASSERT_TRUE(told);
        const Speciation whole = closed_speciation(scaled(told->total, factor), celsius(t));
        const PairedWater fast = pair_ions(whole.total, celsius(t));
        for (const Species s : {Species::Ca, Species::Mg, Species::SO4, Species::HCO3}) {
          EXPECT_NEAR(fast.free[s], whole.free[s], 0.01 * whole.free[s]) << species_data(s).key;
        }
        const double expected = conductivity(whole).si();
        EXPECT_NEAR(conductivity(whole.total, celsius(t)).si(), expected, 0.004 * expected);
      }
    }
  }
}

// How a water's conductivity changes with temperature, against PHREEQC with phreeqc.dat, in a
// closed bottle (method A of phreeqc_results.csv): asked for, 1.5 %. Only the change: its values
// lie 4-16 % above those of natural waters, see docs/models/water.md.
TEST(Conductivity, temperature_factors_of_phreeqc) {
  const base::Csv table = base::reference_table("phreeqc_results.csv");
  int compared = 0;
  for (const char* name : {"W1", "W2", "W3", "W4"}) {
    double at_25 = 0;
    double reference_at_25 = 0;
    for (const double t : {25.0, 10.0, 35.0}) {
      std::size_t row = 0;
      while (table.text(row, "water") != name || table.text(row, "database") != "phreeqc.dat" ||
             table.text(row, "method")[0] != 'A' || table.number(row, "T_C") != t) {
        ++row;
      }
      Analysis a = reference_water(name);
      a.temperature = celsius(t);
      a.ph_temperature = celsius(25);
      const auto w = speciation(a);
      ASSERT_TRUE(w);
      const double value = microsiemens(conductivity(*w));
      const double reference = table.number(row, "SC_uS_cm_at_T");
      if (t == 25) {
        at_25 = value;
        reference_at_25 = reference;
        continue;
      }
      const double expected = reference_at_25 / reference;
      EXPECT_NEAR(at_25 / value, expected, 0.015 * expected) << name << " " << t;
      ++compared;
    }
  }
  EXPECT_EQ(compared, 8);
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
