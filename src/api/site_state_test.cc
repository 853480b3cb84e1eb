#include "api/site_state.h"

#include <fmt/format.h>
#include <gtest/gtest.h>

namespace drawoff::api {
namespace {

using fields::Json;

class File {
 public:
  File& add(const char* at, const char* kind, Json body, const char* supersedes = nullptr) {
    ++n_;
    Json entry{{"id", fmt::format("01957a2e-4c00-7abc-8def-{:012}", n_)},
               {"at", at},
               {"author", "a"},
               {"device", "d"},
               {"clock", fmt::format("{}.000Z-0000-d", std::string(at).substr(0, 19))},
               {"kind", kind},
               {"body", std::move(body)}};
    if (supersedes != nullptr) entry["supersedes"] = supersedes;
    entries_.push_back(std::move(entry));
    return *this;
  }
  File& machine(const char* at, double flow, double run_time, const char* supersedes = nullptr) {
    Json element{{"size", "2012"},
                 {"permeate_flow_L_h", flow},
                 {"test_pressure_bar", 4.1},
                 {"run_time_h", run_time}};
    return add(at,
               "machine",
               {{"supply", {{"pressure_bar", 3}}},
                {"element", std::move(element)},
                {"restrictor", {{"flow_mL_min", 500}}}},
               supersedes);
  }
  // The machine that was entered first, corrected: its blend stands so [%].
  File& with_blend(const char* at, double opening) {
    Json body = entries_.front()["body"];
    body["blend"] = {{"full_open_flow_L_h", 20}, {"opening_pct", opening}};
    return add(at, "machine", std::move(body), "01957a2e-4c00-7abc-8def-000000000001");
  }
  File& read(const char* at) {
    return add(at, "reading", {{"point", "product_flow"}, {"value", 10}, {"unit", "L_h"}});
  }
  File& read_ppm(const char* at, const char* point, double ppm) {
    return add(at, "reading", {{"point", point}, {"value", ppm}, {"unit", "ppm"}});
  }
  SiteState state() const {
    fields::ReadContext context;
    const Json json{{"schema", "drawoff.site"}, {"version", 1}, {"entries", entries_}};
    const auto file = book::read_site_json(json, context);
    EXPECT_TRUE(file) << (file ? "" : file.error().message.id);
    auto state = site_state(*file, context);
    EXPECT_TRUE(state) << (state ? "" : state.error().message.id);
    return *std::move(state);
  }

 private:
  Json entries_ = Json::array();
  int n_ = 0;
};

constexpr const char* kFirstId = "01957a2e-4c00-7abc-8def-000000000001";

TEST(SiteState, first_day_values_are_provisional_until_a_reading_a_day_later) {
  File file;
  file.machine("2026-03-03T08:00:00Z", 10, 0).read("2026-03-03T09:00:00Z");
  EXPECT_TRUE(first_day_is_provisional(file.state()));
  // Another visit, but not a day later.
  file.read("2026-03-04T08:00:00Z");
  EXPECT_TRUE(first_day_is_provisional(file.state()));
  file.read("2026-03-20T09:00:00Z").read("2026-03-20T09:10:00Z").read("2026-05-01T09:00:00Z");
  const auto state = file.state();
  EXPECT_FALSE(first_day_is_provisional(state));
  EXPECT_EQ(state.first.size(), 1U);
  EXPECT_EQ(state.again.size(), 2U);  // of the first visit that was late enough, no later one
  EXPECT_EQ(read_again_after(state).si(), 17 * 86400.0);
}

// Between them a visit that read the flow alone: it may settle the values no further than that.
TEST(SiteState, the_first_later_visit_that_reads_in_full_counts) {
  File file;
  file.machine("2026-03-03T08:00:00Z", 10, 0).read("2026-03-03T09:00:00Z");
  file.read("2026-03-20T09:00:00Z");
  EXPECT_EQ(file.state().again.front().at, "2026-03-20T09:00:00Z");
  file.read("2026-05-01T09:00:00Z").read_ppm("2026-05-01T09:05:00Z", "reject_quality", 600);
  EXPECT_EQ(file.state().again.front().at, "2026-03-20T09:00:00Z") << "nothing of the passage";
  file.read("2026-06-01T09:00:00Z").read_ppm("2026-06-01T09:05:00Z", "product_quality", 30);
  file.read("2026-09-01T09:00:00Z").read_ppm("2026-09-01T09:05:00Z", "product_quality", 33);
  const auto state = file.state();
  ASSERT_EQ(state.again.size(), 2U);
  EXPECT_EQ(state.again.front().at, "2026-06-01T09:00:00Z");
}

// What was read of the water alone, the evening before, begins no first day.
TEST(SiteState, the_machine_begins_the_first_day) {
  File file;
  file.machine("2026-03-02T08:00:00Z", 10, 0)
      .read_ppm("2026-03-02T16:00:00Z", "raw_quality", 400)
      .add("2026-03-02T17:00:00Z", "start_up", {{"new_membrane", true}})
      .read("2026-03-03T08:10:00Z")
      .read_ppm("2026-03-03T08:20:00Z", "product_quality", 30);
  const auto state = file.state();
  ASSERT_EQ(state.first.size(), 2U);
  EXPECT_EQ(state.first.front().at, "2026-03-03T08:10:00Z");
  EXPECT_TRUE(state.again.empty());
  // With one between them the evening and the morning are one visit.
  file.read_ppm("2026-03-02T22:00:00Z", "raw_quality", 410);
  EXPECT_EQ(file.state().first.size(), 4U);
}

TEST(SiteState, a_membrane_that_has_run_for_a_day_needs_no_second_reading) {
  File file;
  file.machine("2026-03-03T08:00:00Z", 10, 24).read("2026-03-03T09:00:00Z");
  EXPECT_FALSE(first_day_is_provisional(file.state()));
}

TEST(SiteState, a_new_membrane_begins_anew) {
  File file;
  file.machine("2026-03-03T08:00:00Z", 10, 0)
      .read("2026-03-03T09:00:00Z")
      .read("2026-03-20T09:00:00Z");
  // A slip in the entry is no new membrane.
  file.machine("2026-04-01T08:00:00Z", 12, 0, kFirstId);
  EXPECT_FALSE(first_day_is_provisional(file.state()));
  // Nor is the same machine, entered again with its hours.
  file.machine("2026-05-01T08:00:00Z", 12, 900).read("2026-05-01T09:00:00Z");
  EXPECT_EQ(file.state().first.front().at, "2026-03-03T09:00:00Z");
  file.machine("2027-05-01T08:00:00Z", 14, 0).read("2027-05-01T09:00:00Z");
  const auto state = file.state();
  EXPECT_TRUE(first_day_is_provisional(state));
  ASSERT_EQ(state.first.size(), 1U);
  EXPECT_EQ(state.first.front().at, "2027-05-01T09:00:00Z");
  // The same plate again, but fresh.
  file.machine("2028-05-01T08:00:00Z", 14, 8000).machine("2028-06-01T08:00:00Z", 14, 0);
  EXPECT_TRUE(file.state().first.empty());
}

TEST(SiteState, a_start_up_with_a_new_membrane_begins_anew) {
  File file;
  file.machine("2026-03-03T08:00:00Z", 10, 900)
      .read("2026-03-03T09:00:00Z")
      .read("2026-03-20T09:00:00Z");
  // Moved, with the membrane that it had.
  file.add("2027-05-01T08:00:00Z", "start_up", {{"membrane_in", true}});
  EXPECT_EQ(file.state().first.front().at, "2026-03-03T09:00:00Z");
  file.add("2028-05-01T08:00:00Z",
           "reading",
           {{"point", "raw_quality"}, {"value", 400}, {"unit", "ppm"}})
      .read("2028-05-01T08:10:00Z")
      .add("2028-05-01T09:00:00Z", "start_up", {{"new_membrane", true}})
      .read("2028-05-01T11:00:00Z");
  const auto state = file.state();
  for (const auto* readings : {&state.first, &state.readings}) {
    ASSERT_EQ(readings->size(), 2U);
    EXPECT_EQ(readings->front().at, "2028-05-01T08:00:00Z");  // the water's
    EXPECT_EQ(readings->back().at, "2028-05-01T11:00:00Z");
  }
  EXPECT_EQ(state.machine->body.element.run_time->si(), 0);
  EXPECT_EQ(state.machine->written["element"]["run_time_h"], 0);
  EXPECT_TRUE(first_day_is_provisional(state));
  EXPECT_TRUE(state.earlier.empty());
  EXPECT_EQ(state.of_membrane_before.size(), 2U);
  // A start-up after it, with that membrane.
  file.add("2028-08-01T08:00:00Z", "start_up", Json::object());
  EXPECT_EQ(file.state().first.size(), 2U);
}

// Set on the first day, read, and set anew a year later: each day's product is of its own opening.
TEST(SiteState, the_first_day_keeps_the_blend_that_it_had) {
  File file;
  const auto set = [&file](const std::string& day, double opening) {
    file.add((day + "T10:00:00Z").c_str(), "blend", {{"low_ppm", 55}, {"high_ppm", 75}});
    file.add((day + "T11:00:00Z").c_str(),
             "blend_left",
             {{"turns", 1}, {"standing", "done"}, {"share_pct", 9}, {"permitted_pct", 12}});
    file.with_blend((day + "T11:00:01Z").c_str(), opening);
  };
  file.machine("2026-03-03T08:00:00Z", 10, 0).with_blend("2026-03-03T08:30:00Z", 90);
  file.read("2026-03-03T09:00:00Z");
  set("2026-03-03", 30);
  file.read("2026-03-03T12:00:00Z");
  EXPECT_FALSE(file.state().first_opening);
  set("2027-03-03", 50);
  file.read("2027-03-03T12:00:00Z");
  const auto state = file.state();
  ASSERT_EQ(state.first.size(), 1U);
  EXPECT_EQ(state.first.front().at, "2026-03-03T12:00:00Z");
  EXPECT_DOUBLE_EQ(on_first_day(state).blend->opening, 0.3);
  EXPECT_DOUBLE_EQ(state.machine->body.blend->opening, 0.5);
  EXPECT_EQ(state.readings.size(), 1U);
  EXPECT_TRUE(state.again.empty()) << "as set, it tells of another opening";
}

// The technician of one phone hands over at noon; what another phone wrote at ten comes in later.
TEST(SiteState, what_was_handed_over_is_what_stood_there_then) {
  const Json signed_of_two{{"technician", "R. Tamsin"}, {"receiver", "M. Orsolt"}, {"covers", 2}};
  File file;
  file.machine("2026-03-03T08:00:00Z", 10, 0).read("2026-03-03T09:00:00Z");
  EXPECT_FALSE(file.state().handed_over);
  file.add("2026-03-03T12:00:00Z", "handed_over", signed_of_two);
  EXPECT_FALSE(file.state().changed_since);
  File late = file;
  late.read("2026-03-03T10:00:00Z");
  EXPECT_TRUE(late.state().changed_since);
  File after = file;
  after.read("2026-03-03T13:00:00Z");
  EXPECT_TRUE(after.state().changed_since);
  after.add("2026-03-03T14:00:00Z",
            "handed_over",
            {{"technician", "R. Tamsin"}, {"nobody", "nobody_there"}, {"covers", 4}});
  EXPECT_FALSE(after.state().changed_since);
}

TEST(SiteState, the_product_before_the_blend_was_set_is_not_judged_as_set_now) {
  File file;
  file.machine("2026-03-03T08:00:00Z", 10, 0).read("2026-03-03T09:00:00Z");
  file.add("2026-03-03T10:00:00Z", "blend", {{"low_ppm", 55}, {"high_ppm", 75}});
  EXPECT_EQ(file.state().readings.size(), 1) << "the setting is not finished";
  file.add("2026-03-03T11:00:00Z",
           "blend_left",
           {{"turns", 1}, {"standing", "done"}, {"share_pct", 9}, {"permitted_pct", 12}});
  EXPECT_EQ(file.state().readings.size(), 0);
  EXPECT_EQ(file.read("2026-03-03T12:00:00Z").state().readings.size(), 1);
}

}  // namespace
}  // namespace drawoff::api
