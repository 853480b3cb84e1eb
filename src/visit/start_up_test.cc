#include "visit/start_up.h"

#include <gtest/gtest.h>

#include <algorithm>

#include "visit/example_test.h"
#include "visit/verdict_example_test.h"
#include "water/conductivity.h"

namespace drawoff::visit {
namespace {

using machine::Point;

StartUp judged(const std::vector<ReadingEntry>& readings,
               const machine::MachineEntry& entry = wall_unit_entry()) {
  auto result = judge_start_up(borehole_survey(), entry, readings, {.draws = 200, .seed = 5});
  EXPECT_TRUE(result);
  return *result;
}

inference::Interval expected(const StartUp& s, Point p) {
  for (const auto& e : s.expected) {
    if (e.point == p) return e.expected;
  }
  ADD_FAILURE() << "no expectation";
  return {};
}

// What the median machine with a fault would read into a jug.
double faulty(machine::Parameter parameter, double degree, Point p) {
  const auto survey = borehole_survey();
  const auto raw = water::speciate(water::analysis_of(survey.water));
  const auto feed = machine::feed_of({.composition = *raw, .temperature = units::celsius(16)});
  auto specimen = machine::nominal(wall_unit_entry(), feed).specimen;
  specimen.parameters[parameter] *= degree;
  return machine::values_at(
      specimen, feed, {.product_to = machine::ProductVessel::kJug})[static_cast<std::size_t>(p)];
}

TEST(StartUp, expects_every_point_with_its_median_inside) {
  const auto s = judged({});
  EXPECT_EQ(s.standing, StartUpStanding::kNoReadings);
  EXPECT_EQ(s.outcome, machine::Outcome::kRuns);
  EXPECT_EQ(s.expected.size(), static_cast<std::size_t>(machine::kPointCount));
  for (const auto& e : s.expected) {
    EXPECT_LT(e.expected.low, e.expected.middle);
    EXPECT_LT(e.expected.middle, e.expected.high);
  }
  EXPECT_GT(s.median.product_flow, expected(s, Point::kProductFlow).low);
  EXPECT_LT(s.median.product_flow, expected(s, Point::kProductFlow).high);
}

// A tenth of 24 V is 2.4 V: 21.6 V may be, 21.5 V is said.
TEST(StartUp, says_when_the_pump_gets_too_little_voltage) {
  auto entry = wall_unit_entry();
  ASSERT_TRUE(entry.pump);
  EXPECT_FALSE(voltage_caution(entry));
  entry.pump->voltage = units::volt(18);
  EXPECT_FALSE(voltage_caution(entry));  // of a plate that nobody read
  entry.pump->plate_voltage = units::volt(24);
  const auto said = voltage_caution(entry);
  ASSERT_TRUE(said);
  EXPECT_EQ(in_words(*said),
            "The pump gets 18 V while it runs, and its plate asks for 24 V: more than a tenth is "
            "lost, as over a thin cable or a long lead. A licensed person looks at it.");
  entry.pump->voltage = units::volt(21.6);
  EXPECT_FALSE(voltage_caution(entry));
  entry.pump->voltage = units::volt(21.5);
  EXPECT_TRUE(voltage_caution(entry));
  entry.pump.reset();
  EXPECT_FALSE(voltage_caution(entry));
}

TEST(StartUp, tells_the_verdict_what_the_unit_makes_in_few_hours) {
  auto survey = borehole_survey();
  survey.building = BuildingEntry{.water_hours = 4, .power_hours = 6};
  auto entry = wall_unit_entry();
  const auto surveyed = surveyed_water(survey);
  ASSERT_TRUE(surveyed);
  const auto runs = judge_start_up(survey, entry, {}, {.draws = 100});
  ASSERT_TRUE(runs);
  const auto water = judged_water(*surveyed, entry, *runs);
  ASSERT_TRUE(water.unit);
  EXPECT_TRUE(water.unit->electric);
  EXPECT_EQ(water.unit->low.si(), expected(*runs, Point::kProductFlow).low);
  EXPECT_EQ(water.unit->high.si(), expected(*runs, Point::kProductFlow).high);
  const auto verdict = source_verdict(survey, water);
  ASSERT_TRUE(verdict);
  EXPECT_TRUE(says(verdict->behind, "verdict.behind.hours_make_most"));
  // Nothing is promised of a machine that does not run.
  entry.supply.pressure = units::bar(0);
  entry.pump.reset();
  const auto stands = judge_start_up(survey, entry, {}, {.draws = 100});
  ASSERT_TRUE(stands);
  EXPECT_FALSE(judged_water(*surveyed, entry, *stands).unit);
}

// A trickle needs a gap finer than what the filter before it lets through; a usual blend does not.
TEST(StartUp, says_when_a_blend_is_too_fine_to_hold) {
  auto entry = wall_unit_entry();
  entry.blend = machine::BlendEntry{.full_open_flow = units::litre_per_hour(0.05), .opening = 1};
  const auto fine = judge_start_up(borehole_survey(), entry, {}, {.draws = 100});
  ASSERT_TRUE(fine);
  ASSERT_TRUE(blend_gap(*fine));
  EXPECT_LT(blend_gap(*fine)->gap, units::millimetre(0.005));
  EXPECT_TRUE(blend_caution(*fine));
  entry.blend->full_open_flow = units::litre_per_hour(10);
  const auto coarse = judge_start_up(borehole_survey(), entry, {}, {.draws = 100});
  ASSERT_TRUE(coarse);
  EXPECT_GT(blend_gap(*coarse)->gap, blend_gap(*fine)->gap);
  EXPECT_FALSE(blend_caution(*coarse));
  entry.blend.reset();
  EXPECT_FALSE(blend_gap(*judge_start_up(borehole_survey(), entry, {}, {.draws = 100})));
}

// Raw and product have different ppm factors, so the two reductions are not the same number.
TEST(StartUp, tells_reduction_by_mass_from_reduction_by_meter) {
  const auto s = judged({});
  EXPECT_NE(s.reduction_mass.middle, s.reduction_ppm.middle);
  EXPECT_NEAR(s.reduction_mass.middle, s.reduction_ppm.middle, 0.05);
}

TEST(StartUp, a_sound_machine_fits_and_a_fault_does_not) {
  const auto s = judged({});
  const double flow = expected(s, Point::kProductFlow).middle * 3.6e6;
  const double reject = expected(s, Point::kRejectFlow).middle * 3.6e6;
  const auto sound = judged({reading(Point::kProductFlow, flow, ReadingUnit::kLh),
                             reading(Point::kRejectFlow, reject, ReadingUnit::kLh)});
  EXPECT_EQ(sound.standing, StartUpStanding::kAsExpected);
  ASSERT_FALSE(sound.causes.causes.empty());
  EXPECT_EQ(sound.causes.causes.front().id, "");
  EXPECT_GT(sound.causes.causes.front().probability, 0.7);  // its prior

  const auto loose = machine::Parameter::kRestrictorFlow;
  const auto broken = judged(
      {reading(
           Point::kProductFlow, faulty(loose, 1.8, Point::kProductFlow) * 3.6e6, ReadingUnit::kLh),
       reading(
           Point::kRejectFlow, faulty(loose, 1.8, Point::kRejectFlow) * 3.6e6, ReadingUnit::kLh)});
  EXPECT_EQ(broken.standing, StartUpStanding::kNotYet);
  EXPECT_EQ(broken.causes.causes.front().id, "restrictor_loose");
}

// Two causes that take the same pressure are said together, with the reading that splits them.
TEST(StartUp, says_what_cannot_be_told_apart_and_how_to_tell) {
  const auto s = judged({});
  const auto weak = machine::Parameter::kPumpFlow;
  const auto r = judged(
      {reading(
           Point::kProductFlow, faulty(weak, 0.6, Point::kProductFlow) * 3.6e6, ReadingUnit::kLh),
       reading(Point::kMembranePressure,
               faulty(weak, 0.6, Point::kMembranePressure) * 1e-5,
               ReadingUnit::kBar)});
  const auto& first = r.causes.causes.front();
  std::vector<std::string> group = first.alike;
  group.push_back(first.id);
  EXPECT_NE(std::find(group.begin(), group.end(), "pump_weak"), group.end());
  EXPECT_NE(std::find(group.begin(), group.end(), "restrictor_loose"), group.end());
  EXPECT_EQ(r.next_point, Point::kRejectFlow);
}

// Colder water makes less product; a machine judged on the day's water is not blamed for it.
TEST(StartUp, the_days_water_is_taken_from_the_readings) {
  const auto warm = judged({reading(Point::kTemperature, 16, ReadingUnit::kCelsius)});
  const auto cold = judged({reading(Point::kTemperature, 6, ReadingUnit::kCelsius)});
  EXPECT_LT(expected(cold, Point::kProductFlow).middle,
            0.85 * expected(warm, Point::kProductFlow).middle);
  const auto raw = water::speciate(water::analysis_of(borehole_survey().water));
  const double ppm = water::conductivity_25(*raw).si() * 1e4 * 0.5;
  const auto strong = judged({reading(Point::kRawQuality, 1.2 * ppm, ReadingUnit::kPpm)});
  EXPECT_GT(expected(strong, Point::kRawQuality).middle,
            1.1 * expected(warm, Point::kRawQuality).middle);
  // One good reading narrows what was a season's spread.
  const auto width = [](const inference::Interval& i) { return (i.high - i.low) / i.middle; };
  EXPECT_LT(width(expected(strong, Point::kRawQuality)),
            0.7 * width(expected(warm, Point::kRawQuality)));
}

TEST(StartUp, sets_aside_what_was_read_too_early) {
  auto early = reading(Point::kProductQuality, 150, ReadingUnit::kPpm);
  early.condition.since_start = units::Time(30);
  const auto s = judged({early});
  ASSERT_EQ(s.readings.size(), 1U);
  ASSERT_TRUE(s.readings[0].set_aside);
  EXPECT_EQ(s.readings[0].set_aside->id, "reading.too_early");
  EXPECT_FALSE(s.readings[0].judgement);
  EXPECT_EQ(s.standing, StartUpStanding::kNoReadings);
}

TEST(StartUp, sets_aside_what_a_part_that_is_not_there_gave) {
  auto flushed = reading(Point::kRejectFlow, 600, ReadingUnit::kLh);
  flushed.condition.flush_valve = machine::FlushState::kOpen;
  const auto s = judged({flushed});
  ASSERT_EQ(s.readings.size(), 1U);
  ASSERT_TRUE(s.readings[0].set_aside);
  EXPECT_EQ(s.readings[0].set_aside->id, "reading.no_flush_valve");
}

// Product shut off while it runs: what holds it back is named, and no meter is to be held in a
// product that does not run.
TEST(StartUp, a_product_that_stands_still_has_a_cause) {
  auto specimen_pressure =
      faulty(machine::Parameter::kPostFilterLoss, 1e5, Point::kMembranePressure);
  const auto r =
      judged({reading(Point::kProductFlow, 0, ReadingUnit::kLh),
              reading(Point::kMembranePressure, specimen_pressure * 1e-5, ReadingUnit::kBar)});
  const auto& first = r.causes.causes.front();
  std::vector<std::string> group = first.alike;
  group.push_back(first.id);
  EXPECT_NE(std::find(group.begin(), group.end(), "product_line_pressed"), group.end());
  ASSERT_TRUE(r.next_point);
  EXPECT_NE(*r.next_point, Point::kProductQuality);
  EXPECT_NE(*r.next_point, Point::kPermeateQuality);
}

TEST(StartUp, says_when_the_low_pressure_switch_will_not_let_it_run) {
  auto entry = wall_unit_entry();
  using units::bar;
  const double running = judged({}).median.filtered_pressure * 1e-5;
  const auto of = [&](double cut_out, double cut_in) {
    entry.low_pressure_switch =
        machine::SwitchEntry{.cut_out = bar(cut_out), .cut_in = bar(cut_in)};
    return judged({}, entry).low_switch;
  };
  // Supply 2.8 ± 0.2 bar: at rest the switch's 1.5 is passed, 4 never.
  EXPECT_EQ(of(0.3, 1.5).hunts, 0);
  EXPECT_EQ(of(0.3, 1.5).holds, 0);
  EXPECT_EQ(of(0.3, 4).holds, 1);
  const auto edge = of(running, 2.5);
  EXPECT_GT(edge.hunts, 0.2);
  EXPECT_LT(edge.hunts, 0.8);
  const auto surely = of(running + 0.1, running + 0.2);
  EXPECT_GT(surely.hunts, edge.hunts);
  ASSERT_TRUE(surely.cycle);
  EXPECT_GT(surely.cycle->period, 0);
}

TEST(StartUp, names_a_machine_that_cannot_run) {
  auto entry = wall_unit_entry();
  entry.pump.reset();
  entry.supply.pressure = units::bar(0);
  const auto s = judged({}, entry);
  EXPECT_EQ(s.standing, StartUpStanding::kCannotRun);
  EXPECT_EQ(s.outcome, machine::Outcome::kNothingFlows);
  EXPECT_TRUE(s.expected.empty());
}

TEST(StartUp, a_plate_that_contradicts_itself_is_the_data_at_fault) {
  auto entry = wall_unit_entry();
  entry.element.test_salt = units::milligram_per_litre(5000);
  entry.element.test_pressure = units::bar(1);
  const auto s = judge_start_up(borehole_survey(), entry, {}, {.draws = 100});
  ASSERT_FALSE(s);
  EXPECT_EQ(s.error().message.id, "error.rating.contradicts");
}

TEST(StartUp, the_same_seed_gives_the_same_answer) {
  const auto a = judged({});
  const auto b = judged({});
  for (std::size_t i = 0; i < a.expected.size(); ++i) {
    EXPECT_EQ(a.expected[i].expected.low, b.expected[i].expected.low);
  }
}

// Of one reading the rarer of two looks counts twice, and one reading is no crowd; of a farther one
// P falls.
TEST(StartUp, the_visit_is_judged_as_a_whole) {
  const auto s = judged({});
  const auto flow = expected(s, Point::kProductFlow);
  const auto at = [&](double value) {
    return judged({reading(Point::kProductFlow, value * 3.6e6, ReadingUnit::kLh)});
  };
  EXPECT_GT(at(flow.middle).probability, 0.5);
  EXPECT_LT(at(flow.high).probability, at(flow.middle).probability);
  EXPECT_LT(at(2 * flow.high).probability, 0.001);
  EXPECT_EQ(at(2 * flow.high).standing, StartUpStanding::kNotYet);
  EXPECT_EQ(s.probability, 1);
}

// Restrictor and pump leave flow and pressure wide open, but not one high and the other low: each
// inside its band, together they are no good machine's.
TEST(StartUp, readings_that_could_each_be_may_not_go_together) {
  const auto s = judged({});
  const auto pressure = expected(s, Point::kMembranePressure);
  const auto reject = expected(s, Point::kRejectPressure);
  auto gauge = [](Point p, double pascal) {
    auto r = reading(p, pascal * 1e-5, ReadingUnit::kBar);
    r.instrument = {.last_digit = 0.01, .digits = 1};
    return r;
  };
  const auto together = judged(
      {gauge(Point::kMembranePressure, pressure.low), gauge(Point::kRejectPressure, reject.high)});
  for (const auto& r : together.readings) {
    EXPECT_NE(r.judgement->fit, inference::Fit::kLow);
    EXPECT_NE(r.judgement->fit, inference::Fit::kHigh);
  }
  EXPECT_EQ(together.standing, StartUpStanding::kNotYet);
}

// Shut, and still there is raw water in the product: no membrane does that to the product alone.
TEST(StartUp, a_blend_that_seeps_while_shut_is_named) {
  auto entry = wall_unit_entry();
  entry.blend = machine::BlendEntry{.full_open_flow = units::litre_per_hour(100), .opening = 0.05};
  const auto s = judged({}, entry);
  const double permeate = expected(s, Point::kPermeateQuality).middle * 1e4;
  const auto read = [&](double product) {
    auto shut = reading(Point::kProductQuality, product, ReadingUnit::kMicrosiemens);
    shut.condition.blend = machine::BlendState::kShut;
    return judged({reading(Point::kPermeateQuality, permeate, ReadingUnit::kMicrosiemens), shut},
                  entry);
  };
  EXPECT_EQ(read(permeate).standing, StartUpStanding::kAsExpected);
  const auto seeps = read(1.6 * permeate);
  EXPECT_EQ(seeps.standing, StartUpStanding::kNotYet);
  ASSERT_FALSE(seeps.causes.causes.empty());
  EXPECT_EQ(seeps.causes.causes.front().id, "blend_leaks");
  EXPECT_EQ(part_of_cause("blend_leaks"), "blend");
}

}  // namespace
}  // namespace drawoff::visit
