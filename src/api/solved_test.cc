#include "api/solved.h"

#include <gtest/gtest.h>

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

}  // namespace
}  // namespace drawoff::api
