// Screens blend_guide and blend_reading: a setting from its beginning to how it is left, with a
// valve that is simulated here, and what the record says of it.
#include "api/blend_screen.h"

#include <gtest/gtest.h>

#include <cmath>

#include "api/blend_words.h"
#include "api/question_test.h"

namespace drawoff::api {
namespace {

using fields::Json;

constexpr auto kGuide =
    question<BlendGuideInput, BlendGuideOutput, &ask_blend_guide>("blend_guide");
constexpr auto kReading =
    question<BlendReadingInput, BlendReadingOutput, &ask_blend_reading>("blend_reading");

std::string text(const Json& json, const char* key) {
  const auto* found = json.contains(key) ? json[key].get_ptr<const std::string*>() : nullptr;
  return found == nullptr ? std::string() : *found;
}

// The school, with the water's other substances as they usually are there.
Json school() {
  Json site = example_site("school");
  Json usual = Json::array();
  for (const char* key : {"NO2", "Cu", "B", "U", "Cr", "Cd", "Ba", "Se", "Hg", "Ni"}) {
    usual.push_back({{"substance", key}, {"high_mg_L", 0.0002}});
  }
  body_of(site, "survey")["local"] = {
      {"name", "Valley"}, {"usual", usual}, {"blend_low_ppm", 60}, {"blend_high_ppm", 80}};
  return site;
}

// A person at the site, from ten o'clock on, a minute for everything that is kept.
class Visit {
 public:
  explicit Visit(Json site) : site_(std::move(site)) {}
  Json told(const std::string& at = "") const {
    return output_of(kGuide, Json{{"site_file", site_}, {"at", at.empty() ? now() : at}}.dump());
  }
  void keep(const char* kind, Json body) {
    ++minute_;
    const std::string id = "019cb2bf-2fc0-7381-a528-ceaf073980" + digits(minute_);
    add_entry(site_, kind, std::move(body), now().c_str(), id.c_str());
  }
  std::string now() const { return "2026-03-03T10:" + digits(minute_) + ":00Z"; }
  const Json& site() const { return site_; }

 private:
  static std::string digits(int n) { return (n < 10 ? "0" : "") + std::to_string(n); }
  Json site_;
  int minute_ = 0;
};

// A valve with a bend of its own, read by a pen without error: 31 ppm without, 481 of raw water.
double shown(double turns) {
  const double k = 2.5 * std::pow(turns / 5, 1.3);
  return std::round(31 + k / (1 + k) * (481 - 31));
}

Json turned(const Json& told) {
  const double turns = number_of(told["act"], "turns");
  return {{"turns", turns},
          {"value", shown(turns)},
          {"unit", "ppm"},
          {"instrument", told["like"]["instrument"]},
          {"waited_min", told["act"]["wait_min"]},
          {"shown", told["act"]["band"]}};
}

TEST(BlendScreen, a_setting_from_its_beginning_to_how_it_is_left) {
  Visit visit(school());
  Json told = visit.told();
  EXPECT_EQ(text(told, "stage"), "begin");
  EXPECT_EQ(text(told["aims"][0], "taste"), "local");
  EXPECT_EQ(told["aims"].size(), 4U);
  ASSERT_EQ(told["places"].size(), 2U) << "before the cooler and at its tap";
  visit.keep("blend", {{"taste", "local"}, {"low_ppm", 60}, {"high_ppm", 80}});
  told = visit.told();
  ASSERT_EQ(text(told, "stage"), "guide");
  int turns = 0;
  while (!told["act"].is_null() && turns < 6) {
    visit.keep("blend_turn", turned(told));
    ++turns;
    told = visit.told();
  }
  EXPECT_EQ(told["turns"].size(), static_cast<std::size_t>(turns));
  ASSERT_FALSE(told["leave"].is_null());
  EXPECT_EQ(told["leave"]["advised"], true);
  const double product = number_of(told["leave"]["left"], "value");
  EXPECT_GE(product, 60);
  EXPECT_LE(product, 80);
  // As the definition of the share has it.
  EXPECT_NEAR(number_of(told["leave"]["left"], "share_pct"), 100 * (product - 31) / 450, 1e-6);
  // Its entries: the machine with the valve as set, and the product read with the blend as set.
  const Json& with = told["leave"]["with"];
  ASSERT_EQ(with.size(), 2U);
  EXPECT_EQ(text(with[0], "kind"), "machine");
  EXPECT_GT(number_of(with[0]["body"]["blend"], "opening_pct"), 0);
  EXPECT_FALSE(text(with[0], "supersedes").empty());
  EXPECT_EQ(text(with[1], "kind"), "reading");
  EXPECT_EQ(number_of(with[1]["body"], "value"), product);
  EXPECT_NE(text(with[1]["body"]["condition"], "blend"), "shut");
  Json left = told["leave"]["left"];
  left["seal"] = true;
  left["seal_number"] = "0123";
  visit.keep("blend_left", left);
  told = visit.told();
  EXPECT_EQ(text(told, "stage"), "left");
  EXPECT_NE(text(told, "left").find("seal 0123"), std::string::npos);
  EXPECT_NE(text(told, "left").find("until the next visit"), std::string::npos);
  // Another setting is begun: how it stands is known no longer.
  visit.keep("blend", {{"taste", "fresh"}});
  told = visit.told();
  EXPECT_EQ(text(told, "stage"), "guide");
  EXPECT_NE(text(told, "left").find("not finished"), std::string::npos);
  // What is known is how it was left: it is shut before the first turn of the new setting.
  EXPECT_EQ(told["open"], true);
  EXPECT_EQ(text(told["act"], "what").find("The valve was left "), 0U) << text(told["act"], "what");
  EXPECT_NE(text(told["act"], "what").find("shut it first, and count the turns. Open the valve"),
            std::string::npos);
  EXPECT_EQ(told["act"]["stays"], false);
  Json shut = told["shut"]["left"];
  visit.keep("blend_left", shut);
  visit.keep("blend", {{"taste", "fresh"}});
  told = visit.told();
  EXPECT_EQ(told["open"], false);
  EXPECT_EQ(text(told["act"], "what").find("Open the valve"), 0U);
}

TEST(BlendScreen, asks_for_raw_water_and_permeate_of_this_visit) {
  Visit visit(school());
  visit.keep("blend", {{"taste", "fresh"}});
  // A day later: that visit is over, and its setting with it.
  EXPECT_EQ(text(visit.told("2026-03-04T12:00:00Z"), "stage"), "begin");
  Json bare = school();
  Json kept = Json::array();
  for (const Json& entry : bare["entries"]) {
    if (text(entry, "kind") != "reading") kept.push_back(entry);
  }
  bare["entries"] = kept;
  Visit first(bare);
  first.keep("blend", {{"taste", "fresh"}});
  Json told = first.told();
  EXPECT_EQ(text(told, "stage"), "raw");
  EXPECT_EQ(text(told, "point"), "raw_quality");
  first.keep("reading", {{"point", "raw_quality"}, {"value", 481}, {"unit", "ppm"}});
  told = first.told();
  EXPECT_EQ(text(told, "stage"), "permeate");
  // The product with the blend shut is as good.
  first.keep("reading",
             {{"point", "product_quality"},
              {"value", 481},
              {"unit", "ppm"},
              {"condition", {{"blend", "shut"}}}});
  told = first.told();
  EXPECT_EQ(text(told, "stage"), "permeate") << "as strong as the raw water cannot be";
  EXPECT_EQ(told["said"].size(), 1U);
  first.keep("reading",
             {{"point", "product_quality"},
              {"value", 31},
              {"unit", "ppm"},
              {"condition", {{"blend", "shut"}}}});
  EXPECT_EQ(text(first.told(), "stage"), "guide");
}

TEST(BlendScreen, where_none_is_permitted_it_says_what_would_serve) {
  Visit visit(example_site("school"));  // nobody knows what else is in that water
  Json told = visit.told();
  EXPECT_NE(text(told, "headline").find("shut"), std::string::npos);
  EXPECT_EQ(told["limit"].size(), 3U) << "why not, a cartridge, none";
  visit.keep("blend", {{"taste", "fresh"}});
  told = visit.told();
  EXPECT_TRUE(told["act"].is_null());
  EXPECT_GE(told["said"].size(), 2U);
  EXPECT_EQ(text(told["shut"]["left"], "standing"), "not_permitted");
  // Set by hand all the same: a reason is asked for.
  visit.keep("blend_turn", {{"turns", 1}, {"value", 64}, {"unit", "ppm"}});
  told = visit.told();
  ASSERT_FALSE(told["leave"].is_null());
  EXPECT_EQ(told["leave"]["advised"], false);
  Json left = told["leave"]["left"];
  left["reason"] = "asked for in writing";
  visit.keep("blend_left", left);
  told = visit.told();
  EXPECT_NE(text(told, "left").find("asked for in writing"), std::string::npos);
  ASSERT_EQ(told["said"].size(), 1U);
  EXPECT_NE(told["said"][0].get<std::string>().find("Let nobody drink"), std::string::npos);
}

// The limit as the next visit may find it, in per cent.
double permitted(const Json& site) {
  return number_of(Visit(site).told()["shut"]["left"], "permitted_pct");
}

// 700 ppm in place of the 481 that the survey has: what has a limit is stronger by about as much,
// so the share that brings it there is smaller. A weaker day allows no more: by the next visit the
// water may be as surveyed.
TEST(BlendScreen, the_limit_is_that_of_the_days_water) {
  const auto with_raw = [](double ppm) {
    Visit visit(school());
    visit.keep("reading", {{"point", "raw_quality"}, {"value", ppm}, {"unit", "ppm"}});
    return visit.site();
  };
  const double surveyed = permitted(with_raw(481));
  EXPECT_GT(surveyed, 20);
  EXPECT_LT(permitted(with_raw(700)), 0.8 * surveyed);
  EXPECT_NEAR(permitted(with_raw(300)), surveyed, 0.1 * surveyed);
}

// Turned open, and left there: two days later, and in the setting after it, it stands so still.
TEST(BlendScreen, a_setting_that_was_given_up_stands_as_it_was_turned) {
  Visit visit(school());
  visit.keep("blend_left", {{"turns", 0}});
  EXPECT_FALSE(visit.told()["open"]);
  visit.keep("blend", {{"taste", "fresh"}});
  visit.keep("blend_turn", {{"turns", 1.5}, {"value", 80}, {"unit", "ppm"}});
  const std::string later = "2026-03-05T10:00:00Z";
  EXPECT_TRUE(visit.told(later)["open"]);
  visit.keep("blend", {{"taste", "fresh"}});
  EXPECT_TRUE(visit.told()["open"]);
  visit.keep("blend_left", {{"turns", 0}});
  EXPECT_FALSE(visit.told(later)["open"]);
  // The machine entered anew, open.
  Json site = visit.site();
  Json machine = body_of(site, "machine");
  machine["blend"]["opening_pct"] = 60;
  visit.keep("machine", machine);
  EXPECT_TRUE(visit.told(later)["open"]);
}

TEST(BlendScreen, a_machine_without_a_valve_says_so) {
  EXPECT_EQ(text(Visit(example_site("clinic")).told(), "stage"), "no_blend");
}

// What the plates cannot give is full open; of no raw water at all it is shut.
TEST(BlendScreen, the_machine_stands_as_it_was_left_however_it_was) {
  const auto opening_of = [](double value) {
    Visit visit(school());
    visit.keep("blend", {{"taste", "fresh"}});
    visit.keep("reading", {{"point", "raw_quality"}, {"value", 481}, {"unit", "ppm"}});
    visit.keep("reading", {{"point", "permeate_quality"}, {"value", 31}, {"unit", "ppm"}});
    visit.keep("blend_turn", {{"turns", 1}, {"value", value}, {"unit", "ppm"}});
    const Json told = visit.told();
    const Json& with = told["leave"]["with"];
    EXPECT_EQ(text(with[0], "kind"), "machine");
    return number_of(with[0]["body"]["blend"], "opening_pct");
  };
  EXPECT_EQ(opening_of(31), 0);
  EXPECT_GT(opening_of(60), 0);
  EXPECT_EQ(opening_of(480), 100);
  EXPECT_EQ(opening_of(481), 100);
  const Json told = Visit(school()).told();
  EXPECT_EQ(number_of(told["shut"]["with"][0]["body"]["blend"], "opening_pct"), 0);
}

// Behind a cooler a turn takes longer than before it.
TEST(BlendScreen, says_how_long_a_turn_takes_at_either_place) {
  Json slow = school();
  body_of(slow, "machine")["product"]["volume_L"] = 12;
  const Json told = Visit(slow).told();
  EXPECT_EQ(text(told["places"][0], "slow"), "");
  EXPECT_NE(text(told["places"][1], "slow"), "");
}

TEST(BlendScreen, a_reading_is_judged_and_doubted) {
  const auto judged = [](const char* input) { return output_of(kReading, input); };
  const char* const kBand =
      R"(, "band": {"low": 50, "high": 70, "unit": "ppm", "engine": "x"},
          "raw_conductivity_25_uS_cm": 962, "permeate_conductivity_25_uS_cm": 62})";
  const auto of = [&](const std::string& turn) {
    return judged((R"({"turn": )" + turn + kBand).c_str());
  };
  Json out = of(R"({"turns": 1, "value": 60, "unit": "ppm"})");
  EXPECT_EQ(out["outside"], false);
  EXPECT_EQ(text(out, "question"), "");
  out = of(R"({"turns": 1, "value": 120, "unit": "uS_cm"})");
  EXPECT_EQ(out["outside"], false) << "the same in the meter's other unit";
  EXPECT_NEAR(number_of(out["band"], "high"), 140, 1e-9);
  out = of(R"({"turns": 1, "value": 600, "unit": "ppm"})");
  EXPECT_EQ(out["outside"], true);
  EXPECT_NE(text(out, "question"), "") << "stronger than the raw water";
  EXPECT_NE(text(of(R"({"turns": 1, "value": 20, "unit": "ppm"})"), "question"), "")
      << "less than without any raw water";
  // A meter whose ppm are 0.7 of the µS/cm shows 1.4 times what one of the half scale does.
  out = of(R"({"turns": 1, "value": 84, "unit": "ppm", "instrument": {"scale": "seven_tenths"}})"
           R"(, "instrument": {"scale": "half"})");
  EXPECT_EQ(out["outside"], false);
  EXPECT_NEAR(number_of(out["band"], "low"), 1.4 * 50, 1e-3);
  EXPECT_NEAR(number_of(out["band"], "high"), 1.4 * 70, 1e-3);
}

TEST(BlendWords, turns_as_a_hand_counts_them) {
  const auto advised = [](double turns) {
    return turns_in_words(advised_turns(turns), messages::catalogue("en"));
  };
  EXPECT_EQ(advised(0.25), "a quarter turn");
  EXPECT_EQ(advised(0.3125), "5/16 of a turn");
  EXPECT_EQ(advised(1), "1 turn");
  EXPECT_EQ(advised(1.25), "1 1/4 turns");
  EXPECT_EQ(advised(1.3125), "1 5/16 turns");
  // Judged as it is said.
  EXPECT_EQ(advised(0.98), "1 turn");
  EXPECT_EQ(advised(1.02), "1 turn");
  EXPECT_EQ(advised(0.02), "shut");
  EXPECT_EQ(advised(0.04), "a sixteenth of a turn");
}

TEST(BlendWords, a_persons_own_number_stays) {
  const auto own = [](double turns) {
    return turns_in_words(own_turns(turns), messages::catalogue("en"));
  };
  EXPECT_EQ(own(0.375), "3/8 of a turn");
  EXPECT_EQ(own(0), "shut");
  EXPECT_EQ(own(0.33), "0.33 of a turn");
  EXPECT_EQ(own(0.98), "0.98 of a turn");
  EXPECT_EQ(own(0.02), "0.02 of a turn");
  EXPECT_EQ(own(1.02), "1.02 turns");
}

}  // namespace
}  // namespace drawoff::api
