#include "visit/blend_limit.h"

#include <gtest/gtest.h>

#include "machine/example_entry_test.h"
#include "visit/example_test.h"

namespace drawoff::visit {
namespace {

using units::milligram_per_litre;

SubstanceVerdict substance(const char* key, double limit, double raw, double raw_high, double out) {
  return {.limit = {.substance = key, .value = milligram_per_litre(limit)},
          .evidence = Evidence::kLaboratory,
          .raw = milligram_per_litre(raw),
          .raw_high = milligram_per_litre(raw_high),
          .product_high = milligram_per_litre(out)};
}

// Worked by hand: (50 − 10)/(100 − 10).
TEST(BlendLimit, raw_water_up_to_the_limit) {
  EXPECT_DOUBLE_EQ(
      share_below(milligram_per_litre(50), milligram_per_litre(100), milligram_per_litre(10)),
      4.0 / 9);
  EXPECT_EQ(share_below(milligram_per_litre(50), milligram_per_litre(50), milligram_per_litre(5)),
            1);
  EXPECT_EQ(share_below(milligram_per_litre(50), milligram_per_litre(900), milligram_per_litre(60)),
            0);
}

// k is 0.8; over 1.6 it is 0.5, a share of 1/3.
TEST(BlendLimit, leaves_room_until_the_next_visit) {
  EXPECT_NEAR(today_of(4.0 / 9, 1.6), 1.0 / 3, 1e-12);
  EXPECT_EQ(today_of(1, 1.6), 1);
  EXPECT_EQ(today_of(0, 1.6), 0);
}

// At the share that it names, the substance stands at its limit: put back into the equation.
TEST(BlendLimit, the_substance_that_binds_is_named) {
  SurveyEntry survey;
  SourceVerdict verdict;
  verdict.substances = {substance("F", 1.5, 2, 3, 0.2), substance("NO3", 50, 80, 90, 8)};
  const HighestShare h = highest_share(survey, verdict, 1);
  EXPECT_EQ(h.bound, BlendBound::kSubstance);
  EXPECT_EQ(h.substance, "F");
  // The permeate of the strongest water holds 0.3.
  EXPECT_NEAR(0.3 + h.ever * (3 - 0.3), 1.5, 1e-12);
  EXPECT_DOUBLE_EQ(h.ever, h.today);
}

TEST(BlendLimit, nothing_over_its_limit_binds_nothing) {
  SourceVerdict verdict;
  verdict.substances = {substance("NO3", 50, 20, 25, 2)};
  const HighestShare h = highest_share({}, verdict, 2);
  EXPECT_EQ(h.bound, BlendBound::kNone);
  EXPECT_EQ(h.today, 1);
}

// Each is under its own limit, 0.6 and 0.7 of it; not both together.
TEST(BlendLimit, nitrate_and_nitrite_add_up) {
  SourceVerdict verdict;
  verdict.substances = {substance("NO3", 50, 30, 30, 3), substance("NO2", 3, 2.1, 2.1, 0.21)};
  const HighestShare h = highest_share({}, verdict, 1);
  EXPECT_EQ(h.bound, BlendBound::kSubstance);
  EXPECT_NEAR(0.13 + h.ever * (1.3 - 0.13), 1, 1e-12);
}

TEST(BlendLimit, what_nobody_knows_allows_none) {
  SourceVerdict verdict;
  verdict.not_analysed = {"As", "F"};
  const HighestShare h = highest_share({}, verdict, 1);
  EXPECT_EQ(h.bound, BlendBound::kUnknown);
  EXPECT_EQ(h.today, 0);
  EXPECT_EQ(h.unknown, (std::vector<std::string>{"As", "F"}));
}

TEST(BlendLimit, the_places_upper_value_stands_in) {
  SourceVerdict verdict;
  verdict.not_analysed = {"As"};
  verdict.substances = {substance("As", 0.01, 0.02, 0.02, 0.004)};
  verdict.substances[0].evidence = Evidence::kLocal;
  const HighestShare h = highest_share({}, verdict, 1);
  EXPECT_EQ(h.bound, BlendBound::kSubstance);
  EXPECT_NEAR(h.ever, 6.0 / 16, 1e-12);
}

TEST(BlendLimit, signs_of_faeces_allow_none_ever) {
  SurveyEntry survey;
  survey.faecal_indicators = FaecalIndicators::kPresent;
  const HighestShare h = highest_share(survey, {}, 1);
  EXPECT_EQ(h.bound, BlendBound::kFaecal);
  EXPECT_EQ(h.ever, 0);
  EXPECT_EQ(h.today, 0);
}

constexpr int kDraws = 60;

machine::RawWater borehole() {
  const auto surveyed = surveyed_water(borehole_survey());
  return {.composition = surveyed->composition, .temperature = surveyed->temperature};
}
Until as_it_is(const machine::MachineEntry& entry) {
  return {.coldest = borehole().temperature,
          .hottest = borehole().temperature,
          .lowest = entry.supply.pressure,
          .highest = entry.supply.pressure,
          .ageing = 1};
}

TEST(BlendLimit, nothing_changes_where_nothing_changes) {
  const auto entry = machine::full_plates();
  const auto d = drift(entry, borehole(), as_it_is(entry), 1, kDraws);
  ASSERT_TRUE(d);
  EXPECT_NEAR(*d, 1, 1e-9);  // of one solve done twice
}

// The membranes give about 3 % a kelvin less, the jet through a valve hardly less: ten kelvin
// colder between 1.1 and 1.6 (common practice, no source).
TEST(BlendLimit, cold_water_lets_the_share_rise) {
  const auto entry = machine::full_plates();
  Until until = as_it_is(entry);
  until.coldest = units::Temperature(until.coldest.si() - 10);
  const auto d = drift(entry, borehole(), until, 1, kDraws);
  ASSERT_TRUE(d);
  EXPECT_GT(*d, 1.1);
  EXPECT_LT(*d, 1.6);
  until.ageing = 0.8;
  const auto older = drift(entry, borehole(), until, 1, kDraws);
  ASSERT_TRUE(older);
  EXPECT_GT(*older, *d);
}

// A unit without a pump, on a tank that its shut-off stops.
machine::MachineEntry on_its_tank() {
  auto entry = machine::full_plates();
  entry.pump.reset();
  entry.element.size = "2012";
  entry.element.permeate_flow = units::litre_per_hour(14);
  entry.element.test_pressure = units::bar(4.1);
  entry.restrictor = {.flow = units::litre_per_hour(30), .pressure = units::bar(4)};
  entry.supply.pressure = units::bar(4);
  entry.blend = machine::BlendEntry{.full_open_flow = units::litre_per_hour(14), .opening = 0.02};
  entry.product.height = units::metre(0);
  entry.product.vessel_pressure = units::bar(0);
  entry.product.precharge = units::bar(0.5);
  entry.hydraulic_shut_off = machine::HydraulicShutOffEntry{};
  return entry;
}

// By hand: at 65 % of the feed's pressure the valve still has 35 % of it, √0.35 = 0.59 of its flow;
// the membrane, at an osmotic pressure of a tenth of the feed's or less, (0.35 − 0.1)/0.9 = 0.28 to
// 0.35 of its own. So k rises to 1.7 to 2.2 of that into an open outlet: wider by a tenth, for the
// filters' losses that the full tank spares.
TEST(BlendLimit, a_tank_that_fills_lets_the_share_rise) {
  const auto entry = on_its_tank();
  const auto full = drift(entry, borehole(), as_it_is(entry), 1, kDraws);
  ASSERT_TRUE(full);
  EXPECT_GT(*full, 1.55);
  EXPECT_LT(*full, 2.4);
  // Stopped sooner it rises less; without a stop raw water comes in alone.
  auto sooner = entry;
  sooner.hydraulic_shut_off->closes_at = 0.4;
  sooner.hydraulic_shut_off->opens_at = 0.3;
  const auto less = drift(sooner, borehole(), as_it_is(entry), 1, kDraws);
  ASSERT_TRUE(less);
  EXPECT_LT(*less, *full);
  auto never = entry;
  never.hydraulic_shut_off.reset();
  const auto alone = drift(never, borehole(), as_it_is(entry), 1, kDraws);
  ASSERT_TRUE(alone);
  EXPECT_GT(*alone, 10);
  // A cooler stands open: nothing pushes back.
  auto cooler = entry;
  cooler.product.vessel = machine::ProductVessel::kCooler;
  const auto open = drift(cooler, borehole(), as_it_is(entry), 1, kDraws);
  ASSERT_TRUE(open);
  EXPECT_NEAR(*open, 1, 1e-9);  // of one solve done twice
}

TEST(BlendLimit, no_valve_no_drift) {
  auto entry = machine::full_plates();
  entry.blend.reset();
  EXPECT_FALSE(drift(entry, borehole(), as_it_is(entry), 1, kDraws));
}

// The units' permeate, not their product: a blend that is open now must not count twice.
TEST(BlendLimit, judges_the_water_behind_the_membranes) {
  const auto survey = borehole_survey();
  const auto surveyed = surveyed_water(survey);
  const auto start_up = judge_start_up(survey, machine::full_plates(), {}, {.draws = kDraws});
  ASSERT_TRUE(start_up);
  const auto water =
      water_behind_membranes(*surveyed, start_up->raw.composition, start_up->streams);
  ASSERT_EQ(water.made.size(), start_up->streams.size());
  double behind = 0;
  double blended = 0;
  for (std::size_t i = 0; i < water.made.size(); ++i) {
    behind += amount_of("NO3", water.made[i].product).si();
    blended += amount_of("NO3", start_up->streams[i].product).si();
  }
  EXPECT_LT(behind, blended);
}

}  // namespace
}  // namespace drawoff::visit
