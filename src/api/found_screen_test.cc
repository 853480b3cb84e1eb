#include "api/found_screen.h"

#include <gtest/gtest.h>

#include "api/course_screen.h"
#include "api/question_test.h"

namespace drawoff::api {
namespace {

using fields::Json;

constexpr auto kFound = question<FoundInput, FoundOutput, &ask_found>("found");
constexpr auto kCourse = question<CourseScreenInput, CourseScreenOutput, &ask_course>("course");

Json fill(double minutes) { return {{"sign", "fill_time"}, {"value", minutes}, {"unit", "min"}}; }
Json ask(const Json& found, const Json& expected) {
  return output_of(kFound, fields::dump(Json{{"found", found}, {"expected", expected}}));
}
const Json kBand = {{"low", 91}, {"middle", 120}, {"high", 170}, {"unit", "min"}};

TEST(FoundScreen, judges_and_says_where_to_look) {
  const Json good = ask(fill(100), kBand);
  EXPECT_EQ(good["fit"], "fits");
  EXPECT_EQ(good["look"], "");
  const Json slow = ask(fill(200), kBand);
  EXPECT_EQ(slow["fit"], "above");
  EXPECT_NE(slow["look"], "");
  EXPECT_EQ(slow["expected"], (Json{{"low", 91.0}, {"high", 170.0}}));
}

// 40 to 60 µS/cm are 20 to 30 ppm of the half scale.
TEST(FoundScreen, puts_the_band_on_the_pens_scale) {
  const Json out = ask({{"sign", "first_half_litre"}, {"value", 31}, {"unit", "ppm"}},
                       {{"low", 40}, {"middle", 50}, {"high", 60}, {"unit", "uS_cm"}});
  EXPECT_EQ(out["fit"], "above");
  EXPECT_NEAR(number_of(out["expected"], "high"), 30, 1e-9);
}

TEST(FoundScreen, refuses_a_band_of_something_else) {
  const Json in{{"found", fill(1)},
                {"expected", {{"low", 1}, {"middle", 2}, {"high", 3}, {"unit", "bar"}}}};
  EXPECT_NE(error_of(kFound, fields::dump(in)).find("expected.unit"), std::string::npos);
}

const Json* step_of(const Json& course, std::string_view key) {
  for (const Json& step : course["steps"]) {
    if (step["key"] == key) return &step;
  }
  return nullptr;
}

// What is typed stands at its step at once, and moves nothing else.
TEST(CourseScreen, what_was_found_at_an_open_step) {
  Json in{{"site_file", example_site("office")}};
  const Json before = output_of(kCourse, fields::dump(in));
  const Json salty{{"sign", "first_half_litre"},
                   {"value", 40},
                   {"unit", "ppm"},
                   {"expected", {{"low", 3}, {"high", 12}}}};
  in["open"] = Json::array({{{"key", "rest_test"}, {"found", Json::array({salty})}}});
  const Json course = output_of(kCourse, fields::dump(in));
  const Json* step = step_of(course, "rest_test");
  ASSERT_NE(step, nullptr);
  ASSERT_EQ((*step)["signs"].size(), 1U);
  EXPECT_EQ((*step)["signs"][0]["fit"], "above");
  EXPECT_EQ((*step)["look"].size(), 1U);
  const Json* other = step_of(course, "chlorine_zero");
  ASSERT_NE(other, nullptr);
  EXPECT_EQ(*other, *step_of(before, "chlorine_zero"));
}

// A site whose start-up began, with what was entered since.
class Begun {
 public:
  explicit Begun(const char* name) : site_(example_site(name)) { log("start_up", Json::object()); }
  void log(const char* kind, const Json& body) {
    const std::string minute = std::to_string(10 + n_++);
    add_entry(site_,
              kind,
              body,
              ("2026-05-04T09:" + minute + ":00Z").c_str(),
              ("019cb2bf-2fc0-7381-a528-ceaf073975" + minute).c_str());
  }
  Json course() const { return output_of(kCourse, fields::dump(Json{{"site_file", site_}})); }

 private:
  Json site_;
  int n_ = 0;
};

Json flow(const char* point, double value, double low, double high) {
  return {{"point", point},
          {"value", value},
          {"unit", "L_h"},
          {"shown", {{"low", low}, {"high", high}, {"unit", "L_h"}, {"engine", "test"}}}};
}

// The demo's readings are of March; this start-up is of May.
TEST(CourseScreen, only_readings_since_it_began_count) {
  Begun office("office");
  const Json before = *step_of(office.course(), "flows");
  EXPECT_EQ(before["taken"], Json::array());
  office.log("reading", flow("product_flow", 20, 15, 25));
  office.log("reading", flow("reject_flow", 60, 10, 50));
  const Json after = *step_of(office.course(), "flows");
  EXPECT_EQ(after["taken"], (Json{"product_flow", "reject_flow"}));
  EXPECT_EQ(after["outside"], Json{"reject_flow"});
  EXPECT_EQ(after["look"].size(), 1U);
  // 20 of 80 L/h.
  EXPECT_NE(fields::dump(after["notes"]).find("25"), std::string::npos);
}

TEST(CourseScreen, the_membrane_stays_out_while_there_is_chlorine) {
  Begun office("office");
  const auto warned = [&] {
    return fields::dump((*step_of(office.course(), "membrane_in"))["cautions"])
               .find("Chlorine was found") != std::string::npos;
  };
  EXPECT_FALSE(warned());
  office.log("step", {{"step", "chlorine_zero"}, {"state", "not_good"}});
  EXPECT_TRUE(warned());
  const Json none = {{"sign", "free_chlorine"},
                     {"value", 0},
                     {"unit", "mg_L"},
                     {"expected", {{"low", 0}, {"high", 0.05}}}};
  office.log("step",
             {{"step", "chlorine_zero"}, {"state", "done"}, {"found", Json::array({none})}});
  EXPECT_FALSE(warned());
}

// What was read at the first run is not read at the end: blend and cartridges came between.
TEST(CourseScreen, the_end_is_read_at_the_end) {
  Begun office("office");
  office.log("reading", {{"point", "product_quality"}, {"value", 6}, {"unit", "ppm"}});
  office.log("step", {{"step", "first_fill"}, {"state", "done"}});
  const Json course = office.course();
  EXPECT_EQ((*step_of(course, "first_run"))["taken"], Json{"product_quality"});
  EXPECT_EQ((*step_of(course, "final_readings"))["taken"], Json::array());
}

// Chlorine read of the filter before says nothing of the one that came since.
TEST(CourseScreen, a_test_to_be_done_again_shows_no_old_number) {
  Begun office("office");
  const Json none{{"sign", "free_chlorine"}, {"value", 0}, {"unit", "mg_L"}};
  const Json flush{{"step", "filter_flush"}, {"part", 1}, {"filter", "carbon"}, {"state", "done"}};
  office.log("step", flush);
  office.log("step",
             {{"step", "chlorine_zero"}, {"state", "done"}, {"found", Json::array({none})}});
  office.log("step", flush);
  const Json step = *step_of(office.course(), "chlorine_zero");
  EXPECT_TRUE(step["state"].is_null());
  EXPECT_EQ(step["signs"][0]["text"], "");
}

TEST(CourseScreen, the_end_says_what_was_not_read) {
  Begun office("office");
  const Json course = office.course();
  for (const Json& step : course["steps"]) {
    Json body{{"step", step["step"]}, {"state", "done"}};
    if (!step["part"].is_null()) {
      body["part"] = step["part"];
      body["filter"] = step["filter"];
    }
    office.log("step", body);
  }
  const Json end = office.course();
  EXPECT_TRUE(end["current"].is_null());
  EXPECT_NE(fields::dump(end["headline"]).find("not written down"), std::string::npos);
}

}  // namespace
}  // namespace drawoff::api
