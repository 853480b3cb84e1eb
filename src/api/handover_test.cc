#include "api/handover.h"

#include <gtest/gtest.h>

#include "api/question_test.h"

namespace drawoff::api {
namespace {

using fields::Json;

Solved solved(const Json& site_file) {
  fields::ReadContext context;
  const auto file = book::read_site_json(site_file, context);
  EXPECT_TRUE(file);
  auto state = site_state(*file, context);
  EXPECT_TRUE(state);
  auto out = solve_for_papers(*std::move(state), fields::UnitSystem::kMetric);
  EXPECT_TRUE(out);
  return *std::move(out);
}
void log(Json& site, const char* minute, const char* kind, const Json& body) {
  add_entry(site,
            kind,
            body,
            ("2026-05-04T09:" + std::string(minute) + ":00Z").c_str(),
            ("019cb2bf-2fc0-7381-a528-ceaf073975" + std::string(minute)).c_str());
}

TEST(Handover, taps_stay_marked_until_the_marks_came_off) {
  Json site = example_site("office");
  EXPECT_FALSE(taps_are_marked(solved(site)));
  log(site, "10", "start_up", Json::object());
  EXPECT_TRUE(taps_are_marked(solved(site)));
  log(site,
      "11",
      "step",
      {{"step", "taps_opened"}, {"state", "skipped"}, {"note", "waiting for the laboratory"}});
  EXPECT_TRUE(taps_are_marked(solved(site)));
  log(site, "12", "step", {{"step", "taps_opened"}, {"state", "done"}});
  EXPECT_FALSE(taps_are_marked(solved(site)));
}

// The school's verdict: nitrate is brought below its limit, so have the product analysed first.
TEST(Handover, what_must_be_analysed_first_keeps_the_marks_on) {
  EXPECT_TRUE(taps_are_marked(solved(example_site("school"))));
}

TEST(Handover, nobody_drinks_where_faecal_germs_were_found) {
  Json site = example_site("office");
  body_of(site, "survey")["faecal_indicators"] = "present";
  EXPECT_TRUE(taps_are_marked(solved(site)));
}

TEST(Handover, a_blend_that_is_being_set_or_lets_in_too_much_keeps_the_marks_on) {
  Json site = example_site("office");
  const Json done = {{"turns", 0.5},
                     {"value", 64},
                     {"unit", "ppm"},
                     {"standing", "done"},
                     {"share_pct", 8},
                     {"permitted_pct", 12}};
  body_of(site, "machine")["blend"] = {{"full_open_flow_L_h", 30}, {"opening_pct", 0}};
  EXPECT_FALSE(taps_are_marked(solved(site)));
  // Open as it was entered, on a water of which a dozen substances with a health limit are unknown.
  body_of(site, "machine")["blend"]["opening_pct"] = 10;
  EXPECT_EQ(blend_trouble(solved(site))->id, "blend.trouble.none");
  EXPECT_TRUE(taps_are_marked(solved(site)));
  log(site, "10", "blend", {{"taste", "fresh"}});
  EXPECT_TRUE(taps_are_marked(solved(site)));
  log(site, "11", "blend_turn", {{"turns", 0.5}, {"value", 64}, {"unit", "ppm"}});
  EXPECT_TRUE(taps_are_marked(solved(site)));
  log(site, "12", "blend_left", done);
  EXPECT_FALSE(taps_are_marked(solved(site)));
  Json over = done;
  over["share_pct"] = 20;
  over["reason"] = "asked for in writing";
  log(site, "13", "blend_left", over);
  EXPECT_TRUE(taps_are_marked(solved(site)));
  log(site, "14", "blend_left", {{"turns", 0}});
  EXPECT_FALSE(taps_are_marked(solved(site)));
}

// At the school, its unanalysed substances as they usually are there, some is permitted.
TEST(Handover, says_what_is_wrong_with_the_blend) {
  const auto trouble = [](const Json& site) {
    const auto m = blend_trouble(solved(site));
    return m ? m->id : std::string();
  };
  Json site = example_site("school");
  Json usual = Json::array();
  for (const char* key : {"NO2", "Cu", "B", "U", "Cr", "Cd", "Ba", "Se", "Hg", "Ni"}) {
    usual.push_back({{"substance", key}, {"high_mg_L", 0.0002}});
  }
  body_of(site, "survey")["local"] = {{"name", "Valley"}, {"usual", usual}};
  log(site, "10", "reading", {{"point", "product_flow"}, {"value", 10}, {"unit", "L_h"}});
  EXPECT_EQ(trouble(site), "");
  body_of(site, "machine")["blend"] = {{"full_open_flow_L_h", 400}, {"opening_pct", 100}};
  EXPECT_EQ(trouble(site), "blend.trouble.over");
  log(site, "11", "blend", {{"taste", "fresh"}});
  EXPECT_EQ(trouble(site), "blend.trouble.unfinished");
  Json left{{"turns", 1}, {"permitted_pct", 12}, {"reason", "asked for"}};
  log(site, "12", "blend_left", left);
  EXPECT_EQ(trouble(site), "blend.trouble.not_known");
  left["share_pct"] = 9;
  log(site, "13", "blend_left", left);
  EXPECT_EQ(trouble(site), "");
  // Entered anew, and wide open: how it was left says nothing any more.
  Json machine = body_of(site, "machine");
  machine["blend"]["opening_pct"] = 90;
  log(site, "14", "machine", machine);
  EXPECT_EQ(trouble(site), "blend.trouble.over");
}

// Every word of both papers is in the catalogue, whatever the machine has.
TEST(Handover, says_what_this_unit_has) {
  Json site = example_site("school");
  const auto sheet_of = [&](const Solved& s) {
    const auto doc = users_sheet(s, {}, messages::catalogue("en"));
    const auto printed = paper::print(doc, *paper::Fonts::create({}));
    EXPECT_TRUE(printed);
    EXPECT_EQ(printed->pages, 1);
    return printed->pdf.size();
  };
  const auto with_blend = sheet_of(solved(site));
  body_of(site, "machine").erase("blend");
  EXPECT_NE(sheet_of(solved(site)), with_blend);
}

}  // namespace
}  // namespace drawoff::api
