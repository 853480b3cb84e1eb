#include "water/analysis.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <string>

#include "base/reference_table.h"
#include "water/carbonate.h"
#include "water/reference_waters_test.h"

namespace drawoff::water {
namespace {

using units::celsius;
using units::milligram_per_litre;

double mg_l(units::Density x) { return x / milligram_per_litre(1); }

void set(Analysis& a, Species s, double value) { a[s] = measured(milligram_per_litre(value)); }

// A published worked analysis (a lecture on Standard Methods 1030 E): cations 7.79, anions 7.56
// meq/L, 1.5 %; recomputed to four digits 7.786, 7.558, 1.48 %. Iron was reported as Fe(III) there
// and is carried as Fe2+ here: 0.002 meq/L; the text rounds its equivalent masses (61, 48, 62):
// 0.003 meq/L.
Analysis worked_analysis() {
  Analysis a;
  set(a, Species::Ca, 92.0);
  set(a, Species::Mg, 34.0);
  set(a, Species::Na, 8.2);
  set(a, Species::K, 1.4);
  set(a, Species::Fe, 0.1);
  set(a, Species::HCO3, 325);
  set(a, Species::SO4, 84);
  set(a, Species::Cl, 9.6);
  set(a, Species::NO3, 13);
  return a;
}

TEST(Analysis, balance_of_the_worked_analysis) {
  const Analysis a = worked_analysis();
  EXPECT_NEAR(reported_equivalents(a).cations.si(), 7.786, 0.002);
  EXPECT_NEAR(reported_equivalents(a).anions.si(), 7.558, 0.003);
  EXPECT_NEAR(charge_balance_error_pct(a), 1.48, 0.02);
}

// The trap of that text: 567.3 is the plain sum; 0.6 of the alkalinity as CaCO3 would give 402.1.
TEST(Analysis, dissolved_solids_are_the_plain_sum) {
  EXPECT_NEAR(mg_l(dissolved_solids(worked_analysis())), 567.3, 0.05);
}

// Sums computed with a spreadsheet, to the digits of the table.
TEST(Analysis, sums_of_the_reference_waters) {
  const base::Csv table = base::reference_table("phreeqc_inputs.csv");
  ASSERT_EQ(table.rows(), 4u);
  for (std::size_t row = 0; row < table.rows(); ++row) {
    const Analysis a = reference_water(table, row);
    EXPECT_NEAR(mg_l(dissolved_solids(a)), table.number(row, "sum_ions_mg_L"), 0.06) << row;
    EXPECT_NEAR(mg_l(residue(a)), table.number(row, "TDS180calc_mg_L"), 0.06) << row;
    EXPECT_NEAR(mg_l(hardness(a)), table.number(row, "hardness_mg_L_as_CaCO3"), 0.06) << row;
    EXPECT_NEAR(mg_l(alkalinity(a)), table.number(row, "Alk_mg_L_as_CaCO3"), 0.06) << row;
    EXPECT_NEAR(charge_balance_error_pct(a), table.number(row, "CBE_%"), 0.02) << row;
  }
}

// The speciated water carries exactly the charge that the report has: alkalinity is kept.
TEST(Analysis, speciation_keeps_alkalinity_and_charge) {
  const base::Csv table = base::reference_table("phreeqc_inputs.csv");
  for (std::size_t row = 0; row < table.rows(); ++row) {
    for (const double ph : {5.5, 7.0, 9.5}) {
      Analysis a = reference_water(table, row);
      a.ph = ph;
      const auto c = speciate(a);
      ASSERT_TRUE(c);
      EXPECT_NEAR(mg_l(alkalinity(*c)), mg_l(alkalinity(a)), 1e-6);
      const double reported = reported_equivalents(a).cations.si() - std::pow(10.0, 3.0 - ph) -
                              reported_equivalents(a).anions.si();
      const double free = (equivalents_cations(*c) - equivalents_anions(*c)).si();
      EXPECT_NEAR(free, reported, 1e-7);
    }
  }
}

// Plummer & Busenberg (1982) and K_w; the table carries three decimals.
TEST(Analysis, equilibrium_constants_of_the_reference_table) {
  const base::Csv table = base::reference_table("equilibrium_constants.csv");
  const auto expect_row = [&](const char* name, const LogK& k) {
    for (std::size_t row = 0; row < table.rows(); ++row) {
      if (table.text(row, "log10K") != name) continue;
      for (int t = 0; t <= 50; t += 5) {
        const double expected = table.number(row, std::to_string(t) + "_C");
        EXPECT_NEAR(k.at(celsius(t)), expected, 6e-4) << name << " " << t;
      }
      return;
    }
    ADD_FAILURE() << name;
  };
  expect_row("logK1", kLogK1);
  expect_row("logK2", kLogK2);
  expect_row("logKH", kLogKH);
  expect_row("logKw", kLogKw);
}

TEST(Analysis, below_detection_counts_half_and_stays_marked) {
  Analysis a = worked_analysis();
  const double before = mg_l(dissolved_solids(a));
  a[Species::F] = below(milligram_per_litre(0.2));
  EXPECT_NEAR(mg_l(dissolved_solids(a)) - before, 0.1, 1e-9);
  EXPECT_EQ(a[Species::F].report, Report::kBelow);
  const auto c = speciate(a);
  ASSERT_TRUE(c);
  EXPECT_NEAR((*c)[Species::F] * 18.9984, 0.1, 1e-9);
}

TEST(Analysis, alkalinity_in_place_of_bicarbonate_is_the_same_water) {
  Analysis a = worked_analysis();
  Analysis b = a;
  b[Species::HCO3] = {};
  b.alkalinity_as_calcium_carbonate = alkalinity(a);
  const auto ca = speciate(a);
  const auto cb = speciate(b);
  ASSERT_TRUE(ca);
  ASSERT_TRUE(cb);
  for (std::size_t i = 0; i < ca->mol_m3.size(); ++i) {
    EXPECT_NEAR(ca->mol_m3[i], cb->mol_m3[i], 1e-12);
  }
  EXPECT_NEAR(mg_l(dissolved_solids(a)), mg_l(dissolved_solids(b)), 1e-9);
  EXPECT_NEAR(charge_balance_error_pct(a), charge_balance_error_pct(b), 1e-9);
}

// A meter that read at 25 °C: the colder water has the pH of the closed bottle (PHREEQC method A).
TEST(Analysis, ph_read_at_another_temperature) {
  Analysis a = reference_water("W1");
  a.temperature = celsius(10);
  a.ph_temperature = celsius(25);
  const auto w = speciation(a);
  ASSERT_TRUE(w);
  EXPECT_NEAR(w->ph, 7.5166, 0.001);
  a.ph_temperature = a.temperature;
  EXPECT_DOUBLE_EQ(speciation(a)->ph, a.ph);
}

// An acid water without alkalinity: no carbonate is invented.
TEST(Analysis, no_alkalinity_means_no_carbonate) {
  Analysis a;
  a.ph = 4.07;
  set(a, Species::HCO3, 0);
  set(a, Species::Cl, 4.4);
  const auto c = speciate(a);
  ASSERT_TRUE(c);
  EXPECT_EQ((*c)[Species::HCO3], 0);
  EXPECT_EQ((*c)[Species::CO2], 0);
  EXPECT_GT((*c)[Species::H], 0.08);
}

TEST(Analysis, refuses_what_cannot_be) {
  const auto id_of = [](const Analysis& a) {
    const auto r = speciate(a);
    return r ? std::string("accepted") : r.error().message.id;
  };
  Analysis a = worked_analysis();
  EXPECT_EQ(id_of(a), "accepted");
  a.alkalinity_as_calcium_carbonate = milligram_per_litre(100);
  EXPECT_EQ(id_of(a), "water.alkalinity_twice");
  a = worked_analysis();
  a[Species::HCO3] = {};
  a.alkalinity_as_calcium_carbonate = milligram_per_litre(-1);
  EXPECT_EQ(id_of(a), "water.alkalinity_negative");
  a = worked_analysis();
  a.ph = 14.5;
  EXPECT_EQ(id_of(a), "water.ph_range");
  a.ph = std::numeric_limits<double>::quiet_NaN();
  EXPECT_EQ(id_of(a), "water.ph_range");
  a = worked_analysis();
  a.temperature = celsius(-1);
  EXPECT_EQ(id_of(a), "water.temperature_range");
  a = worked_analysis();
  set(a, Species::Cl, -0.1);
  EXPECT_EQ(id_of(a), "water.value_negative");
  // pH 11 alone needs 1 mmol/L of OH: 50 mg/L as CaCO3.
  a = worked_analysis();
  set(a, Species::HCO3, 10);
  a.ph = 11;
  EXPECT_EQ(id_of(a), "water.alkalinity_below_hydroxide");
}

TEST(Analysis, an_empty_report_has_no_balance_error) {
  EXPECT_EQ(charge_balance_error_pct(Analysis{}), 0.0);
  EXPECT_EQ(dissolved_solids(Analysis{}).si(), 0.0);
}

}  // namespace
}  // namespace drawoff::water
