// Screen first_glass: the sentences and the curve agree with the question rest, for every rest.
#include "api/first_glass_screen.h"

#include <gtest/gtest.h>

#include <algorithm>

#include "api/api.h"
#include "api/question_test.h"

namespace drawoff::api {
namespace {

using fields::Json;

constexpr auto kFirstGlass =
    question<FirstGlassInput, FirstGlassOutput, &ask_first_glass>("first_glass");

Json told(const Json& site_file, const std::string& rest = "night", const char* units = "metric") {
  return output_of(kFirstGlass,
                   Json{{"site_file", site_file}, {"rest", rest}, {"units", units}}.dump());
}

std::string text(const Json& json) {
  const auto* found = json.get_ptr<const std::string*>();
  return found == nullptr ? std::string() : *found;
}

bool says(const Json& sentences, std::string_view what) {
  return std::any_of(sentences.begin(), sentences.end(), [&](const Json& one) {
    return text(one).find(what) != std::string::npos;
  });
}

Json& machine_of(Json& site_file) { return body_of(site_file, "machine"); }

double peak(const Json& curve) {
  double most = 0;
  for (const Json& point : curve["points"]) most = std::max(most, number_of(point, "y"));
  return most;
}
// How far the curve stands above its running value, in shares of that.
double excess(const Json& out) {
  return peak(out["curve"]) / number_of(out["curve"]["level"], "at") - 1;
}

TEST(FirstGlass, tells_of_each_site_whole_sentences) {
  const std::vector<std::string> all = {"minutes", "hour", "night", "weekend"};
  for (const char* name : {"school", "clinic", "office"}) {
    for (const std::string& rest : name == std::string("clinic") ? all : std::vector{all[2]}) {
      SCOPED_TRACE(std::string(name) + ", " + rest);
      const Json out = told(example_site(name), rest);
      EXPECT_EQ(out["choices"].size(), 4U);
      ASSERT_FALSE(out["curve"].is_null());
      EXPECT_GE(out["first"].size(), 2U);
      EXPECT_GE(out["blend"].size(), 1U);
      // A missing id shows as itself, a missing argument as its braces.
      const Json& curve = out["curve"];
      for (const Json& sentence : {out["headline"],
                                   out["first"],
                                   out["blend"],
                                   curve["said"],
                                   curve["across_label"],
                                   curve["up_label"],
                                   curve["level"]["text"]}) {
        const std::string said = fields::dump(sentence);
        EXPECT_EQ(said.find("first_glass."), std::string::npos) << said;
        EXPECT_EQ(said.find("transient."), std::string::npos) << said;
        EXPECT_EQ(said.find('{'), std::string::npos) << said;
      }
    }
  }
}

TEST(FirstGlass, a_longer_rest_is_stronger_and_the_curve_stays_on_the_chart) {
  double before = -1;
  for (const char* rest : {"minutes", "hour", "night"}) {
    const Json out = told(example_site("clinic"), rest);
    EXPECT_NE(text(out["headline"]).find("cooler"), std::string::npos);
    const double now = excess(out);
    EXPECT_GT(now, before) << rest;
    before = now;
    const Json& curve = out["curve"];
    for (const Json& point : curve["points"]) {
      EXPECT_GE(number_of(point, "x"), 0);
      EXPECT_LE(number_of(point, "x"), 1);
      EXPECT_GE(number_of(point, "y"), 0);
      EXPECT_LE(number_of(point, "y"), 1);
    }
    EXPECT_GE(curve["up"].size(), 3U);
    EXPECT_LE(curve["up"].size(), 6U);
    EXPECT_EQ(number_of(curve["up"].back(), "at"), 1);
    EXPECT_EQ(text(curve["across"].back()["text"]), "0.5");
  }
  EXPECT_GT(before, 0.1);
}

// The same draws asked of the question itself: what a pen of half a ppm per µS/cm shows.
TEST(FirstGlass, shows_what_the_question_answers) {
  const Json clinic = example_site("clinic");
  Json survey;
  Json machine;
  Json readings = Json::array();
  for (const Json& entry : clinic["entries"]) {
    if (text(entry["kind"]) == "reading") readings.push_back(entry["body"]);
    if (text(entry["kind"]) == "survey") survey = entry["body"];
    if (text(entry["kind"]) == "machine") machine = entry["body"];
  }
  const auto rest = ask({.name = "rest",
                         .input = {{"survey", survey},
                                   {"machine", machine},
                                   {"condition", {{"rest_before_h", 14}}},
                                   {"readings", readings},
                                   {"draws", 100}}});
  ASSERT_TRUE(rest);
  const Json curve = told(clinic)["curve"];
  const Json& steps = rest->output["first_draw"];
  ASSERT_EQ(curve["points"].size(), steps.size());
  const double unit = number_of(curve["points"][0], "y") / number_of(steps[0], "quality_uS_cm");
  for (std::size_t i = 0; i < steps.size(); ++i) {
    EXPECT_NEAR(number_of(curve["points"][i], "y"),
                unit * number_of(steps[i], "quality_uS_cm"),
                1e-9);  // both are the same numbers times a constant
    EXPECT_NEAR(number_of(curve["points"][i], "x"), number_of(steps[i], "drawn_mL") / 500, 1e-12);
  }
  EXPECT_EQ(number_of(curve["points"][0], "y"), number_of(curve["level"], "at"));
}

TEST(FirstGlass, names_the_blend_and_the_tank) {
  Json school = example_site("school");
  machine_of(school)["product"]["vessel"] = "jug";
  machine_of(school).erase("blend");
  const Json plain = told(school);
  EXPECT_TRUE(says(plain["blend"], "no blend"));
  EXPECT_EQ(text(plain["headline"]).find("tank"), std::string::npos);

  Json tank = example_site("school");
  Json& machine = machine_of(tank);
  machine["supply"]["pressure_bar"] = 4;
  machine["blend"] = {{"full_open_flow_L_h", 30}, {"opening_pct", 18}};
  machine["product"] = {{"vessel", "tank"}, {"volume_L", 12}, {"precharge_bar", 0.5}};
  machine["high_pressure_switch"] = {{"cut_out_bar", 2.5}, {"cut_in_bar", 1.6}};
  const Json out = told(tank);
  EXPECT_NE(text(out["headline"]).find("tank"), std::string::npos) << out["headline"];
  EXPECT_TRUE(says(out["blend"], "seeps into")) << out["blend"];
  EXPECT_TRUE(says(out["blend"], "In this time")) << out["blend"];
  EXPECT_TRUE(says(out["first"], "A glass from the tank")) << out["first"];
}

TEST(FirstGlass, speaks_in_the_unit_of_the_persons_meter) {
  const Json clinic = example_site("clinic");
  Json in_conductivity = clinic;
  for (Json& entry : in_conductivity["entries"]) {
    if (text(entry["kind"]) == "reading" && text(entry["body"]["point"]) == "product_quality") {
      entry["body"]["unit"] = "uS_cm";
    }
  }
  EXPECT_NE(text(told(clinic)["curve"]["up_label"]).find("ppm"), std::string::npos);
  EXPECT_NE(text(told(in_conductivity)["curve"]["up_label"]).find("µS/cm"), std::string::npos);
}

TEST(FirstGlass, says_why_a_machine_that_gives_nothing_has_no_first_glass) {
  Json school = example_site("school");
  machine_of(school)["supply"]["pressure_bar"] = 0;
  machine_of(school).erase("pump");
  const Json out = told(school);
  EXPECT_TRUE(out["curve"].is_null());
  EXPECT_FALSE(text(out["headline"]).empty());
  EXPECT_TRUE(out["first"].empty());
}

TEST(FirstGlass, needs_a_machine) {
  Json school = example_site("school");
  Json kept = Json::array();
  for (const Json& entry : school["entries"]) {
    if (text(entry["kind"]) != "machine") kept.push_back(entry);
  }
  school["entries"] = kept;
  EXPECT_NE(error_of(kFirstGlass, Json{{"site_file", school}}.dump()).find("machine"),
            std::string::npos);
}

}  // namespace
}  // namespace drawoff::api
