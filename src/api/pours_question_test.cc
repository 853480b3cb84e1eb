#include "api/pours_question.h"

#include <gtest/gtest.h>

#include "api/question_test.h"

namespace drawoff::api {
namespace {

constexpr auto kPours = question<PoursInput, PoursOutput, &ask_pours>("pours");

TEST(PoursQuestion, gives_the_flow_in_the_unit_wanted) {
  const auto litres =
      output_of(kPours, R"({"pours": [{"volume_mL": 1000, "time_s": 60}], "jug_mark_mL": 50})");
  // The check value of visit/pours.h, to its printed digits.
  EXPECT_NEAR(number_of(litres["flow"], "middle"), 60, 1e-9);
  EXPECT_NEAR(number_of(litres["flow"], "low"), 58.501, 5e-4);
  EXPECT_NEAR(number_of(litres["flow"], "high"), 61.499, 5e-4);
  EXPECT_NEAR(number_of(litres["uncertainty"], "standard"), 60 * 0.015184, 5e-5);
  EXPECT_TRUE(litres["scatter_ratio"].is_null());
  const auto gallons = output_of(
      kPours,
      R"({"pours": [{"volume_mL": 1000, "time_s": 60}], "jug_mark_mL": 50, "unit": "gpd"})");
  EXPECT_NEAR(number_of(gallons["flow"], "middle"), 1440 / 3.785411784, 1e-9);
}

TEST(PoursQuestion, says_what_to_do_next) {
  const auto once = output_of(kPours, R"({"pours": [{"volume_mL": 500, "time_s": 30}]})");
  EXPECT_GT(number_of(once, "next_pour_s"), 30);
  EXPECT_EQ(once["doubts"].size(), 1U);
  const auto near =
      output_of(kPours, R"({"pours": [{"volume_mL": 500, "time_s": 30}], "target_pct": 20})");
  EXPECT_TRUE(near["next_pour_s"].is_null());
  const auto wild = output_of(kPours,
                              R"({"pours": [{"volume_mL": 900, "time_s": 60},
                                            {"volume_mL": 1000, "time_s": 60},
                                            {"volume_mL": 1100, "time_s": 60}],
                                  "jug_mark_mL": 5, "target_pct": 5})");
  EXPECT_TRUE(wild["next_pour_s"].is_null());
  EXPECT_GE(number_of(wild, "more_pours"), 1);
}

TEST(PoursQuestion, bad_input_is_named) {
  const auto said = [](std::string_view input) { return error_of(kPours, input); };
  EXPECT_EQ(said(R"({"pours": [{"volume_mL": 0, "time_s": 60}]})"),
            "pours[0].volume_mL is 0\u00A0mL; it must be from 1 to 1,000,000\u00A0mL. Enter the "
            "water caught.");
  EXPECT_EQ(said(R"({"pours": [{"volume_mL": 500, "time_s": -3}]})"),
            "pours[0].time_s is -3\u00A0s; it must be from 1 to 86,400\u00A0s. Enter how long it "
            "was caught.");
  EXPECT_NE(said(R"({"pours": []})").find("pours has 0 entries"), std::string::npos);
  EXPECT_EQ(said(R"({"pours": [{"volume_mL": 30, "time_s": 20}], "jug_mark_mL": 50})"),
            "jug_mark_mL is 50\u00A0mL, but pours[0].volume_mL is only 30\u00A0mL: less than one "
            "mark, so nothing was read. Pour at least up to the first mark, or enter the marks of "
            "the jug "
            "that was used.");
}

}  // namespace
}  // namespace drawoff::api
