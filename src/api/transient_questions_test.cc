#include "api/fill_question.h"

#include <gtest/gtest.h>

#include "api/flush_question.h"
#include "api/question_test.h"
#include "api/rest_question.h"

namespace drawoff::api {
namespace {

using fields::Json;

constexpr auto kFill = question<FillInput, FillOutput, &ask_fill>("fill");
constexpr auto kFlush = question<FlushInput, FlushOutput, &ask_flush>("flush");
constexpr auto kRest = question<RestInput, RestOutput, &ask_rest>("rest");

// A hard well and a booster unit; values of ours.
Json school() {
  return {{"survey",
           {{"source", "borehole"},
            {"water",
             {{"temperature_C", 16},
              {"pH", 7.3},
              {"ions_mg_L",
               {{"Ca", 118},
                {"Mg", 24},
                {"Na", 46},
                {"HCO3", 352},
                {"Cl", 62},
                {"SO4", 74},
                {"NO3", 58}}}}}}},
          {"machine",
           {{"supply", {{"pressure_bar", 2.8}, {"tube", {{"bore_mm", 9.5}}}}},
            {"filters", {{{"kind", "sediment"}}, {{"kind", "carbon"}}, {{"kind", "polish"}}}},
            {"solenoid", Json::object()},
            {"pump",
             {{"open_flow_L_h", 420},
              {"rated_flow_L_h", 300},
              {"rated_pressure_bar", 5.5},
              {"bypass_pressure_bar", 7.5}}},
            {"element",
             {{"size", "2540"},
              {"permeate_flow_L_h", 110},
              {"rejection_pct", 97},
              {"test_pressure_bar", 7.6}}},
            {"restrictor", {{"flow_mL_min", 3300}, {"pressure_bar", 7}}},
            {"blend", {{"full_open_flow_L_h", 30}, {"opening_pct", 18}}},
            {"high_pressure_switch", {{"cut_out_bar", 2.5}, {"cut_in_bar", 1.6}}},
            {"product",
             {{"tube", {{"bore_mm", 6.35}}},
              {"vessel", "tank"},
              {"volume_L", 12},
              {"precharge_bar", 0.5}}},
            {"housing_rating_bar", 12}}},
          {"draws", 60}};
}

std::string text(const Json& json) { return fields::dump(json); }
double middle(const Json& output, const char* key) { return number_of(output[key], "middle"); }
bool remarks(const Json& output, std::string_view id) {
  for (const Json& remark : output["remarks"]) {
    if (*remark.get_ptr<const std::string*>() == id) return true;
  }
  return false;
}
std::string string_of(const Json& output, const char* key) {
  const auto* found = output[key].get_ptr<const std::string*>();
  return found == nullptr ? "" : *found;
}

TEST(FillQuestion, a_tank_fills_to_the_switch) {
  const Json out = output_of(kFill, text(school()));
  EXPECT_EQ(string_of(out, "end"), "switch");
  EXPECT_TRUE(remarks(out, "transient.fill.switch"));
  EXPECT_FALSE(remarks(out, "transient.fill.reject_runs"));
  for (const char* key : {"time", "volume", "strength", "quality", "rejected"}) {
    EXPECT_LT(number_of(out[key], "low"), middle(out, key)) << key;
    EXPECT_LT(middle(out, key), number_of(out[key], "high")) << key;
  }
  // Boyle: at most what 2.5 bar hold in 12 L at 0.5 bar (3.51 bar absolute): 6.83 L.
  EXPECT_LT(middle(out, "volume"), 6.83);
  EXPECT_GT(middle(out, "volume"), 5);
  ASSERT_EQ(out["course"].size(), 4U);
  EXPECT_NEAR(number_of(out["course"][3], "filled_pct"), 100, 1e-9);
  for (std::size_t i = 1; i < 4; ++i) {
    EXPECT_LT(number_of(out["course"][i], "flow_L_h"), number_of(out["course"][i - 1], "flow_L_h"));
  }
}

TEST(FillQuestion, content_shortens_it_and_a_missing_switch_is_said) {
  Json in = school();
  const double empty = middle(output_of(kFill, text(in)), "time");
  in["content_L"] = 3;
  EXPECT_LT(middle(output_of(kFill, text(in)), "time"), empty);
  in["machine"].erase("high_pressure_switch");
  const Json out = output_of(kFill, text(in));
  EXPECT_EQ(string_of(out, "end"), "flow_ends");
  EXPECT_TRUE(remarks(out, "transient.fill.flow_ends"));
  EXPECT_TRUE(remarks(out, "transient.fill.reject_runs"));
  EXPECT_TRUE(remarks(out, "transient.fill.pump_runs"));
  EXPECT_GT(middle(out, "reject_after"), 0);
}

TEST(FillQuestion, a_cooler_behind_a_switch_hunts_without_a_tank) {
  Json in = school();
  in["machine"]["product"] = {{"vessel", "cooler"}, {"volume_L", 0.2}};
  const Json out = output_of(kFill, text(in));
  EXPECT_TRUE(remarks(out, "transient.fill.hunts")) << out.dump();
  EXPECT_GT(number_of(out, "tank_to_cure_L"), 0);
}

TEST(FillQuestion, a_weak_supply_makes_the_low_pressure_switch_hunt) {
  Json in = school();
  in["machine"]["supply"]["pressure_bar"] = 1.5;
  in["machine"]["supply"]["tube"] = {{"bore_mm", 5}, {"length_m", 12}};
  in["machine"]["low_pressure_switch"] = {{"cut_out_bar", 0.5}, {"cut_in_bar", 1.0}};
  const Json out = output_of(kFill, text(in));
  EXPECT_EQ(string_of(out, "low_switch"), "hunts");
  EXPECT_TRUE(remarks(out, "transient.fill.low_switch_hunts"));
  in["machine"]["low_pressure_switch"] = {{"cut_out_bar", 0.5}, {"cut_in_bar", 2.0}};
  EXPECT_TRUE(remarks(output_of(kFill, text(in)), "transient.fill.low_switch_holds"));
}

TEST(FillQuestion, a_vessel_holds_no_more_than_itself) {
  Json in = school();
  in["machine"]["product"] = {{"vessel", "open_tank"}, {"volume_L", 20}};
  in["content_L"] = 20;
  output_of(kFill, text(in));
  in["content_L"] = 20.1;
  const auto said = error_of(kFill, text(in));
  EXPECT_NE(said.find("the vessels behind this machine hold 20"), std::string::npos) << said;
}

TEST(FillQuestion, what_cannot_run_says_why) {
  Json in = school();
  in["machine"].erase("pump");
  in["machine"].erase("high_pressure_switch");
  in["machine"]["supply"]["pressure_bar"] = 0;
  in["machine"]["drain"]["height_m"] = 5;
  for (const Question& q : {kFill, kFlush, kRest}) {
    in["residue"] = "sanitiser";
    in["condition"] = {{"rest_before_h", 1}};
    const Json out = output_of(q, text(in));
    EXPECT_EQ(string_of(out, "outcome"), "nothing_flows");
    EXPECT_TRUE(remarks(out, "job.outcome.nothing_flows"));
  }
}

TEST(FillQuestion, bad_input_is_named) {
  Json in = school();
  in["content_L"] = -1;
  EXPECT_NE(error_of(kFill, text(in)).find("content_L"), std::string::npos);
  in = school();
  in["condition"] = {{"product_to", "bucket"}};
  EXPECT_NE(error_of(kFill, text(in)).find("bucket"), std::string::npos);
}

TEST(FlushQuestion, more_must_pass_to_leave_less) {
  Json in = school();
  in["residue"] = "preservative";
  in["left_pct"] = 1;
  const Json some = output_of(kFlush, text(in));
  in["left_pct"] = 0.01;
  const Json most = output_of(kFlush, text(in));
  for (const char* side : {"feed", "product"}) {
    EXPECT_LT(middle(some[side], "volume"), middle(most[side], "volume")) << side;
  }
  EXPECT_GE(middle(most, "time"), middle(most["product"], "time") - 1e-9);
  EXPECT_TRUE(remarks(most, "transient.flush.discard_first_fill"));
}

TEST(FlushQuestion, a_blend_change_shows_later_through_a_cooler) {
  Json in = school();
  in["residue"] = "blend_change";
  in["left_pct"] = 5;
  const Json tube = output_of(kFlush, text(in));
  EXPECT_TRUE(tube["feed"].is_null());
  in["condition"] = {{"product_to", "cooler"}};
  EXPECT_GT(middle(output_of(kFlush, text(in)), "time"), middle(tube, "time"));
}

TEST(FlushQuestion, bad_input_is_named) {
  Json in = school();
  EXPECT_NE(error_of(kFlush, text(in)).find("residue"), std::string::npos);
  in["residue"] = "preservative";
  in["left_pct"] = 80;
  EXPECT_NE(error_of(kFlush, text(in)).find("left_pct"), std::string::npos);
}

TEST(RestQuestion, the_first_draw_is_stronger_and_raw_water_seeps_in) {
  Json in = school();
  in["condition"] = {{"rest_before_h", 10}};
  // The supply must outdo the tank for that.
  in["machine"]["supply"]["pressure_bar"] = 4;
  const Json out = output_of(kRest, text(in));
  EXPECT_GT(middle(out, "first_half_litre"), middle(out, "product_quality"));
  EXPECT_GT(middle(out, "settled"), 0);
  EXPECT_EQ(string_of(out, "seep"), "raw_seeps_in");
  EXPECT_TRUE(remarks(out, "transient.rest.raw_seeps_in"));
  EXPECT_GT(middle(out, "vessel_after"), middle(out, "vessel_before"));
  in["machine"]["blend"]["from"] = "after_solenoid";
  EXPECT_EQ(string_of(output_of(kRest, text(in)), "seep"), "nothing_moves");
}

TEST(RestQuestion, a_longer_rest_creeps_further) {
  Json in = school();
  double before = 0;
  for (const double hours : {0.02, 0.1, 1.0, 10.0}) {
    in["condition"] = {{"rest_before_h", hours}};
    const double now = middle(output_of(kRest, text(in)), "strength_behind_membrane");
    EXPECT_GT(now, before);
    before = now;
  }
}

// A third more in the raw water is about a third more in the product, and in what seeps in.
TEST(RestQuestion, the_days_water_is_taken_from_the_readings) {
  Json in = school();
  in["condition"] = {{"rest_before_h", 10}};
  const auto reading = [](double microsiemens) {
    return Json{{{"point", "raw_quality"},
                 {"value", microsiemens},
                 {"unit", "uS_cm"},
                 {"instrument", {{"of_reading_pct", 1}}}}};
  };
  in["readings"] = reading(950);
  const Json as_surveyed = output_of(kRest, text(in));
  in["readings"] = reading(950 * 4.0 / 3);
  const Json stronger = output_of(kRest, text(in));
  for (const char* key : {"product_quality", "first_half_litre"}) {
    EXPECT_NEAR(middle(stronger, key) / middle(as_surveyed, key), 4.0 / 3, 0.1) << key;
  }
}

TEST(RestQuestion, the_rest_must_be_given) {
  Json in = school();
  in["condition"] = Json::object();
  EXPECT_NE(error_of(kRest, text(in)).find("condition.rest_before_h"), std::string::npos);
  in["condition"] = {{"rest_before_h", -1}};
  EXPECT_NE(error_of(kRest, text(in)).find("rest_before_h"), std::string::npos);
}

}  // namespace
}  // namespace drawoff::api
