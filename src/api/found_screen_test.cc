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
  Json slow = fill(200);
  slow["expected"] = {{"low", 91}, {"high", 170}};
  in["open"] = Json::array({{{"key", "first_fill"}, {"found", Json::array({slow})}}});
  const Json course = output_of(kCourse, fields::dump(in));
  const Json* step = step_of(course, "first_fill");
  ASSERT_NE(step, nullptr);
  EXPECT_EQ((*step)["signs"][0]["fit"], "above");
  EXPECT_EQ((*step)["look"].size(), 1U);
  const Json* other = step_of(course, "rest_test");
  ASSERT_NE(other, nullptr);
  EXPECT_EQ(*other, *step_of(before, "rest_test"));
}

}  // namespace
}  // namespace drawoff::api
