#include "visit/in_building.h"

#include <gtest/gtest.h>

#include "visit/verdict_example_test.h"

namespace drawoff::visit {
namespace {

using units::litre_per_hour;

std::vector<std::string> said(const BuildingEntry& building,
                              const std::optional<UnitFlow>& unit = {}) {
  std::vector<std::string> out;
  for (const auto& m : in_building(building, unit)) {
    out.push_back(in_words(m));
  }
  return out;
}

const UnitFlow kUnit{.low = litre_per_hour(20), .high = litre_per_hour(30)};
const std::string kTank =
    "A tank bridges the rest of the day. After such a stand the first glass is drawn off, not "
    "drunk.";

TEST(InBuilding, says_nothing_of_what_is_in_order) {
  EXPECT_TRUE(said({}).empty());
  EXPECT_TRUE(said({}, kUnit).empty());
  EXPECT_TRUE(said({.water_hours = 24, .power_hours = 24}, kUnit).empty());
}

TEST(InBuilding, light_on_clear_tube_grows_algae) {
  EXPECT_EQ(said({.clear_tube_in_light = true}),
            std::vector<std::string>{"Clear tube stands in the light: algae grow in it. Cover it, "
                                     "or take opaque tube."});
}

TEST(InBuilding, an_open_drain_tail_is_screened_and_keeps_its_air_gap) {
  EXPECT_EQ(said({.drain_unscreened = true}),
            std::vector<std::string>{"The tail of the drain line stands open: insects and smell "
                                     "come in through it. Put a screen over it, and keep the air "
                                     "gap."});
}

// 20 to 30 L/h in 2.5 h: 50 to 75 L, by hand.
TEST(InBuilding, few_hours_of_water_make_what_the_unit_makes_in_them) {
  const std::string water =
      "There is water for 2.5 h a day: the unit makes product in that time only.";
  EXPECT_EQ(said({.water_hours = 2.5}), (std::vector<std::string>{water, kTank}));
  EXPECT_EQ(said({.water_hours = 2.5}, kUnit),
            (std::vector<std::string>{water, "That is 50 L/day to 75 L/day.", kTank}));
}

TEST(InBuilding, few_hours_of_electricity_count_for_a_unit_that_needs_it) {
  const std::string power =
      "There is electricity for 6 h a day: the unit makes product in that time only.";
  EXPECT_EQ(said({.power_hours = 6}), (std::vector<std::string>{power, kTank}));
  EXPECT_EQ(said({.power_hours = 6}, kUnit),
            (std::vector<std::string>{power, "That is 120 L/day to 180 L/day.", kTank}));
  UnitFlow plain = kUnit;
  plain.electric = false;
  EXPECT_TRUE(said({.power_hours = 6}, plain).empty());
  EXPECT_EQ(said({.water_hours = 24, .power_hours = 6}, kUnit), said({.power_hours = 6}, kUnit));
}

// Of 4 and 6 hours at most 4 are of both: 80 to 120 L.
TEST(InBuilding, hours_of_both_are_at_most_the_shorter) {
  const std::string both =
      "There is water for 4 h and electricity for 6 h a day: the unit makes product only while "
      "both are there.";
  const BuildingEntry building{.water_hours = 4, .power_hours = 6};
  EXPECT_EQ(said(building), (std::vector<std::string>{both, kTank}));
  EXPECT_EQ(said(building, kUnit),
            (std::vector<std::string>{both,
                                      "That is 80 L/day to 120 L/day, if both come at the same "
                                      "time; less if they do not.",
                                      kTank}));
}

TEST(InBuilding, stands_in_the_verdict_however_much_is_known_of_the_water) {
  auto survey = borehole_survey();
  EXPECT_FALSE(says(verdict_of(survey).behind, "verdict.behind.clear_tube"));
  survey.building = BuildingEntry{.clear_tube_in_light = true, .water_hours = 3};
  for (const auto basis : {SurveyBasis::kAnalysis, SurveyBasis::kMeter}) {
    survey.basis = basis;
    const auto behind = verdict_of(survey).behind;
    EXPECT_TRUE(says(behind, "verdict.behind.clear_tube"));
    EXPECT_TRUE(says(behind, "verdict.behind.hours_water"));
    EXPECT_FALSE(says(behind, "verdict.behind.hours_make"));
  }
}

}  // namespace
}  // namespace drawoff::visit
