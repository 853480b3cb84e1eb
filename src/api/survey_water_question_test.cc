#include "api/survey_water_question.h"

#include <cmath>
#include <string>

#include "api/question_test.h"
#include "water/analysis_entry.h"

namespace drawoff::api {
namespace {

constexpr Question kSurveyWater =
    question<SurveyWaterInput, SurveyWaterOutput, &ask_survey_water>("survey-water");

constexpr const char* kFiveReadings = R"({"water": {"temperature_C": 18, "on": "2026-11-27",
    "meter": {"value": 410, "unit": "ppm"}, "pH": {"value": 7.4},
    "hardness": {"value_mg_L": 240}, "alkalinity": {"low_mg_L": 120, "high_mg_L": 240},
    "nitrate": {"low_mg_L": 10, "high_mg_L": 25, "lot": "A1", "expires": "2027-03"}}})";

const fields::Json& row_of(const fields::Json& rows, std::string_view name) {
  static const fields::Json none = fields::Json::object();
  for (const auto& row : rows) {
    if (row["of"] == name) return row["likely"];
  }
  ADD_FAILURE() << name;
  return none;
}

// 410 ppm on the half scale are 820 µS/cm.
TEST(SurveyWaterQuestion, intervals_hold_the_readings) {
  const auto out = output_of(kSurveyWater, kFiveReadings);
  const auto& conductivity = row_of(out["water"], "conductivity_25");
  EXPECT_LT(number_of(conductivity, "low"), 820);
  EXPECT_GT(number_of(conductivity, "high"), 820);
  const auto& hardness = row_of(out["water"], "hardness");
  EXPECT_NEAR(number_of(hardness, "middle"), 240, 20);
  const auto& sodium = row_of(out["species"], "Na");
  EXPECT_GT(number_of(sodium, "low"), 0);
  EXPECT_LT(number_of(sodium, "low"), number_of(sodium, "middle"));
  EXPECT_LT(number_of(sodium, "middle"), number_of(sodium, "high"));
  EXPECT_LT(number_of(row_of(out["saturation_index"], "calcite"), "low"), 0.3);
  ASSERT_EQ(out["readings"].size(), 5U);
  for (const auto& reading : out["readings"]) EXPECT_EQ(reading["fits"], true) << reading;
  EXPECT_TRUE(out["doubts"].empty()) << out["doubts"];
  EXPECT_TRUE(out["members"].empty());
}

// Each member goes into `calc water` as it is, and its charges balance there.
TEST(SurveyWaterQuestion, members_are_analyses) {
  auto input = *fields::parse_json(kFiveReadings);
  input["members"] = true;
  const auto out = output_of(kSurveyWater, input.dump());
  ASSERT_EQ(out["members"].size(), 64U);
  for (const auto& member : out["members"]) {
    fields::ReadContext context;
    const auto entry = fields::read<water::AnalysisEntry>(member, context);
    ASSERT_TRUE(entry);
    EXPECT_NEAR(water::charge_balance_error_pct(water::analysis_of(*entry)), 0, 0.5);
  }
}

TEST(SurveyWaterQuestion, doubts_are_sentences) {
  const auto doubts_of = [](const char* water) {
    const auto out = output_of(kSurveyWater, std::string(R"({"water": )") + water + "}");
    std::string all;
    for (const auto& doubt : out["doubts"]) all += doubt.get_ref<const std::string&>() + "\n";
    return all;
  };
  // 300 µS/cm carry no 900 mg/L of hardness.
  const std::string odd = doubts_of(R"({"temperature_C": 18, "meter": {"value": 300,
      "unit": "uS_cm"}, "hardness": {"value_mg_L": 900}})");
  EXPECT_NE(odd.find("does not fit the other readings"), std::string::npos) << odd;
  const std::string old = doubts_of(R"({"temperature_C": 18, "on": "2026-11-27",
      "meter": {"value": 300}, "iron": {"high_mg_L": 0.1, "expires": "2026-10"}})");
  EXPECT_NE(old.find("Iron: the strip or kit was good until 2026-10"), std::string::npos) << old;
  const std::string bare = doubts_of(R"({"temperature_C": 18, "pH": {"value": 7}})");
  EXPECT_NE(bare.find("no meter reading"), std::string::npos) << bare;
}

TEST(SurveyWaterQuestion, what_cannot_be_is_refused) {
  const auto said = [](const char* rest) {
    return error_of(kSurveyWater, std::string(R"({"water": {"temperature_C": 18)") + rest + "}}");
  };
  const auto has = [](const std::string& text, const char* part) {
    EXPECT_NE(text.find(part), std::string::npos) << text;
  };
  has(said(""), "holds no reading");
  has(said(R"(, "meter": {"value": 300, "unit": "bar"})"), "unit");
  has(said(R"(, "meter": {"value": 0})"), "water.meter.value");
  has(said(R"(, "hardness": {})"), "either water.hardness.value_mg_L");
  has(said(R"(, "hardness": {"value_mg_L": 5, "low_mg_L": 1})"),
      "either water.hardness.value_mg_L");
  has(said(R"(, "iron": {"low_mg_L": 5, "high_mg_L": 1})"), "not above water.iron.low_mg_L");
  has(said(R"(, "iron": {"low_mg_L": 0})"), "the strip says nothing");
  has(said(R"(, "iron": {"value_mg_L": 1, "expires": "soon"})"), "is not a date");
  has(said(R"(, "pH": {"value": 7}, "on": "2026-13-01")"), "is not a date");
}

}  // namespace
}  // namespace drawoff::api
