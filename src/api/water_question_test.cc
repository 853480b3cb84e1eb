#include "api/water_question.h"

#include <fmt/format.h>

#include <cmath>
#include <string>
#include <utility>

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

// PHREEQC with wateq4f.dat, four waters at 10, 25, 35 °C, as of the temperature (method B) and
// told at 25 °C and warmed or cooled in a closed bottle (A). Asked for: indices 0.05 (barite,
// gypsum, celestite 0.1), ionic strength 1 % with 0.3 % more for mol/L against mol/kg, pH 0.02.
TEST(WaterQuestion, reproduces_phreeqc) {
  const auto inputs = base::reference_table("phreeqc_inputs.csv");
  const auto results = base::reference_table("phreeqc_results.csv");
  int compared = 0;
  for (std::size_t row = 0; row < results.rows(); ++row) {
    if (results.text(row, "database") != "wateq4f.dat") continue;
    SCOPED_TRACE(results.text(row, "water") + " " + results.text(row, "method") + " " +
                 results.text(row, "T_C"));
    std::size_t in = 0;
    while (inputs.text(in, "water") != results.text(row, "water")) ++in;
    auto input = *fields::parse_json(input_of(inputs, in));
    input["temperature_C"] = results.number(row, "T_C");
    if (results.text(row, "method")[0] == 'A') input["pH_at_C"] = 25;
    const auto out = output_of(kWater, input.dump());
    EXPECT_NEAR(number_of(out, "pH"), results.number(row, "pH"), 0.001);
    EXPECT_NEAR(
        number_of(out, "ionic_strength_mol_L") / results.number(row, "ionic_strength_mol_kgw"),
        1,
        0.013);
    EXPECT_NEAR(number_of(out, "CO2_mg_L") / results.number(row, "CO2aq_mg_L"), 1, 0.01);
    EXPECT_NEAR(number_of(out, "density_kg_m3") / (1e3 * results.number(row, "density_kg_L")),
                1,
                water::kSolutionDensityRelativeError);
    for (const auto& [key, column] : {std::pair{"calcite", "SI_calcite"},
                                      std::pair{"aragonite", "SI_aragonite"},
                                      std::pair{"gypsum", "SI_gypsum"},
                                      std::pair{"barite", "SI_barite"},
                                      std::pair{"celestite", "SI_celestite"},
                                      std::pair{"fluorite", "SI_fluorite"},
                                      std::pair{"silica", "SI_SiO2_am"}}) {
      EXPECT_NEAR(number_of(out["saturation_index"], key), results.number(row, column), 0.006)
          << key;
    }
    ++compared;
  }
  EXPECT_EQ(compared, 24);
}

// The potential too, of the closed bottle: 3 % or 0.5 mg/L.
TEST(WaterQuestion, precipitation_potential_of_phreeqc) {
  const auto inputs = base::reference_table("phreeqc_inputs.csv");
  const auto table = base::reference_table("phreeqc_ccpp.csv");
  int compared = 0;
  for (std::size_t row = 0; row < table.rows(); ++row) {
    if (table.text(row, "database") != "wateq4f.dat") continue;
    std::size_t in = 0;
    while (inputs.text(in, "water") != table.text(row, "water")) ++in;
    auto input = *fields::parse_json(input_of(inputs, in));
    input["temperature_C"] = table.number(row, "T_C");
    input["pH_at_C"] = 25;
    const auto out = output_of(kWater, input.dump());
    const double expected = table.number(row, "CCPP_mg_L_as_CaCO3");
    EXPECT_NEAR(
        number_of(out, "ccpp_mg_L_CaCO3"), expected, std::fmax(0.5, 0.03 * std::abs(expected)))
        << table.text(row, "water") << " " << table.text(row, "T_C");
    ++compared;
  }
  EXPECT_EQ(compared, 12);
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
  for (const char* key : {"langelier_index", "ryznar_index", "ccpp_mg_L_CaCO3"}) {
    EXPECT_TRUE(bare[key].is_null()) << key;
  }
  for (const auto& [mineral, index] : bare["saturation_index"].items()) {
    EXPECT_TRUE(index.is_null()) << mineral;
  }
  EXPECT_EQ(bare["saturation_index"].size(), 7U);
  // Looked for and absent is a number.
  const auto looked = output_of(kWater, R"({"temperature_C": 15, "pH": 7,
      "ions_mg_L": {"Ca": 40, "Mg": 0, "Cl": 62}, "alkalinity_mg_L_CaCO3": 20})");
  EXPECT_NEAR(number_of(looked, "hardness_mg_L_CaCO3"), 40 * 100.0869 / 40.078, 1e-3);
  EXPECT_NEAR(number_of(looked, "alkalinity_mg_L_CaCO3"), 20, 1e-9);
  EXPECT_GT(number_of(looked, "CO2_mg_L"), 0);
  EXPECT_LT(number_of(looked["saturation_index"], "calcite"), 0);
  EXPECT_NEAR(
      number_of(looked, "langelier_index"), number_of(looked["saturation_index"], "calcite"), 1e-9);
  EXPECT_LT(number_of(looked, "ccpp_mg_L_CaCO3"), 0);
  EXPECT_TRUE(looked["saturation_index"]["gypsum"].is_null());
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
