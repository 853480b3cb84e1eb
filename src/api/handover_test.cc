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

// What comes first, in the order in which it is said.
std::vector<std::string> first_of(const Json& site) {
  std::vector<std::string> out;
  for (const auto& m : before_drinking(solved(site))) {
    out.push_back(m.id.substr(std::string("paper.users.first.").size()));
  }
  return out;
}
using Ids = std::vector<std::string>;

TEST(Handover, tells_what_comes_before_anyone_drinks) {
  EXPECT_EQ(first_of(example_site("clinic")), Ids{"analysed"});
  EXPECT_EQ(first_of(example_site("school")), (Ids{"blend", "analysed"}));
  Json site = example_site("office");
  EXPECT_EQ(first_of(site), Ids{});
  log(site, "10", "start_up", Json::object());
  EXPECT_EQ(first_of(site), Ids{"started_up"});
  body_of(site, "survey")["faecal_indicators"] = "present";
  EXPECT_EQ(first_of(site), (Ids{"disinfected", "started_up"}));
}

// The words of a sheet, in order: what stands first, and all of them.
struct Words {
  std::string first, all;
};
Words words_of(const Solved& s, const char* language) {
  Words out;
  for (const paper::Block& block : users_sheet(s, {}, messages::catalogue(language)).blocks) {
    std::string text;
    if (const auto* caution = std::get_if<paper::Caution>(&block.is)) text = caution->word;
    if (const auto* words = std::get_if<paper::Text>(&block.is)) text = words->text;
    if (const auto* heading = std::get_if<paper::Heading>(&block.is)) text = heading->text;
    if (out.first.empty()) out.first = text;
    out.all += text + "\n";
  }
  return out;
}

// On the day of the hand-over its laboratory's result is not there.
TEST(Handover, a_sheet_for_a_water_that_nobody_drinks_yet_begins_with_that) {
  const Solved clinic = solved(example_site("clinic"));
  const Words en = words_of(clinic, "en");
  EXPECT_TRUE(en.first.starts_with("Do not drink this water yet.")) << en.first;
  EXPECT_NE(en.first.find("A laboratory has analysed the water from this unit"), std::string::npos);
  EXPECT_TRUE(words_of(clinic, "es").first.starts_with("No beba todavía de esta agua."));
  EXPECT_TRUE(words_of(clinic, "hi").first.starts_with("यह पानी अभी न पिएँ।"));
  for (const char* name : {"clinic", "school"}) {
    const Solved s = solved(example_site(name));
    EXPECT_EQ(words_of(s, "en").all.find("drinking water"), std::string::npos);
    EXPECT_EQ(words_of(s, "es").all.find("agua para beber"), std::string::npos);
    EXPECT_EQ(words_of(s, "hi").all.find("पीने का पानी"), std::string::npos);
  }
  EXPECT_EQ(words_of(solved(example_site("office")), "en").first, "What it does");
}

TEST(Handover, names_the_raw_water_by_its_source) {
  Json site = example_site("school");
  const std::string borehole = words_of(solved(site), "en").all;
  EXPECT_NE(borehole.find("It presses water from the borehole"), std::string::npos);
  EXPECT_NE(borehole.find("let some water from the borehole go round"), std::string::npos);
  EXPECT_EQ(borehole.find("tap water"), std::string::npos);
  body_of(site, "survey")["source"] = "rain";
  EXPECT_NE(words_of(solved(site), "hi").all.find("बारिश के पानी को"), std::string::npos);
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
