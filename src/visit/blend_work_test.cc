#include "visit/blend_work.h"

#include <gtest/gtest.h>

namespace drawoff::visit {
namespace {

using fields::Table;

const ReadingEntry kRaw{.point = machine::Point::kRawQuality, .value = 600};
const ReadingEntry kPermeate{.point = machine::Point::kPermeateQuality, .value = 20};

TEST(BlendWork, the_guide_is_asked_what_was_read) {
  const BlendWorkEntry work{.low = 60, .high = 80, .turns_open = 6};
  const BlendTurnEntry turn{.turns = 0.5, .value = 44, .waited = units::Time(240)};
  const auto s = blend_setting(work, kRaw, kPermeate, std::span(&turn, 1));
  EXPECT_DOUBLE_EQ(s.raw, 600);
  EXPECT_DOUBLE_EQ(s.permeate, 20);
  EXPECT_EQ(s.low, 60);
  EXPECT_EQ(s.turns_open, 6);
  ASSERT_EQ(s.readings.size(), 1U);
  EXPECT_DOUBLE_EQ(s.readings[0].product, 44);
  EXPECT_EQ(s.readings[0].waited, units::Time(240));
}

// 600 ppm of the half scale are 1,200 µS/cm at 25 °C by definition.
TEST(BlendWork, another_unit_is_brought_to_that_of_the_last_turn) {
  const BlendTurnEntry turn{.turns = 0.5, .value = 88, .unit = ReadingUnit::kMicrosiemens};
  const auto s = blend_setting({}, kRaw, kPermeate, std::span(&turn, 1));
  EXPECT_EQ(s.unit, MeterUnit::kMicrosiemens);
  EXPECT_NEAR(s.raw, 1200, 1e-9);
  EXPECT_NEAR(s.permeate, 40, 1e-9);
}

TEST(BlendWork, what_nothing_advised_needs_a_reason) {
  BlendLeftEntry left{.turns = 1.25,
                      .value = 64,
                      .standing = BlendStanding::kDone,
                      .share = 0.09,
                      .permitted = 0.12};
  EXPECT_TRUE(left_as_advised(left));
  EXPECT_TRUE(Table<BlendLeftEntry>::check(left, {}));
  left.permitted = 0.08;
  EXPECT_FALSE(left_as_advised(left));
  EXPECT_FALSE(Table<BlendLeftEntry>::check(left, {}));
  left.permitted = 0.12;
  left.standing = BlendStanding::kTurn;
  EXPECT_FALSE(Table<BlendLeftEntry>::check(left, {}));
  left.standing.reset();
  EXPECT_FALSE(Table<BlendLeftEntry>::check(left, {}));
  left.reason = "the customer wants it so";
  EXPECT_TRUE(Table<BlendLeftEntry>::check(left, {}));
  EXPECT_TRUE(Table<BlendLeftEntry>::check({.turns = 0}, {})) << "shut needs none";
}

TEST(BlendWork, refuses_what_cannot_be) {
  EXPECT_FALSE(Table<BlendWorkEntry>::check({.low = 60, .high = 61}, {}));
  EXPECT_FALSE(Table<BlendTurnEntry>::check({.turns = 1, .unit = ReadingUnit::kBar}, {}));
  EXPECT_FALSE(
      Table<UntilEntry>::check({.coldest = units::celsius(20), .hottest = units::celsius(10)}, {}));
  EXPECT_FALSE(Table<UntilEntry>::check(
      {.lowest_supply = units::bar(4), .highest_supply = units::bar(2)}, {}));
}

TEST(BlendWork, the_windows_are_such_as_a_meter_can_hit) {
  for (const TasteWindow& w : kTasteWindows) {
    EXPECT_TRUE(Table<BlendWorkEntry>::check({.low = w.low, .high = w.high}, {}));
  }
}

}  // namespace
}  // namespace drawoff::visit
