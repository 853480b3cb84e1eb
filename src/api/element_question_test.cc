#include "api/element_question.h"

#include <fmt/format.h>

#include <cmath>
#include <map>
#include <string>

#include "api/question_test.h"
#include "base/reference_table.h"

namespace drawoff::api {
namespace {

constexpr Question kElement = question<ElementInput, ElementOutput, &ask_element>("element");

std::string with(std::string_view changes) {
  return fmt::format(R"({{"water_permeability_L_m2_h_bar": 4.2, "salt_permeability_L_m2_h": 0.6,
      "feed_flow_L_h": 40, "feed_pressure_bar": 5, {}}})",
                     changes);
}

// spiral_element.csv: the element's differential equations to 1e-10, six digits. Three Gauss points
// agree with a fine grid to 0.01 %; the table gives four digits of the pressure loss.
TEST(ElementQuestion, reproduces_the_integrated_element) {
  constexpr double kThreePoints = 1e-4;
  const auto table = base::reference_table("spiral_element.csv");
  ASSERT_EQ(table.rows(), 2U);
  for (std::size_t row = 0; row < table.rows(); ++row) {
    SCOPED_TRACE(row);
    auto text = [&](const char* name) { return table.text(row, name); };
    const auto out = output_of(
        kElement,
        fmt::format(
            R"({{"channel": {{"area_m2": {}, "length_m": {}, "height_mm": {}, "porosity": {}}},
            "water_permeability_L_m2_h_bar": {}, "salt_permeability_L_m2_h": {},
            "water_temperature_coefficient_K": 0, "salt_temperature_coefficient_K": 0,
            "salt_mg_L": {}, "temperature_C": {}, "feed_flow_L_h": {}, "feed_pressure_bar": {},
            "permeate_pressure_bar": {}, "mass_transfer_law": "schock_miquel",
            "osmotic": "van_t_hoff"}})",
            text("area_m2"),
            text("L_m"),
            1e3 * table.number(row, "h_m"),
            text("porosity"),
            text("A_L_m2_h_bar"),
            text("B_L_m2_h"),
            text("cf_mg_L_NaCl"),
            text("T_C"),
            text("Qf_L_h"),
            text("Pf_bar"),
            text("Pp_bar")));
    EXPECT_EQ(out["status"], "solved");
    auto agrees = [&](const char* key, const char* column, double factor, double tolerance) {
      EXPECT_NEAR(number_of(out, key) / (factor * table.number(row, column)), 1, tolerance) << key;
    };
    agrees("permeate_flow_L_h", "Qp_L_h", 1, kThreePoints);
    agrees("recovery_pct", "recovery", 100, kThreePoints);
    agrees("reject_mg_L", "c_conc_mg_L", 1, kThreePoints);
    agrees("permeate_mg_L", "c_perm_mg_L", 1, kThreePoints);
    agrees("rejection_pct", "rejection", 100, kThreePoints);
    agrees("pressure_loss_bar", "dP_bar", 1, 2e-4);
  }
}

TEST(ElementQuestion, flows_and_strengths_agree_with_one_another) {
  const auto out = output_of(kElement, with(R"("size": "2012", "salt_mg_L": 800)"));
  const double permeate = number_of(out, "permeate_flow_L_h");
  const double reject = number_of(out, "reject_flow_L_h");
  // Conservative by construction: to the rounding of a few operations.
  EXPECT_NEAR((permeate + reject) / 40, 1, 1e-13);
  EXPECT_NEAR(
      (permeate * number_of(out, "permeate_mg_L") + reject * number_of(out, "reject_mg_L")) /
          (40 * 800),
      1,
      1e-13);
  EXPECT_NEAR(
      number_of(out, "rejection_pct") + number_of(out, "permeate_strength_pct"), 100, 1e-12);
  EXPECT_NEAR(number_of(out, "flux_L_m2_h") * 0.5, permeate, 1e-12 * permeate);  // 0.5 m², sizes
  EXPECT_GT(number_of(out, "wall_strength_pct"), number_of(out, "reject_strength_pct"));
}

// A sodium chloride solution is the same water whether named by its salt or by its ions (Na 39.34 %
// by mass). At pH 7 its H and OH of 1e-4 mol/m³ are a ten-thousandth of 0.5 g/L of salt in all.
TEST(ElementQuestion, analysis_of_a_salt_solution_is_the_salt_solution) {
  const auto salt = output_of(kElement, with(R"("size": "2540", "salt_mg_L": 500)"));
  const auto ions = output_of(kElement, with(R"("size": "2540", "water": {"temperature_C": 25,
      "pH": 7, "ions_mg_L": {"Na": 196.69, "Cl": 303.31}})"));
  for (const char* key : {"permeate_flow_L_h", "permeate_strength_pct", "polarisation"}) {
    EXPECT_NEAR(number_of(ions, key) / number_of(salt, key), 1, 1e-4) << key;
  }
  EXPECT_TRUE(ions["permeate_mg_L"].is_null());
  EXPECT_TRUE(ions["reject_mg_L"].is_null());
}

// Each species by itself: those of two charges are held back more than those of one, nitrate passes
// more than sulfate, carbon dioxide passes freely and the permeate is the sourer for it.
TEST(ElementQuestion, species_of_an_analysis_pass_by_themselves) {
  const auto out = output_of(kElement, with(R"("size": "2012", "water": {"temperature_C": 25,
      "pH": 7.3, "ions_mg_L": {"Ca": 100, "Mg": 22, "Na": 37, "HCO3": 330, "Cl": 50, "SO4": 58,
      "NO3": 30, "SiO2": 15, "B": 0.1}})"));
  std::map<std::string, double> passage;
  for (const auto& s : out["species"]) {
    passage[s["species"].get<std::string>()] = number_of(s, "passage_pct");
    const double permeate = number_of(out, "permeate_flow_L_h");
    const double reject = number_of(out, "reject_flow_L_h");
    // What goes in comes out: to the rounding of sums.
    EXPECT_NEAR((permeate * number_of(s, "permeate_mg_L") + reject * number_of(s, "reject_mg_L")) /
                    (40 * number_of(s, "feed_mg_L")),
                1,
                1e-12)
        << s["species"];
  }
  EXPECT_LT(passage["SO4"], passage["Cl"]);
  EXPECT_LT(passage["Cl"], passage["NO3"]);
  EXPECT_LT(passage["Ca"], passage["Na"]);
  EXPECT_GT(passage["B"], 50);
  EXPECT_NEAR(passage["CO2"], 100, 1e-9);
  EXPECT_LT(number_of(out, "permeate_pH"), 6.5);
  EXPECT_GT(number_of(out, "reject_pH"), 7.3);
  EXPECT_EQ(out["profile"].size(), 3U);
}

// Where salt opposes nothing and passes little, the flow follows A alone: K 2500 K at 10 °C gives
// 0.641 (water_iapws.csv, three digits). 1 mg/L has 0.0008 bar; friction of the channel is what is
// left of a difference.
TEST(ElementQuestion, permeability_follows_the_water_temperature) {
  const auto flow = [](const char* more) {
    return number_of(output_of(kElement,
                               with(fmt::format(R"("size": "2012", "salt_mg_L": 1,
                      "water_temperature_coefficient_K": 2500, {})",
                                                more))),
                     "permeate_flow_L_h");
  };
  EXPECT_NEAR(flow(R"("temperature_C": 10)") / flow(R"("temperature_C": 25)"), 0.641, 2e-3);
}

// Absent, the temperature is that of the analysis.
TEST(ElementQuestion, takes_the_temperature_of_the_analysis) {
  const auto flow = [](const char* analysis, const char* more) {
    return number_of(output_of(kElement,
                               with(fmt::format(R"("size": "2012", "water": {{"temperature_C": {},
                      "pH": 7, "ions_mg_L": {{"Na": 100, "Cl": 154}}}}{})",
                                                analysis,
                                                more))),
                     "permeate_flow_L_h");
  };
  EXPECT_EQ(flow("12", ""), flow("12", R"(, "temperature_C": 12)"));
  EXPECT_LT(flow("12", ""), 0.9 * flow("25", ""));
}

TEST(ElementQuestion, used_up_stream_is_a_status) {
  const auto out = output_of(kElement, R"({"size": "2540", "water_permeability_L_m2_h_bar": 5,
      "salt_permeability_L_m2_h": 0.3, "salt_mg_L": 500, "feed_flow_L_h": 2,
      "feed_pressure_bar": 8})");
  EXPECT_EQ(out["status"], "exhausted");
  EXPECT_EQ(out.size(), 17U);
  for (const auto& [key, value] : out.items()) {
    EXPECT_TRUE(key == "status" || value.is_null() || value.empty()) << key;
  }
}

TEST(ElementQuestion, contradictions_are_named) {
  const auto expect_names = [](const std::string& sentence, const char* one, const char* other) {
    EXPECT_NE(sentence.find(one), std::string::npos) << sentence;
    EXPECT_NE(sentence.find(other), std::string::npos) << sentence;
  };
  constexpr auto kChannel = R"("channel": {"area_m2": 2.6, "length_m": 0.85, "height_mm": 0.7})";
  expect_names(
      error_of(kElement, with(fmt::format(R"("size": "2012", "salt_mg_L": 500, {})", kChannel))),
      "size",
      "channel are both given");
  expect_names(error_of(kElement, with(R"("salt_mg_L": 500)")), "size", "channel are both missing");
  expect_names(
      error_of(kElement, with(R"("size": "2012")")), "salt_mg_L", "water are both missing");
  expect_names(error_of(kElement, with(R"("size": "2012", "salt_mg_L": 500, "water":
                   {"temperature_C": 25, "pH": 7, "ions_mg_L": {"Na": 10}})")),
               "salt_mg_L",
               "water are both given");
  expect_names(
      error_of(kElement, with(R"("size": "2012", "salt_mg_L": 500, "permeate_pressure_bar": 6)")),
      "permeate_pressure_bar is 6",
      "5");
  expect_names(error_of(kElement, with(R"("size": "2013", "salt_mg_L": 500)")), "2013", "2012");
}

}  // namespace
}  // namespace drawoff::api
