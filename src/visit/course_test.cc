#include "visit/course.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <set>

#include "messages/catalogue.h"
#include "numerics/random.h"
#include "visit/example_test.h"

namespace drawoff::visit {
namespace {

using machine::FilterKind;

// What a unit is like while it is started up: it knows what each step does, not in which order.
struct Unit {
  bool power = true;         // the plug is in until someone takes it out
  bool membrane = false;     // in its housing
  bool supply_dirty = true;  // rust and grit of the building's tube
  bool sanitiser = false;    // somewhere in the unit
  bool chlorine = false;     // reaches the membrane's place
  bool air = true;
  bool preservative = true;             // the new membrane's
  bool marked = false;                  // the taps: do not drink
  std::set<std::size_t> fitted, fines;  // pre-filters: in; still shedding
  std::vector<std::string> faults;

  // Water goes through the unit as far as it says.
  void flows(const CourseStep& s) {
    if (s.water >= WaterTo::kProduct && !marked) faults.push_back("a tap that anyone drinks from");
    if (s.water < WaterTo::kMembrane) return;
    const bool sanitising = s.step == Step::kSanitise || s.step == Step::kSanitiserRinse;
    if (!membrane) {
      if (!sanitising) faults.push_back("water to where no membrane is");
      return;
    }
    if (supply_dirty) faults.push_back("the tube's dirt into the membrane");
    if (!fines.empty()) faults.push_back("fines into the membrane");
    if (sanitiser) faults.push_back("sanitiser into the membrane");
    if (chlorine) faults.push_back("chlorine into the membrane");
    if (power && air) faults.push_back("a pump runs on air");
  }
};

void run(const CourseStep& s, const machine::MachineEntry& m, Unit& unit) {
  switch (s.step) {
    case Step::kPowerOff:
      unit.power = false;
      break;
    case Step::kPowerOn:
      if (unit.air) unit.faults.push_back("power before the purge");
      unit.power = true;
      break;
    case Step::kSupplyFlush:
      unit.supply_dirty = false;
      break;
    case Step::kMembraneOut:
      unit.membrane = false;
      break;
    case Step::kMembraneIn:
      unit.membrane = true;
      if (unit.power) unit.faults.push_back("a housing open under power");
      break;
    case Step::kSanitise:
      if (unit.membrane) unit.faults.push_back("sanitiser onto the membrane");
      if (!unit.fitted.empty()) unit.faults.push_back("sanitiser onto a cartridge");
      unit.sanitiser = true;
      break;
    case Step::kSanitiserRinse:
      unit.sanitiser = false;
      break;
    case Step::kFilterIn:
      if (machine::after_membrane(m.filters[*s.filter].kind)) {
        if (unit.preservative) unit.faults.push_back("preservative into a polish cartridge");
        break;
      }
      unit.fitted.insert(*s.filter);
      if (m.filters[*s.filter].kind == FilterKind::kCarbon) unit.fines.insert(*s.filter);
      if (unit.membrane) unit.faults.push_back("a cartridge fitted before a fitted membrane");
      for (const std::size_t before : unit.fines) {
        if (before != *s.filter) unit.faults.push_back("a filter behind one that sheds");
      }
      break;
    case Step::kFilterFlush:
      if (unit.supply_dirty) unit.faults.push_back("the tube's dirt into a cartridge");
      unit.fines.erase(*s.filter);
      break;
    case Step::kChlorineZero:
      unit.chlorine = false;  // it is zero, or the course stops here
      break;
    case Step::kTapsMarked:
      unit.marked = true;
      break;
    case Step::kTapsOpened:
      unit.marked = false;
      break;
    case Step::kFirstRun:
      unit.preservative = false;
      break;
    case Step::kVesselOn:
      // It is filled again in this step, from a unit that must give clean water by now.
      if (unit.preservative || unit.air) unit.faults.push_back("a cooler heats what it must not");
      break;
    case Step::kLampOn:
      if (unit.air) unit.faults.push_back("a lamp burns dry");
      break;
    case Step::kAirPurge:
      if (unit.power) unit.faults.push_back("a purge under power");
      unit.flows(s);
      unit.air = false;
      return;
    default:
      break;
  }
  unit.flows(s);
}

machine::MachineEntry random_machine(numerics::Random& random) {
  const auto perhaps = [&] { return random.below(2) == 1; };
  machine::MachineEntry m = wall_unit_entry();
  m.filters.clear();
  constexpr FilterKind kKinds[] = {FilterKind::kSediment,
                                   FilterKind::kCarbon,
                                   FilterKind::kSoftener,
                                   FilterKind::kPolish,
                                   FilterKind::kMineral,
                                   FilterKind::kUv};
  const int count = random.below(7);
  for (int i = 0; i < count; ++i) m.filters.push_back({.kind = kKinds[random.below(6)]});
  if (perhaps()) m.pump.reset();
  if (perhaps()) m.solenoid = machine::SolenoidEntry{};
  if (perhaps()) m.hydraulic_shut_off = machine::HydraulicShutOffEntry{};
  if (perhaps()) m.high_pressure_switch = machine::SwitchEntry{};
  if (perhaps()) m.blend = machine::BlendEntry{};
  if (perhaps()) m.raw_tank = machine::RawTankEntry{};
  m.product.vessel = static_cast<machine::ProductVessel>(random.below(4));
  return m;
}

SurveyEntry random_survey(numerics::Random& random) {
  SurveyEntry s = borehole_survey();
  s.source = static_cast<SourceKind>(random.below(7));
  if (random.below(2) == 1) s.free_chlorine = units::milligram_per_litre(0.1 * random.below(5));
  return s;
}

// Whatever the machine: nothing that harms goes through the membrane, no pump runs dry, and where
// someone can be hurt a caution stands.
TEST(Course, harms_neither_membrane_nor_person) {
  const std::set<Step> dangerous{Step::kPowerOff,
                                 Step::kPowerOn,
                                 Step::kMembraneOut,
                                 Step::kSanitise,
                                 Step::kSanitiserRinse,
                                 Step::kFilterIn,
                                 Step::kMembraneIn,
                                 Step::kChlorineZero,
                                 Step::kFirstRun,
                                 Step::kFirstFill,
                                 Step::kPolishFlush,
                                 Step::kLampOn,
                                 Step::kVesselOn,
                                 Step::kTapsOpened};
  for (std::uint64_t i = 0; i < 5000; ++i) {
    numerics::Random random(31, i);
    const auto m = random_machine(random);
    const auto survey = random_survey(random);
    const CourseChoices choices{random.below(2) == 1, random.below(2) == 1};
    Unit unit{.membrane = choices.membrane_in, .chlorine = may_hold_chlorine(survey)};
    const bool current = m.pump || m.solenoid || m.high_pressure_switch;
    // A unit without current has no plug.
    const auto steps = course_of(m, survey, choices);
    const auto has = [&](Step step) {
      return std::any_of(
          steps.begin(), steps.end(), [&](const CourseStep& s) { return s.step == step; });
    };
    EXPECT_EQ(current, has(Step::kPowerOn)) << i;
    const bool cooler = m.product.vessel == machine::ProductVessel::kCooler;
    EXPECT_EQ(cooler, has(Step::kVesselOn)) << i;
    if (!has(Step::kPowerOff)) {
      EXPECT_FALSE(current || cooler || has(Step::kLampOn)) << i;
      unit.power = false;
    }
    for (const CourseStep& s : steps) {
      run(s, m, unit);
      EXPECT_TRUE(!dangerous.contains(s.step) || !s.cautions.empty())
          << fields::name_of(s.step) << " of " << i;
    }
    EXPECT_TRUE(unit.faults.empty()) << i << ": " << unit.faults.front();
    EXPECT_TRUE(unit.membrane && !unit.air && !unit.sanitiser && unit.fines.empty()) << i;
    EXPECT_EQ(steps.front().step, has(Step::kPowerOff) ? Step::kPowerOff : Step::kTapsMarked) << i;
    EXPECT_EQ(steps.back().step, Step::kTapsOpened) << i;
  }
}

// The test would see a wrong order: any two steps of the same course exchanged at random are found
// at fault in most cases.
TEST(Course, a_wrong_order_is_found) {
  const auto m = wall_unit_entry();
  auto survey = borehole_survey();
  survey.source = SourceKind::kMains;
  const auto steps = course_of(m, survey, {.sanitise = true, .membrane_in = true});
  const auto faults_of = [&](const std::vector<CourseStep>& course) {
    Unit unit{.membrane = true, .chlorine = true};
    for (const CourseStep& s : course) run(s, m, unit);
    return unit.faults.size();
  };
  ASSERT_EQ(faults_of(steps), 0U);
  const auto at = [&](Step step) {
    return static_cast<std::size_t>(
        std::find_if(steps.begin(), steps.end(), [&](const auto& s) { return s.step == step; }) -
        steps.begin());
  };
  for (const auto& [a, b] : {std::pair{Step::kChlorineZero, Step::kAirPurge},
                             std::pair{Step::kPowerOn, Step::kAirPurge},
                             std::pair{Step::kSanitise, Step::kMembraneOut},
                             std::pair{Step::kSanitiserRinse, Step::kFirstRun},
                             std::pair{Step::kSupplyFlush, Step::kFirstRun},
                             std::pair{Step::kFilterFlush, Step::kFirstRun},
                             std::pair{Step::kVesselOn, Step::kFirstRun},
                             std::pair{Step::kTapsMarked, Step::kFirstRun},
                             std::pair{Step::kPolishFlush, Step::kTapsOpened}}) {
    auto wrong = steps;
    std::swap(wrong[at(a)], wrong[at(b)]);
    EXPECT_GT(faults_of(wrong), 0U) << fields::name_of(a);
  }
}

TEST(Course, has_a_step_for_what_is_there_and_none_for_what_is_not) {
  machine::MachineEntry m = wall_unit_entry();
  const auto survey = borehole_survey();
  const auto count = [&](Step step) {
    const auto steps = course_of(m, survey, {});
    return std::count_if(
        steps.begin(), steps.end(), [&](const CourseStep& s) { return s.step == step; });
  };
  EXPECT_EQ(count(Step::kFilterIn), 3);     // sediment, carbon, polish
  EXPECT_EQ(count(Step::kPolishFlush), 1);  // behind the membrane
  EXPECT_EQ(count(Step::kShutOff), 0);
  EXPECT_EQ(count(Step::kBlend), 0);
  EXPECT_EQ(count(Step::kSanitise), 0);
  EXPECT_EQ(count(Step::kMembraneOut), 0);
  m.blend = machine::BlendEntry{};
  m.hydraulic_shut_off = machine::HydraulicShutOffEntry{};
  EXPECT_EQ(count(Step::kShutOff), 1);
  EXPECT_EQ(count(Step::kBlend), 1);
}

// Every step says what to do and why, and every caution has its words.
TEST(Course, speaks) {
  const auto& words = messages::catalogue("en");
  for (const auto& choice : fields::EnumTable<Step>::list) {
    for (const char* part : {"course.what.", "course.why."}) {
      EXPECT_NE(words.find(part + std::string(choice.name)), nullptr) << part << choice.name;
    }
  }
  machine::MachineEntry m = wall_unit_entry();
  m.filters.push_back({.kind = FilterKind::kUv});
  auto survey = borehole_survey();
  m.filters.push_back({.kind = FilterKind::kMineral});
  m.solenoid = machine::SolenoidEntry{};
  m.blend = machine::BlendEntry{};
  for (const auto& s : course_of(m, survey, {true, true})) {
    for (const char* id : s.notes) EXPECT_NE(words.find(id), nullptr) << id;
    for (const char* part : {"course.what.", "course.why."}) {
      EXPECT_NE(words.find(part + words_of(s)), nullptr) << words_of(s);
    }
    for (const char* id : s.cautions) EXPECT_NE(words.find(id), nullptr) << id;
  }
}

}  // namespace
}  // namespace drawoff::visit
