#include "api/blend_question.h"

#include "api/question_test.h"

namespace drawoff::api {
namespace {

constexpr Question kAsk = question<BlendInput, BlendOutput, &ask_blend>("blend");

std::string text(const fields::Json& json, std::string_view key) {
  const auto found = json.find(key);
  const auto* s = found == json.end() ? nullptr : found->get_ptr<const std::string*>();
  return s == nullptr ? "" : *s;
}

TEST(BlendQuestion, says_how_far_and_how_long) {
  const auto out = output_of(kAsk, R"({"setting": {"raw": 600, "permeate": 20, "lag_min": 4}})");
  EXPECT_EQ(text(out, "standing"), "turn");
  EXPECT_GE(number_of(out, "wait_min"), 4);
  EXPECT_NE(text(out, "said").find("from shut"), std::string::npos);
}

// (55 − 20)/(600 − 20) and so on; with 14 L/h of permeate 14 s/(1 − s).
TEST(BlendQuestion, names_the_wanted_share_and_flow) {
  const auto out =
      output_of(kAsk, R"({"setting": {"raw": 600, "permeate": 20}, "permeate_flow_L_h": 14})");
  const auto share = out.find("wanted_share");
  ASSERT_NE(share, out.end());
  EXPECT_NEAR(number_of(*share, "low"), 100 * 35.0 / 580, 1e-9);
  EXPECT_NEAR(number_of(*share, "high"), 100 * 55.0 / 580, 1e-9);
  const auto flow = out.find("wanted_flow");
  ASSERT_NE(flow, out.end());
  EXPECT_NEAR(number_of(*flow, "middle"), 14 * 45.0 / 535, 1e-9);
}

// A quantity as the meter shows it: the same water on another scale gives the same shares.
TEST(BlendQuestion, reads_any_scale) {
  const auto out = output_of(
      kAsk, R"({"setting": {"raw": 840, "permeate": 28, "meter": {"scale": "seven_tenths"}}})");
  const auto share = out.find("wanted_share");
  ASSERT_NE(share, out.end());
  EXPECT_NEAR(number_of(*share, "low"), 100 * 35.0 / 580, 1e-9);
}

TEST(BlendQuestion, nobody_knows_the_water_allows_none) {
  const auto out = output_of(kAsk, R"({"setting": {"raw": 600, "permeate": 20},
      "survey": {"source": "borehole", "basis": "readings",
                 "known": {"temperature_C": 15, "meter": {"value": 600}}}})");
  EXPECT_EQ(text(out, "standing"), "not_permitted");
  EXPECT_EQ(number_of(out, "highest_share_pct"), 0);
  const auto limit = out.find("limit");
  ASSERT_NE(limit, out.end());
  EXPECT_EQ(text(*limit, "bound"), "unknown");
}

// The raw water that is read at the valve counts: where it is stronger than its survey, less of it
// brings the nitrate to the limit.
TEST(BlendQuestion, the_limit_is_that_of_the_water_that_was_read) {
  fields::Json site = example_site("school");
  fields::Json survey = body_of(site, "survey");
  fields::Json usual = fields::Json::array();
  for (const char* key : {"NO2", "Cu", "B", "U", "Cr", "Cd", "Ba", "Se", "Hg", "Ni"}) {
    usual.push_back({{"substance", key}, {"high_mg_L", 0.0002}});
  }
  survey["local"] = {{"name", "Valley"}, {"usual", usual}};
  const auto permitted = [&](double raw) {
    const fields::Json in = {{"setting", {{"raw", raw}, {"permeate", 31}}}, {"survey", survey}};
    return number_of(output_of(kAsk, in.dump()), "highest_share_pct");
  };
  EXPECT_LT(permitted(700), 0.8 * permitted(481));
  EXPECT_NEAR(permitted(300), permitted(481), 0.1 * permitted(481))
      << "a weaker day loosens nothing";
}

TEST(BlendQuestion, refuses_what_cannot_be) {
  EXPECT_NE(error_of(kAsk, R"({"setting": {"raw": 20, "permeate": 600}})").find("below"),
            std::string::npos);
  EXPECT_NE(error_of(kAsk, R"({"setting": {"raw": 600, "permeate": 20, "high_ppm": 56}})")
                .find("at least 57"),
            std::string::npos);
  EXPECT_NE(error_of(kAsk,
                     R"({"setting": {"raw": 600, "permeate": 20, "turns_open": 3,
                         "readings": [{"turns": 4, "product": 60}]}})")
                .find("full open"),
            std::string::npos);
  EXPECT_NE(error_of(kAsk,
                     R"({"setting": {"raw": 600, "permeate": 20}, "coldest_C": 20,
                         "hottest_C": 10})")
                .find("the right way round"),
            std::string::npos);
}

}  // namespace
}  // namespace drawoff::api
