#include "api/hold_question.h"

#include <gtest/gtest.h>

#include "api/question_test.h"

namespace drawoff::api {
namespace {

using fields::Json;

constexpr auto kHold = question<HoldInput, HoldOutput, &ask_hold>("hold");

Json unit(double end) {
  return {{"volume_L", 3},
          {"tube_length_m", 4},
          {"air_mL", 0},
          {"start_bar", 4},
          {"end_bar", end},
          {"time_min", 10},
          {"before_min", 30}};
}
Json answer(const Json& in) { return output_of(kHold, fields::dump(in)); }
std::string text_of(const Json& out, const char* key) {
  const auto* found = out[key].get_ptr<const std::string*>();
  return found == nullptr ? "" : *found;
}

TEST(HoldQuestion, tells_tight_from_leaking) {
  const Json tight = answer(unit(4));
  EXPECT_EQ(text_of(tight, "verdict"), "tight");
  EXPECT_EQ(number_of(tight, "fall_bar"), 0);
  const Json leaks = answer(unit(2));
  EXPECT_EQ(text_of(leaks, "verdict"), "leaks");
  // Two bars of 3.5 mL each (3 L at 1.15e-8/Pa, and the water's own give), less 0.15 mL of creep,
  // in ten minutes: 41 mL/h within the tube's share. Known to e^(1.645 · 0.35) = 1.8, and the
  // warming.
  const double middle = number_of(leaks["leak"], "middle");
  EXPECT_NEAR(middle, 41, 2);
  EXPECT_GT(number_of(leaks["leak"], "low"), middle / 2);
  EXPECT_LT(number_of(leaks["leak"], "high"), middle * 2);
  EXPECT_NEAR(number_of(leaks["drops_a_minute"], "middle"), middle / 60 / 0.05, 1e-9);
  EXPECT_NEAR(number_of(leaks, "smallest_mL_h"), number_of(tight, "smallest_mL_h"), 1e-9);
  EXPECT_EQ(leaks["cautions"].size(), 4U);
}

TEST(HoldQuestion, a_tank_says_nothing_until_it_is_shut) {
  const auto site = [] {
    Json file = example_site("school");
    return body_of(file, "machine");
  }();
  Json in = unit(3.5);
  in.erase("volume_L");
  in["machine"] = site;
  in["tank_open"] = true;
  const Json open = answer(in);
  EXPECT_EQ(text_of(open, "verdict"), "tank_open");
  EXPECT_TRUE(open["leak"].is_null());
  in["tank_open"] = false;
  EXPECT_NE(text_of(answer(in), "verdict"), "tank_open");
}

TEST(HoldQuestion, cautions_first_of_more_than_the_housings_may_take) {
  Json in = unit(10);
  in["start_bar"] = 10;
  const Json out = answer(in);
  ASSERT_EQ(out["cautions"].size(), 5U);
  EXPECT_NE(out["cautions"][0].get_ref<const std::string&>().find("more than the housings"),
            std::string::npos)
      << out["cautions"][0];
}

TEST(HoldQuestion, bad_input_is_named) {
  Json in = unit(4);
  in.erase("volume_L");
  EXPECT_EQ(error_of(kHold, fields::dump(in)),
            "volume_L is missing, and there is no machine either. Enter the litres that were shut "
            "in, or the machine.");
  in = unit(4);
  in["tube_length_m"] = 200;
  EXPECT_EQ(error_of(kHold, fields::dump(in)),
            "volume_L is 3\u00A0L, but the tube alone holds 6.33\u00A0L. Enter all the water that "
            "was shut in, or put tube_length_m and tube_bore_mm right.");
  in = unit(4);
  in["time_min"] = 0;
  EXPECT_NE(error_of(kHold, fields::dump(in)).find("time_min is 0"), std::string::npos);
}

}  // namespace
}  // namespace drawoff::api
