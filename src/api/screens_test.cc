// What the app relies on: the screens answer for every state of a site, in both units, and say the
// same as the job.
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <map>
#include <set>

#include "api/api.h"
#include "api/form_screen.h"
#include "api/question_test.h"
#include "base/base64.h"
#include "fields/json.h"
#include "messages/catalogue.h"

namespace drawoff::api {
namespace {

using fields::Json;

// DRAWOFF_REFERENCE is data/reference of the checkout.
const std::filesystem::path kRoot = std::filesystem::path(DRAWOFF_REFERENCE) / ".." / "..";

std::string file(const char* name) {
  std::ifstream stream(kRoot / "examples" / (std::string(name) + ".site.json"));
  EXPECT_TRUE(stream.good()) << name;
  return {std::istreambuf_iterator<char>(stream), std::istreambuf_iterator<char>()};
}

Json site(const char* name) { return *fields::parse_json(file(name)); }

Json answer_to(const char* name, const Json& input, bool explain = false) {
  const auto answer = ask({.name = name, .input = input, .explain = explain});
  if (!answer) {
    ADD_FAILURE() << name << ": "
                  << messages::render(messages::catalogue("en"), answer.error().message);
    return Json::object();
  }
  return answer->output;
}

Json view(const Json& site_file) { return answer_to("view", {{"site_file", site_file}}); }

std::string text(const Json& json, const char* key) {
  const auto* found = json.contains(key) ? json[key].get_ptr<const std::string*>() : nullptr;
  return found == nullptr ? std::string() : *found;
}

const Json& point(const Json& view, const char* name) {
  static const Json kNone;
  for (const Json& p : view["scene"]["points"]) {
    if (text(p, "point") == name) return p;
  }
  ADD_FAILURE() << "no point " << name;
  return kNone;
}

// Takes entries of a kind out of a site file.
Json without(Json site_file, const char* kind) {
  Json kept = Json::array();
  for (const Json& entry : site_file["entries"]) {
    if (text(entry, "kind") != kind) kept.push_back(entry);
  }
  site_file["entries"] = kept;
  return site_file;
}

TEST(View, says_the_same_as_the_job) {
  for (const char* name : {"school", "clinic", "office"}) {
    SCOPED_TRACE(name);
    const auto done = job(file(name));
    ASSERT_TRUE(done);
    const Json seen = view(site(name));
    // The machine's own values are a screen of their own: before the cautions, which come last.
    std::vector<std::string> both, told;
    const auto own = ask({.name = "own_values", .input = {{"site_file", site(name)}}});
    ASSERT_TRUE(own);
    for (const Json& line : seen["lines"]) both.push_back(line["cells"].dump());
    for (const JobLine& line : done->lines) {
      Json cells = Json::array();
      for (const auto& cell : line.cells) {
        cells.push_back(messages::render(messages::catalogue("en"), cell));
      }
      told.push_back(cells.dump());
    }
    const auto cautions = std::find(both.begin(), both.end(), "[\"Take care\"]");
    ASSERT_NE(cautions, both.end());
    std::vector<std::string> middle;
    for (const Json& line : own->output["lines"]) middle.push_back(line["cells"].dump());
    EXPECT_FALSE(middle.empty());
    both.insert(cautions, middle.begin(), middle.end());
    EXPECT_EQ(both, told);
    // The last reading of each point is on the drawing, with the same verdict.
    std::map<std::string, Json> last;
    for (const Json& r : done->output["start_up"]["readings"]) last[text(r, "point")] = r;
    for (const auto& [name_of_point, r] : last) {
      const Json& p = point(seen, text(r, "point").c_str());
      EXPECT_EQ(p["value"], r["value"]);
      if (r["fit"].is_null()) continue;
      EXPECT_EQ(text(p, "fit"),
                messages::render(messages::catalogue("en"), {"fit." + text(r, "fit")}));
      EXPECT_EQ(p["outside"], text(r, "fit") != "as_expected");
    }
  }
}

TEST(View, the_school_marks_pump_and_restrictor) {
  const Json seen = view(site("school"));
  EXPECT_EQ(text(seen, "headline_kind"), "fault");
  std::set<std::string> marked;
  for (const Json& p : seen["scene"]["parts"]) {
    if (!text(p, "explains").empty()) marked.insert(text(p, "id"));
  }
  EXPECT_EQ(marked, (std::set<std::string>{"pump", "restrictor"}));
  EXPECT_EQ(text(seen["next"], "point"), "reject_flow");
}

// Judging one reading at once must agree with judging the whole site.
TEST(View, a_reading_judged_at_once_is_judged_the_same) {
  Json before = site("school");
  Json reading;
  Json kept = Json::array();
  for (const Json& entry : before["entries"]) {
    if (text(entry["body"], "point") == "product_flow") {
      reading = entry["body"];
    } else {
      kept.push_back(entry);
    }
  }
  before["entries"] = kept;
  reading["condition"].erase("since_start_min");
  const Json open = view(before);
  // In the state of the real reading: the next one there would have it by default.
  const Json judged = answer_to("judge",
                                {{"likely", point(open, "product_flow")["likely"]},
                                 {"like", point(open, "product_flow")["like"]},
                                 {"reading", reading}});
  const Json after = view(site("school"));
  const Json& p = point(after, "product_flow");
  EXPECT_EQ(judged["fit"], p["fit"]);
  EXPECT_EQ(judged["reading"], p["reading"]);
  EXPECT_EQ(judged["expected"], p["expected"]);
  EXPECT_EQ(judged["mark"], p["mark"]);
}

// A slip is questioned while it is typed, with the reason; what may be a fault is not.
TEST(View, a_slip_is_questioned_at_once) {
  const Json open = view(without(site("school"), "reading"));
  const auto question = [&](const char* where, double value, const char* unit) {
    Json reading = point(open, where)["like"];
    reading["value"] = value;
    reading["unit"] = unit;
    return text(answer_to("judge",
                          {{"likely", point(open, where)["likely"]},
                           {"like", point(open, where)["like"]},
                           {"reading", reading},
                           {"raw_conductivity_25_uS_cm", open["raw_conductivity_25_uS_cm"]},
                           {"surveyed", open["surveyed"]}}),
                "question");
  };
  EXPECT_EQ(question("product_flow", 90, "L_h"), "");
  EXPECT_EQ(question("product_flow", 40, "L_h"), "");
  EXPECT_NE(question("product_flow", 900, "L_h").find("ten times"), std::string::npos);
  EXPECT_NE(question("product_quality", 700, "ppm").find("as strong as the raw water"),
            std::string::npos);
  // The raw water against its survey.
  const double surveyed = open["surveyed"]["middle_uS_cm"].get<double>();
  EXPECT_EQ(question("raw_quality", surveyed, "uS_cm"), "");
  EXPECT_EQ(question("raw_quality", 1.5 * surveyed, "uS_cm"), "");  // another water, no slip
  EXPECT_NE(question("raw_quality", 0.1 * surveyed, "uS_cm").find("a tenth"), std::string::npos);
  EXPECT_NE(question("raw_quality", surveyed, "ppm").find("µS/cm"), std::string::npos);
}

// In another unit or on another scale it is the same reading; in another state it is not judged
// yet.
TEST(View, a_reading_is_judged_the_same_in_any_unit) {
  const Json open = view(without(site("school"), "reading"));
  const auto judge = [&](const char* where, double value, const char* unit, const Json& more) {
    Json reading = point(open, where)["like"];
    reading["value"] = value;
    reading["unit"] = unit;
    reading.update(more, true);
    return answer_to("judge",
                     {{"likely", point(open, where)["likely"]},
                      {"like", point(open, where)["like"]},
                      {"reading", reading}});
  };
  const Json none = Json::object();
  for (const auto& [bar, psi, kPa] :
       {std::array{5.3, 76.87, 530.0}, std::array{8.0, 116.03, 800.0}}) {
    const Json metric = judge("membrane_pressure", bar, "bar", none);
    EXPECT_EQ(judge("membrane_pressure", psi, "psi", none)["fit"], metric["fit"]);
    EXPECT_EQ(judge("membrane_pressure", kPa, "kPa", none)["fit"], metric["fit"]);
    EXPECT_NE(text(judge("membrane_pressure", psi, "psi", none), "expected").find("psi"),
              std::string::npos);
  }
  for (const double ppm : {45.0, 70.0, 160.0}) {
    const Json half = judge("product_quality", ppm, "ppm", none);
    EXPECT_EQ(judge("product_quality", 2 * ppm, "uS_cm", none)["fit"], half["fit"]) << ppm;
  }
  const Json shut = judge(
      "product_quality", 70, "ppm", {{"condition", {{"product_to", "jug"}, {"blend", "shut"}}}});
  EXPECT_EQ(text(shut, "fit"), "");
  EXPECT_TRUE(shut["band"].is_null());
  EXPECT_EQ(judge("raw_quality", 900, "ppm", none)["outside"], false);
}

// A visit that is over is what was read last time: a new reading starts the next one.
TEST(View, knows_when_a_visit_is_over) {
  const Json school = site("school");
  const auto flow_at = [&](const char* at) {
    return point(answer_to("view", {{"site_file", school}, {"at", at}}), "product_flow");
  };
  const Json during = flow_at("2026-03-03T10:00:00Z");
  EXPECT_NE(text(during, "entry"), "");
  EXPECT_TRUE(during["last"].is_null());
  const Json later = flow_at("2026-09-03T10:00:00Z");
  EXPECT_EQ(text(later, "entry"), "");
  EXPECT_EQ(later["last"]["value"], 66);
}

TEST(View, a_reading_taken_again_counts_alone) {
  Json school = site("school");
  add_entry(school,
            "reading",
            {{"point", "product_flow"},
             {"value", 95},
             {"unit", "L_h"},
             {"condition", {{"product_to", "jug"}}}},
            "2026-03-03T09:40:00Z",
            "019cb310-6000-7000-8000-000000000001");
  const Json seen = view(school);
  EXPECT_EQ(point(seen, "product_flow")["value"], 95);
  EXPECT_EQ(point(seen, "product_flow")["outside"], false);
  const auto done = job(school.dump());
  ASSERT_TRUE(done);
  std::vector<std::string> fits;
  for (const Json& r : done->output["start_up"]["readings"]) {
    if (text(r, "point") == "product_flow") fits.push_back(text(r, "set_aside"));
  }
  EXPECT_EQ(fits, (std::vector<std::string>{"reading.read_again", ""}));
}

TEST(View, many_readings_lose_no_point) {
  Json school = site("school");
  for (int i = 0; i < 90; ++i) {
    char id[40];
    std::snprintf(id, sizeof(id), "019cb310-6000-7000-8000-%012d", i);
    char at[40];
    std::snprintf(at, sizeof(at), "2026-03-03T10:%02d:%02dZ", i / 60, i % 60);
    add_entry(school,
              "reading",
              {{"point", "product_quality"},
               {"value", 80},
               {"unit", "ppm"},
               {"condition", {{"product_to", "jug"}}}},
              at,
              id);
  }
  const Json seen = view(school);
  EXPECT_EQ(point(seen, "membrane_pressure")["value"], 5.2);
  EXPECT_EQ(text(seen, "headline_kind"), "fault");
}

// Nothing is concluded of a water and a machine of which only a meter reading and a size are known.
TEST(View, a_kept_quick_check_invents_nothing) {
  const Json quick = answer_to(
      "quick", {{"raw", {{"value", 900}}}, {"product", {{"value", 60}}}, {"size", "2812"}});
  Json kept = {{"schema", "drawoff.site"}, {"version", 1}, {"entries", Json::array()}};
  add_entry(kept,
            "site",
            {{"name", "Quick"}},
            "2026-03-03T08:00:00Z",
            "019cb310-6000-7000-8000-000000000001");
  add_entry(kept,
            "survey",
            quick["survey"],
            "2026-03-03T08:00:01Z",
            "019cb310-6000-7000-8000-000000000002");
  add_entry(kept,
            "machine",
            quick["machine"],
            "2026-03-03T08:00:02Z",
            "019cb310-6000-7000-8000-000000000003");
  const auto done = job(kept.dump());
  ASSERT_TRUE(done);
  EXPECT_TRUE(done->output["verdict"]["substances"].empty());
  EXPECT_EQ(text(done->output["verdict"], "warranted"), "cannot_say");
  const Json seen = view(kept);
  for (const Json& part : seen["scene"]["parts"]) {
    EXPECT_EQ(text(part, "detail").find("bar"), std::string::npos) << text(part, "detail");
  }
}

// A form that starts from what is kept must not take defaults for values that were given.
TEST(View, gives_back_what_was_kept_and_no_defaults) {
  const Json office = site("office");
  const Json seen = view(office);
  for (const Json& entry : office["entries"]) {
    const std::string kind = text(entry, "kind");
    if (kind == "reading") continue;
    EXPECT_EQ(seen[kind]["body"], entry["body"]) << kind;
    EXPECT_EQ(text(seen[kind], "entry"), text(entry, "id")) << kind;
  }
}

TEST(View, asks_for_what_is_missing) {
  const Json school = site("school");
  for (const char* kind : {"site", "machine", "survey"}) {
    const Json seen = view(without(school, kind));
    EXPECT_EQ(text(seen, "headline_kind"), "needs") << kind;
    EXPECT_TRUE(seen["scene"].is_null()) << kind;
    EXPECT_FALSE(text(seen, "headline").empty()) << kind;
  }
  EXPECT_EQ(text(view({{"schema", "drawoff.site"}, {"version", 1}, {"entries", Json::array()}}),
                 "headline_kind"),
            "needs");
}

TEST(View, a_blend_that_may_not_be_open_comes_before_good_news) {
  Json office = site("office");
  EXPECT_EQ(text(view(office), "headline_kind"), "good");
  Json& machine = body_of(office, "machine");
  machine["blend"] = {{"full_open_flow_L_h", 30}, {"opening_pct", 0.1}};
  const Json seen = view(office);
  EXPECT_EQ(text(seen, "headline_kind"), "fault");
  EXPECT_EQ(text(seen, "headline"), "Look at the blend first");
}

TEST(View, without_readings_shows_how_it_should_run) {
  const Json seen = view(without(site("school"), "reading"));
  EXPECT_EQ(text(seen, "headline_kind"), "plain");
  for (const Json& p : seen["scene"]["points"]) {
    EXPECT_FALSE(text(p, "expected").empty()) << text(p, "point");
    EXPECT_EQ(text(p, "reading"), "");
    EXPECT_FALSE(p["band"].is_null());
    EXPECT_FALSE(p["units"].empty());
  }
}

TEST(View, what_if_moves_the_bands_the_right_way) {
  const Json school = without(site("school"), "reading");
  const auto middle = [&](const Json& what_if, const char* name) {
    const Json seen = answer_to("view", {{"site_file", school}, {"what_if", what_if}});
    const Json& band = point(seen, name)["band"];
    return (*band["low"].get_ptr<const double*>() + *band["high"].get_ptr<const double*>()) / 2;
  };
  // Warm water is thinner: more product. A tighter restrictor: more pressure, less reject.
  EXPECT_GT(middle({{"temperature_C", 30}}, "product_flow"),
            middle({{"temperature_C", 5}}, "product_flow"));
  EXPECT_LT(middle({{"restrictor_pct", 60}}, "reject_flow"),
            middle({{"restrictor_pct", 140}}, "reject_flow"));
  // More blend: a stronger product.
  EXPECT_GT(middle({{"blend_opening_pct", 60}}, "product_quality"),
            middle({{"blend_opening_pct", 5}}, "product_quality"));
}

// What the sheet and the notice say, the screen that hands over says too.
TEST(View, says_that_nobody_drinks_yet_and_until_what) {
  const Json school = view(site("school"))["before_drinking"];
  ASSERT_GE(school.size(), 2U);
  EXPECT_NE(school[0].get<std::string>().find("Let nobody drink"), std::string::npos);
  EXPECT_TRUE(view(site("office"))["before_drinking"].empty());
}

TEST(View, another_day_is_another_visit) {
  Json school = site("school");
  const Json reading = {{"point", "product_flow"},
                        {"value", 90},
                        {"unit", "L_h"},
                        {"condition", {{"product_to", "jug"}}}};
  add_entry(
      school, "reading", reading, "2026-06-03T08:00:00Z", "019e8c2f-6a00-7000-8000-000000000001");
  const Json seen = view(school);
  const Json& flow = point(seen, "product_flow");
  EXPECT_EQ(flow["value"], 90);
  EXPECT_EQ(flow["last"]["value"], 66);
  const Json& pressure = point(seen, "membrane_pressure");
  EXPECT_TRUE(pressure["value"].is_null());
  EXPECT_EQ(pressure["last"]["value"], 5.2);
}

TEST(View, keeps_why_a_reading_was_not_possible_and_its_withdrawal) {
  Json school = site("school");
  const char* id = "019cb307-0000-7000-8000-000000000001";
  add_entry(school,
            "not_possible",
            {{"point", "reject_flow"}, {"because", "no_access"}},
            "2026-03-03T09:30:00Z",
            id);
  const Json seen = view(school);
  EXPECT_FALSE(text(point(seen, "reject_flow"), "not_possible").empty());
  EXPECT_EQ(text(point(seen, "reject_flow"), "not_possible_entry"), id);
  add_entry(school,
            "withdrawn",
            Json::object(),
            "2026-03-03T09:31:00Z",
            "019cb307-ea60-7000-8000-000000000002");
  school["entries"].back()["supersedes"] = id;
  EXPECT_EQ(text(point(view(school), "reject_flow"), "not_possible"), "");
}

TEST(View, working_names_what_it_explains) {
  const Json seen = answer_to("view", {{"site_file", site("school")}}, true);
  std::set<std::string> results;
  for (const Json& line : seen["working"]) results.insert(text(line, "result"));
  for (const Json& p : seen["scene"]["points"]) {
    for (const Json& key : p["working"]) {
      EXPECT_TRUE(results.contains(*key.get_ptr<const std::string*>())) << key;
    }
  }
}

TEST(View, speaks_in_the_units_asked_for) {
  const Json seen =
      answer_to("view", {{"site_file", without(site("school"), "reading")}, {"units", "us"}});
  EXPECT_NE(text(point(seen, "membrane_pressure"), "expected").find("psi"), std::string::npos);
  EXPECT_NE(text(point(seen, "temperature"), "expected").find("°F"), std::string::npos);
  for (const Json& line : seen["lines"]) {
    for (const Json& cell : line["cells"]) {
      EXPECT_EQ(cell.get_ptr<const std::string*>()->find("\u00a0bar"), std::string::npos) << cell;
    }
  }
}

// 90 % of an office's product, in litres and in US gallons: 1 US gal = 3.785411784 L.
TEST(View, says_what_a_day_makes_in_the_units_asked_for) {
  Json file = without(site("office"), "reading");
  for (Json& entry : file["entries"]) {
    if (text(entry, "kind") == "survey") entry["body"]["building"]["water_hours"] = 6;
  }
  const auto line = [&](const char* units) {
    const Json seen = answer_to("view", {{"site_file", file}, {"units", units}});
    for (const Json& one : seen["lines"]) {
      for (const Json& cell : one["cells"]) {
        const auto* said = cell.get_ptr<const std::string*>();
        if (said->find("/day") != std::string::npos) return *said;
      }
    }
    return std::string();
  };
  EXPECT_NE(line("metric").find("\u00a0L/day"), std::string::npos) << line("metric");
  EXPECT_NE(line("us").find("\u00a0US gal/day"), std::string::npos) << line("us");
  EXPECT_EQ(line("us").find("\u00a0L/day"), std::string::npos) << line("us");
}

// ---- Forms --------------------------------------------------------------------------------------

TEST(FormScreen, every_field_has_a_label_and_every_choice_a_name) {
  const Json machine = {{"pump", Json::object()},
                        {"blend", Json::object()},
                        {"filters", Json::array({Json::object()})},
                        {"tap", Json::object()},
                        {"building", Json::object()},
                        {"plan", Json::object()},
                        {"local",
                         {{"limits", Json::array({Json::object()})},
                          {"usual", Json::array({Json::object()})},
                          {"scale", Json::array({Json::object()})}}},
                        {"further", Json::array({Json::object()})},
                        {"meter", {{"reads", "ppm"}, {"instrument", {{"scale", "calibrated"}}}}},
                        {"checks", Json::array({{{"standard_uS_cm", 84}, {"buffer_pH", 7}}})},
                        {"gauge_checks", Json::array({Json::object()})},
                        {"inlet", 3},
                        {"membrane", 5},
                        {"hold", 3},
                        {"pH", Json::object()},
                        {"nitrate", Json::object()}};
  for (const char* form :
       {"site", "survey", "known", "report", "machine", "meter", "reading", "quick"}) {
    const Json seen = answer_to("form", {{"form", form}, {"body", machine}});
    EXPECT_GT(seen["fields"].size(), 1U);
    for (const Json& f : seen["fields"]) {
      // A missing id shows as itself: with dots and no space.
      for (const char* key : {"label", "group"}) {
        EXPECT_EQ(text(f, key).find("label."), std::string::npos) << text(f, key);
      }
      for (const Json& c : f["choices"]) {
        EXPECT_EQ(text(c, "label").find("choice."), std::string::npos) << text(c, "label");
      }
    }
  }
}

std::set<std::string> asked_of_meter(const Json& meter) {
  const Json body = {{"meter", meter}, {"checks", Json::array({Json::object()})}};
  std::set<std::string> paths;
  const Json seen = answer_to("form", {{"form", "meter"}, {"body", body}});
  for (const Json& f : seen["fields"]) paths.insert(text(f, "path"));
  return paths;
}

TEST(FormScreen, a_meter_is_asked_what_fits_what_it_reads) {
  const auto pen = asked_of_meter({{"reads", "ppm"}});
  EXPECT_TRUE(pen.contains("checks[0].standard_uS_cm"));
  EXPECT_FALSE(pen.contains("checks[0].buffer_pH"));
  EXPECT_TRUE(pen.contains("meter.instrument.scale"));
  EXPECT_FALSE(pen.contains("meter.instrument.calibrated_factor"));
  EXPECT_FALSE(pen.contains("on")) << "today is given by the app";
  const auto ph = asked_of_meter({{"reads", "pH"}});
  EXPECT_TRUE(ph.contains("checks[0].buffer_pH"));
  EXPECT_FALSE(ph.contains("checks[0].standard_uS_cm"));
  EXPECT_FALSE(ph.contains("meter.instrument.scale"));
}

TEST(FormScreen, an_accuracy_that_nobody_entered_is_not_zero) {
  const Json seen =
      answer_to("form", {{"form", "meter"}, {"body", {{"meter", {{"reads", "ppm"}}}}}});
  int numbers = 0;
  for (const Json& f : seen["fields"]) {
    if (text(f, "kind") != "number") continue;
    ++numbers;
    EXPECT_EQ(text(f, "usually"), "") << text(f, "path");
  }
  EXPECT_EQ(numbers, 7);  // five of the accuracy, raw, product
}

TEST(FormScreen, what_does_not_fit_the_meter_stays_in_sight) {
  const Json body = {
      {"meter", {{"reads", "pH"}}},
      {"checks",
       {{{"standard_uS_cm", 84}, {"temperature_C", 25}, {"shown", 7}, {"on", "2026-11-27"}}}},
      {"on", "2026-11-27"}};
  const Json seen = answer_to("form", {{"form", "meter"}, {"body", body}});
  const auto paths = [&](const char* list) {
    std::set<std::string> out;
    for (const Json& one : seen[list]) out.insert(text(one, "path"));
    return out;
  };
  EXPECT_TRUE(paths("fields").contains("checks[0].standard_uS_cm"));
  EXPECT_TRUE(paths("errors").contains("checks[0].standard_uS_cm")) << "said beside it";
}

// A person is told the labels of fields, a file's paths only where there is no form.
TEST(FormScreen, a_sentence_names_fields_by_their_labels) {
  const auto first = [](const char* form, const Json& body) {
    const Json seen = answer_to("form", {{"form", form}, {"body", body}});
    EXPECT_FALSE(seen["errors"].empty());
    return seen["errors"].empty() ? std::string() : text(seen["errors"][0], "sentence");
  };
  EXPECT_EQ(
      first(
          "meter",
          {{"meter", {{"reads", "pH"}}},
           {"checks",
            {{{"standard_uS_cm", 84}, {"temperature_C", 25}, {"shown", 7}, {"on", "2026-11-27"}}}},
           {"on", "2026-11-27"}}),
      "Standard, at 25 °C is entered, but the meter reads pH. Enter “pH of the buffer” in its "
      "place, or set “What it reads” right.");
  EXPECT_EQ(
      first("known", {{"temperature_C", 15}, {"nitrate", {{"low_mg_L", 50}, {"high_mg_L", 10}}}}),
      "Strip: to is not above “Strip: from”. Enter the lower colour of the strip as “Strip: "
      "from” and the higher as “Strip: to”.");
  EXPECT_EQ(first("sanitise", {{"agent", "peracetic"}, {"volume_L", 5}, {"strength_pct", 5}})
                .find("sheet_"),
            std::string::npos);
}

TEST(FormScreen, a_gauge_is_asked_what_fits_a_gauge) {
  const auto asked = [](const Json& check) {
    const Json body = {{"meter", {{"reads", "bar"}}}, {"gauge_checks", Json::array({check})}};
    return answer_to("form", {{"form", "meter"}, {"body", body}})["fields"];
  };
  const auto paths = [&](const Json& check) {
    std::set<std::string> out;
    for (const Json& f : asked(check)) out.insert(text(f, "path"));
    return out;
  };
  const auto air = paths({{"against", "air"}});
  for (const char* pens : {"checks", "raw", "product", "meter.compensates"}) {
    EXPECT_FALSE(air.contains(pens)) << pens;
  }
  for (const char* gauges : {"gauge_checks", "inlet", "membrane", "hold"}) {
    EXPECT_TRUE(air.contains(gauges)) << gauges;
    EXPECT_FALSE(asked_of_meter({{"reads", "ppm"}}).contains(gauges)) << gauges;
  }
  EXPECT_FALSE(air.contains("gauge_checks[0].other_bar"));
  EXPECT_FALSE(air.contains("gauge_checks[0].column_m"));
  EXPECT_TRUE(paths({{"against", "gauge"}}).contains("gauge_checks[0].other_bar"));
  EXPECT_FALSE(paths({{"against", "gauge"}}).contains("gauge_checks[0].column_m"));
  EXPECT_TRUE(paths({{"against", "column"}}).contains("gauge_checks[0].column_m"));
  // What does not fit stays in sight, to be taken out.
  EXPECT_TRUE(paths({{"against", "air"}, {"column_m", 3}}).contains("gauge_checks[0].column_m"));
  for (const Json& f : asked({{"against", "air"}})) {
    if (text(f, "path") == "meter.instrument.last_digit") {
      EXPECT_EQ(text(f, "label"), "Smallest mark");
      EXPECT_EQ(text(f, "unit"), "bar");
    }
    if (text(f, "path") == "gauge_checks[0].shown") {
      EXPECT_EQ(text(f, "unit"), "bar");
    }
  }
}

TEST(FormScreen, a_machine_from_its_plates_is_a_machine) {
  const Json typed = Json::array({{{"path", "supply.pressure_bar"}, {"text", "3,2"}},
                                  {{"path", "element.size"}, {"text", "2012"}},
                                  {{"path", "element.permeate_flow_L_h"}, {"text", "14"}},
                                  {{"path", "element.test_pressure_bar"}, {"text", "4.1"}},
                                  {{"path", "restrictor.flow_mL_min"}, {"text", "420"}}});
  const Json filled = answer_to("enter", {{"form", "machine"}, {"typed", typed}});
  EXPECT_TRUE(filled["errors"].empty()) << filled["errors"].dump();
  Json school = site("school");
  for (Json& entry : school["entries"]) {
    if (text(entry, "kind") == "machine") entry["body"] = filled["body"];
  }
  EXPECT_FALSE(view(school)["scene"].is_null());
}

TEST(FormScreen, parts_that_few_machines_have_are_told_apart) {
  const Json seen = answer_to("form", {{"form", "machine"}});
  std::set<std::string> parts;
  std::set<std::string> rare;
  for (const Json& f : seen["fields"]) {
    if (text(f, "kind") == "part") parts.insert(text(f, "path"));
    if (f["rare"] == true) rare.insert(text(f, "path"));
  }
  EXPECT_EQ(rare.size(), 8U);
  for (const std::string& path : rare) EXPECT_EQ(parts.count(path), 1U) << path;
  for (const char* usual : {"pump", "blend"}) {
    EXPECT_EQ(parts.count(usual), 1U) << usual;
    EXPECT_EQ(rare.count(usual), 0U) << usual;
  }
}

TEST(FormScreen, a_contradiction_stands_beside_its_field) {
  const Json body = {
      {"pump",
       {{"open_flow_L_h", 100},
        {"rated_flow_L_h", 200},
        {"rated_pressure_bar", 5},
        {"bypass_pressure_bar", 7}}},
      {"supply", {{"pressure_bar", 3}}},
      {"element", {{"size", "2012"}, {"permeate_flow_L_h", 14}, {"test_pressure_bar", 4}}},
      {"restrictor", {{"flow_mL_min", 420}}}};
  const Json seen = answer_to("form", {{"form", "machine"}, {"body", body}});
  ASSERT_EQ(seen["errors"].size(), 1U);
  EXPECT_EQ(text(seen["errors"][0], "path"), "pump.rated_flow_L_h");
  EXPECT_EQ(text(seen["errors"][0], "sentence").find("pump.rated"), std::string::npos);
}

// ---- Papers -------------------------------------------------------------------------------------

TEST(PaperScreen, prints_each_paper_in_each_size) {
  for (const char* paper : {"record", "label"}) {
    for (const char* page : {"A4", "Letter"}) {
      const Json printed =
          answer_to("paper", {{"site_file", site("clinic")}, {"paper", paper}, {"page", page}});
      const auto pdf = base::from_base64(text(printed, "pdf"));
      ASSERT_TRUE(pdf);
      EXPECT_EQ(pdf->substr(0, 5), "%PDF-");
      EXPECT_TRUE(printed["missing_scripts"].empty());
      EXPECT_NE(text(printed, "name").find(".pdf"), std::string::npos);
    }
  }
}

// Of a step in the checklist of the job: what stands first below its heading.
std::string first_below(const Job& list, const char* what) {
  bool here = false;
  for (const JobLine& line : list.lines) {
    const std::string cell = messages::render(messages::catalogue("en"), line.cells[0]);
    if (line.kind == JobLine::Kind::kHeading) here = cell.find(what) != std::string::npos;
    if (here && line.kind == JobLine::Kind::kText) return cell;
  }
  return "";
}

TEST(Checklist, a_step_says_how_it_stands_with_its_note) {
  Json clinic = site("clinic");
  const auto log = [&](const char* minute, const char* kind, const Json& body) {
    const std::string at = "2026-03-04T09:" + std::string(minute) + ":00Z";
    const std::string id = "019cb2bf-2fc0-7381-a528-ceaf073975" + std::string(minute);
    add_entry(clinic, kind, body, at.c_str(), id.c_str());
  };
  log("10", "start_up", Json::object());
  log("11", "step", {{"step", "power_off"}, {"state", "done"}});
  log("12", "step", {{"step", "supply_flush"}, {"state", "not_good"}, {"note", "still brown"}});
  log("13", "step", {{"step", "joints_dry"}, {"state", "done"}});
  log("14", "step", {{"step", "first_fill"}, {"state", "skipped"}, {"note", "no cooler yet"}});
  auto list = checklist(clinic.dump(), {}, messages::catalogue("en"));
  ASSERT_TRUE(list);
  const auto first = [&](const char* what) { return first_below(*list, what); };
  EXPECT_EQ(first("Pull the plug"), "Done 2026-03-04 09:11 UTC.");
  EXPECT_EQ(first("Flush the new tube"), "Not good, 2026-03-04 09:12 UTC: still open. still brown");
  EXPECT_EQ(first("Wipe every joint with"),
            "All dry, 2026-03-04 09:13 UTC, before a step that comes first.");
  EXPECT_EQ(first("fill once"),
            "Skipped 2026-03-04 09:14 UTC, before a step that comes first: no cooler yet");
  log("15",
      "step",
      {{"step", "supply_flush"}, {"state", "done"}, {"wait_min", 20}, {"counted_min", 4.37}});
  log("16", "step", {{"step", "air_purge"}, {"state", "done"}, {"wait_min", 5}});
  list = checklist(clinic.dump(), {}, messages::catalogue("en"));
  ASSERT_TRUE(list);
  // The taps are not marked yet, so both came early.
  EXPECT_EQ(first("Flush the new tube"),
            "Done 2026-03-04 09:15 UTC, before a step that comes first. "
            "4.3 of 20\u00a0min by the clock. Not good before that, 2026-03-04 09:12 UTC.");
  EXPECT_EQ(first("until no more bubbles"),
            "Done 2026-03-04 09:16 UTC, before a step that comes first. Clock not used.");
  const auto done = job(clinic.dump(), false);
  ASSERT_TRUE(done);
  std::string lines;
  for (const JobLine& line : done->lines) {
    lines += messages::render(messages::catalogue("en"), line.cells[0]) + "\n";
  }
  EXPECT_NE(lines.find("Flush the supply: 4.3 of 20\u00a0min by the clock.\n"), std::string::npos);
  EXPECT_NE(lines.find("Let the air out: clock not used.\n"), std::string::npos);
  for (const char* page : {"A4", "Letter"}) {
    const Json printed = answer_to("paper", {{"site_file", clinic}, {"page", page}});
    EXPECT_LE(printed["pages"], Json(2)) << page;
    EXPECT_NE(printed["pdf"],
              answer_to("paper", {{"site_file", site("clinic")}, {"page", page}})["pdf"]);
  }
}

TEST(PaperScreen, names_a_script_whose_font_was_not_handed_in) {
  Json clinic = site("clinic");
  clinic["entries"][0]["body"]["name"] = "क्षेत्रीय विद्यालय";
  const Json printed = answer_to("paper", {{"site_file", clinic}});
  EXPECT_EQ(printed["missing_scripts"], Json::array({"Deva"}));
}

TEST(PaperScreen, refuses_a_site_without_a_machine_and_a_font_that_is_none) {
  const auto refused = [](const Json& input) {
    const auto answer = ask({.name = "paper", .input = input});
    EXPECT_FALSE(answer);
    return answer ? std::string() : answer.error().message.id;
  };
  EXPECT_EQ(refused({{"site_file", without(site("school"), "machine")}}), "error.job.no_machine");
  const Json font = {{"script", "Deva"}, {"regular", "!"}, {"bold", ""}};
  EXPECT_EQ(refused({{"site_file", site("school")}, {"fonts", Json::array({font})}}),
            "error.paper.base64");
}

TEST(Words, leaves_out_what_needs_arguments) {
  const Json words = answer_to("words", Json::object());
  bool found = false;
  for (const Json& t : words["texts"]) {
    EXPECT_EQ(text(t, "text").find('{'), std::string::npos) << text(t, "id");
    found = found || text(t, "id") == "part.pump";
  }
  EXPECT_TRUE(found);
  const Json said = answer_to("say",
                              {{"id", "job.band"},
                               {"numbers",
                                Json::array({{{"key", "low"}, {"value", 1.5}},
                                             {{"key", "high"}, {"value", 2}, {"unit", "bar"}}})}});
  EXPECT_EQ(text(said, "text"), "1.5 to 2\u00a0bar");
}

}  // namespace
}  // namespace drawoff::api
