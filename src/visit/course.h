// The course of a start-up: from a closed supply to a running, tight, clean machine, in an order
// that harms neither the membrane nor a person.
//
// Made from the parts of the machine: what is absent has no step. The taps are marked first and the
// marks go last. Carbon sheds fines and takes chlorine out, so carbon is flushed to drain before
// anything stands behind it, and zero chlorine is read before the membrane goes in; a sanitiser
// never meets membrane or carbon; air is purged at the supply's own pressure before a pump runs;
// the first product carries the preservative. What stands behind the membrane is fitted when that
// is gone; a lamp or a cooler is switched on when water stands in it. The order is held by a
// property test over random machines (course_test.cc), which knows nothing of this list.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "fields/field.h"
#include "machine/plates.h"
#include "machine/readings.h"
#include "visit/survey.h"

namespace drawoff::visit {

// Shut off before the first half litre of the rest test: common practice, no source.
inline constexpr units::Time kRestBeforeTest = units::Time(600);

enum class Step {
  kPowerOff,     // isolate the electricity
  kTapsMarked,   // do not drink
  kSupplyFlush,  // the building's tube, to waste before the unit
  kMembraneOut,
  kSanitise,        // housings, tubes, vessels
  kSanitiserRinse,  // until the residual is zero
  kFilterIn,        // one cartridge
  kFilterFlush,     // to drain, nothing connected behind it
  kChlorineZero,    // read behind the carbon
  kMembraneIn,
  kAirPurge,  // at supply pressure, pump off
  kJointsDry,
  kPowerOn,
  kFirstRun,     // product and reject to waste until the preservative is gone
  kJointsAgain,  // ten minutes later
  kFlows,        // flows and pressures
  kShutOff,
  kRestart,
  kFirstFill,    // thrown away
  kPolishFlush,  // what stands behind the membrane, to waste
  kLampOn,       // a UV lamp, with water in it
  kVesselOn,     // a cooler, with water in it
  kBlend,
  kRestTest,
  kFinalReadings,
  kJointsEnd,
  kTapsOpened  // the marks come off
};

// How far water goes in a step.
enum class WaterTo { kNowhere, kBeforeUnit, kBehindFilter, kMembrane, kProduct, kVessel };

struct CourseStep {
  Step step = Step::kPowerOff;
  std::string_view words;                   // its sentences, where they are not the step's usual
  std::optional<std::size_t> filter;        // which, of the steps of a filter or lamp
  std::optional<machine::FilterKind> kind;  // its
  WaterTo water = WaterTo::kNowhere;
  std::vector<const char*> cautions;     // ids; where someone or the membrane can be hurt
  std::vector<const char*> notes;        // ids; what else to know
  std::optional<units::Time> wait;       // what the step itself asks for
  std::vector<machine::Point> readings;  // to be taken
};

struct CourseChoices {
  bool sanitise = false;     // housings, tubes and vessels
  bool membrane_in = false;  // the unit comes with its membrane fitted
};

std::vector<CourseStep> course_of(const machine::MachineEntry& machine,
                                  const SurveyEntry& survey,
                                  const CourseChoices& choices);

// The end of the ids of a step's sentences: "course.what.", "course.why.".
std::string words_of(const CourseStep& step);

// Whether the raw water may hold chlorine, or chlorine that is bound (chloramine): measured, or of
// a kind that usually does. A test that finds no free chlorine does not rule out the bound.
bool may_hold_chlorine(const SurveyEntry& survey);
bool may_hold_chloramine(const SurveyEntry& survey);

}  // namespace drawoff::visit

namespace drawoff::fields {

template <>
struct EnumTable<visit::Step> {
  static constexpr std::string_view name = "step";
  static constexpr std::array list = {choice(visit::Step::kPowerOff, "power_off"),
                                      choice(visit::Step::kTapsMarked, "taps_marked"),
                                      choice(visit::Step::kSupplyFlush, "supply_flush"),
                                      choice(visit::Step::kMembraneOut, "membrane_out"),
                                      choice(visit::Step::kSanitise, "sanitise"),
                                      choice(visit::Step::kSanitiserRinse, "sanitiser_rinse"),
                                      choice(visit::Step::kFilterIn, "filter_in"),
                                      choice(visit::Step::kFilterFlush, "filter_flush"),
                                      choice(visit::Step::kChlorineZero, "chlorine_zero"),
                                      choice(visit::Step::kMembraneIn, "membrane_in"),
                                      choice(visit::Step::kAirPurge, "air_purge"),
                                      choice(visit::Step::kJointsDry, "joints_dry"),
                                      choice(visit::Step::kPowerOn, "power_on"),
                                      choice(visit::Step::kFirstRun, "first_run"),
                                      choice(visit::Step::kJointsAgain, "joints_again"),
                                      choice(visit::Step::kFlows, "flows"),
                                      choice(visit::Step::kShutOff, "shut_off"),
                                      choice(visit::Step::kRestart, "restart"),
                                      choice(visit::Step::kFirstFill, "first_fill"),
                                      choice(visit::Step::kPolishFlush, "polish_flush"),
                                      choice(visit::Step::kLampOn, "lamp_on"),
                                      choice(visit::Step::kVesselOn, "vessel_on"),
                                      choice(visit::Step::kBlend, "blend"),
                                      choice(visit::Step::kRestTest, "rest_test"),
                                      choice(visit::Step::kFinalReadings, "final_readings"),
                                      choice(visit::Step::kJointsEnd, "joints_end"),
                                      choice(visit::Step::kTapsOpened, "taps_opened")};
};

}  // namespace drawoff::fields
