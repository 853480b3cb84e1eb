#include "api/solved.h"

#include <gtest/gtest.h>

#include <algorithm>

#include "api/question_test.h"
#include "messages/catalogue.h"

namespace drawoff::api {
namespace {

std::string said(const machine::Condition& condition) {
  return messages::render(messages::catalogue("en"),
                          state_of({.point = machine::Point::kRejectFlow, .condition = condition}));
}

TEST(Solved, a_reading_is_named_with_the_state_that_it_was_taken_in) {
  EXPECT_EQ(said({}), "reject flow");
  EXPECT_EQ(said({.blend = machine::BlendState::kShut}), "reject flow, blend shut");
  EXPECT_EQ(said({.flush_valve = machine::FlushState::kOpen}), "reject flow, flush valve open");
  EXPECT_EQ(said({.flush_valve = machine::FlushState::kShut}), "reject flow");
  EXPECT_EQ(said({.pump = machine::PumpState::kOff}), "reject flow, pump off");
}

Solved solved(const fields::Json& site) {
  fields::ReadContext context;
  auto state = site_state(*book::read_site_json(site, context), context);
  return *solve(*std::move(state), {});
}

// The office as it was read, without the points that are named.
fields::Json without(const std::vector<std::string>& points) {
  fields::Json site = example_site("office");
  fields::Json kept = fields::Json::array();
  for (const auto& entry : site["entries"]) {
    const bool left_out =
        entry["kind"] == "reading" &&
        std::find(points.begin(), points.end(), entry["body"]["point"]) != points.end();
    if (!left_out) kept.push_back(entry);
  }
  site["entries"] = std::move(kept);
  return site;
}

// One reading that fits is no proof of a machine.
TEST(Solved, passes_nothing_whose_flow_or_quality_was_not_read) {
  EXPECT_EQ(standing_of(solved(without({}))).id, "job.standing.as_expected");
  const auto quality = standing_of(solved(without({"product_flow"})));
  EXPECT_EQ(quality.id, "job.standing.so_far");
  EXPECT_EQ(messages::render(messages::catalogue("en"), quality),
            "So far it fits, but it has not passed: the flow of the product was not read.");
  const auto flow = solved(without({"product_quality", "permeate_quality"}));
  EXPECT_EQ(flow.start_up.unread, std::vector{machine::Point::kProductQuality});
  EXPECT_EQ(standing_of(flow).id, "job.standing.so_far");
}

// The school's pump is weak; a month later only the product is read, and fits.
TEST(Solved, a_visit_that_does_not_read_in_full_forgets_no_fault) {
  fields::Json site = example_site("school");
  EXPECT_EQ(solved(site).start_up.standing, visit::StartUpStanding::kNotYet);
  EXPECT_FALSE(standing_before(solved(site)));
  add_entry(site,
            "reading",
            {{"point", "product_quality"}, {"value", 87}, {"unit", "ppm"}},
            "2026-04-03T10:00:00Z",
            "019cb2bf-2fc0-7381-a528-ceaf07398010");
  const auto later = solved(site);
  ASSERT_TRUE(standing_before(later));
  EXPECT_EQ(messages::render(messages::catalogue("en"), *standing_before(later)),
            "On 2026-03-03 readings lay outside what this machine should do. Not all of them were "
            "read again since.");
}

}  // namespace
}  // namespace drawoff::api
