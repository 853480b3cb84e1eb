#include "api/water_question.h"

#include <fmt/format.h>

#include "api/question_test.h"
#include "base/reference_table.h"
#include "water/pitzer.h"

namespace drawoff::api {
namespace {

constexpr Question kWater = question<water::AnalysisEntry, WaterOutput, &ask_water>("water");

std::string input_of(const base::Csv& table, std::size_t row) {
  std::string ions;
  for (const char* ion : {"Ca", "Mg", "Na", "K", "Ba", "Sr", "Cl", "SO4", "NO3", "F", "SiO2"}) {
    ions += fmt::format("\"{}\": {}, ", ion, table.text(row, std::string(ion) + "_mg_L"));
  }
  return fmt::format(R"({{"temperature_C": 25, "pH": {}, "ions_mg_L": {{{}"HCO3": {}}}}})",
                     table.text(row, "pH_25C"),
                     ions,
                     table.text(row, "Alk_mg_L_as_HCO3"));
}

// phreeqc_inputs.csv: sums of the report, to the digits of the table.
TEST(WaterQuestion, sums_of_the_report_match_the_table) {
  const auto table = base::reference_table("phreeqc_inputs.csv");
  ASSERT_EQ(table.rows(), 4U);
  for (std::size_t row = 0; row < table.rows(); ++row) {
    SCOPED_TRACE(table.text(row, "water"));
    const auto out = output_of(kWater, input_of(table, row));
    // Nominal molar masses of two or three decimals move the balance by about a hundredth.
    EXPECT_NEAR(number_of(out, "charge_balance_error_pct"), table.number(row, "CBE_%"), 0.02);
    EXPECT_NEAR(number_of(out, "tds_mg_L"), table.number(row, "sum_ions_mg_L"), 0.051);
    EXPECT_NEAR(number_of(out, "residue_mg_L"), table.number(row, "TDS180calc_mg_L"), 0.1);
    EXPECT_NEAR(number_of(out, "hardness_mg_L_CaCO3"),
                table.number(row, "hardness_mg_L_as_CaCO3"),
                5e-4 * table.number(row, "hardness_mg_L_as_CaCO3") + 0.05);
    EXPECT_NEAR(number_of(out, "alkalinity_mg_L_CaCO3"),
                table.number(row, "Alk_mg_L_as_CaCO3"),
                5e-4 * table.number(row, "Alk_mg_L_as_CaCO3") + 0.05);
  }
}

// phreeqc_results.csv (PHREEQC with phreeqc.dat, 25 °C): a speciation with ion pairs. Without
// pairs in the speciation ionic strength comes out higher by the pairs' share, which grows with
// calcium and sulfate: up to 3 % in drinking water, a quarter in the gypsum water. The two laws of
// conductivity differ by 5 % on drinking waters (ours is nearer the measured ones of
// data/reference/open); on the gypsum water ours is 13 % lower, which no measurement here settles.
TEST(WaterQuestion, solution_matches_an_independent_speciation) {
  const auto inputs = base::reference_table("phreeqc_inputs.csv");
  const auto results = base::reference_table("phreeqc_results.csv");
  int compared = 0;
  for (std::size_t row = 0; row < results.rows(); ++row) {
    if (results.text(row, "database") != "phreeqc.dat" || results.text(row, "T_C") != "25" ||
        results.text(row, "method") != "B_pH_and_alk_given_at_T") {
      continue;
    }
    SCOPED_TRACE(results.text(row, "water"));
    for (std::size_t in = 0; in < inputs.rows(); ++in) {
      if (inputs.text(in, "water") != results.text(row, "water")) continue;
      ++compared;
      const bool gypsum = inputs.text(in, "water") == "W4";
      const auto out = output_of(kWater, input_of(inputs, in));
      EXPECT_NEAR(
          number_of(out, "ionic_strength_mol_L") / results.number(row, "ionic_strength_mol_kgw"),
          1,
          gypsum ? 0.27 : 0.035);
      EXPECT_NEAR(number_of(out, "conductivity_25_uS_cm") / results.number(row, "SC_uS_cm_at_T"),
                  1,
                  gypsum ? 0.14 : 0.05);
      EXPECT_EQ(number_of(out, "conductivity_uS_cm"), number_of(out, "conductivity_25_uS_cm"));
      EXPECT_NEAR(number_of(out, "CO2_mg_L") / results.number(row, "CO2aq_mg_L"), 1, 0.05);
      EXPECT_NEAR(number_of(out, "density_kg_m3") / (1e3 * results.number(row, "density_kg_L")),
                  1,
                  water::kSolutionDensityRelativeError);
    }
  }
  EXPECT_EQ(compared, 4);
}

// IAPWS 2008 at 25 °C: 0.8900 mPa·s. [iapws2008]
TEST(WaterQuestion, viscosity_is_that_of_pure_water) {
  const auto out =
      output_of(kWater, R"({"temperature_C": 25, "pH": 7, "ions_mg_L": {"Na": 2000, "Cl": 3000}})");
  EXPECT_NEAR(number_of(out, "viscosity_mPa_s"), 0.8900, 5e-4);
}

TEST(WaterQuestion, a_report_of_nothing_is_no_water) {
  const auto said = error_of(kWater, R"({"temperature_C": 25, "pH": 7, "ions_mg_L": {}})");
  EXPECT_NE(said.find("ions_mg_L names no substance"), std::string::npos) << said;
  output_of(kWater, R"({"temperature_C": 25, "pH": 7, "ions_mg_L": {},
      "alkalinity_mg_L_CaCO3": 20})");
}

TEST(WaterQuestion, what_was_not_analysed_is_null) {
  const auto bare =
      output_of(kWater, R"({"temperature_C": 15, "pH": 7, "ions_mg_L": {"Ca": 40, "Cl": 62}})");
  for (const char* key : {"hardness_mg_L_CaCO3", "alkalinity_mg_L_CaCO3", "CO2_mg_L"}) {
    ASSERT_TRUE(bare.contains(key)) << key;
    EXPECT_TRUE(bare[key].is_null()) << key;
  }
  // Looked for and absent is a number.
  const auto looked = output_of(kWater, R"({"temperature_C": 15, "pH": 7,
      "ions_mg_L": {"Ca": 40, "Mg": 0, "Cl": 62}, "alkalinity_mg_L_CaCO3": 20})");
  EXPECT_NEAR(number_of(looked, "hardness_mg_L_CaCO3"), 40 * 100.0869 / 40.078, 1e-3);
  EXPECT_NEAR(number_of(looked, "alkalinity_mg_L_CaCO3"), 20, 1e-9);
  EXPECT_GT(number_of(looked, "CO2_mg_L"), 0);
  const auto none = output_of(kWater, R"({"temperature_C": 15, "pH": 5,
      "ions_mg_L": {"Na": 40, "Cl": 62}, "alkalinity_mg_L_CaCO3": 0})");
  EXPECT_EQ(number_of(none, "alkalinity_mg_L_CaCO3"), 0);
  EXPECT_TRUE(none["CO2_mg_L"].is_null());
}

TEST(WaterQuestion, below_a_limit_counts_half_of_it) {
  const auto with = [](const char* iron) {
    return number_of(output_of(kWater,
                               fmt::format(R"({{"temperature_C": 15, "pH": 7,
                                  "ions_mg_L": {{"Na": 40, "Cl": 62, "Fe": {}}}}})",
                                           iron)),
                     "tds_mg_L");
  };
  EXPECT_NEAR(with(R"({"lt": 0.5})") - with("0"), 0.25, 1e-9);
}

TEST(WaterQuestion, alkalinity_given_twice_is_named) {
  const auto sentence = error_of(kWater, R"({"temperature_C": 15, "pH": 7,
      "ions_mg_L": {"HCO3": 100}, "alkalinity_mg_L_CaCO3": 82})");
  EXPECT_NE(sentence.find("alkalinity_mg_L_CaCO3"), std::string::npos) << sentence;
}

}  // namespace
}  // namespace drawoff::api
