#include "visit/course.h"

#include <algorithm>

namespace drawoff::visit {
namespace {

using machine::FilterKind;
using machine::Point;

// Common practice, no source: how long joints are watched.
constexpr units::Time kWatch = units::Time(600);
// 200 mg/L of chlorine, as calc sanitise has it where nothing else is chosen.
constexpr units::Time kContact = units::Time(3 * 3600.0);
// The building's tube: until it runs clear, at least this long.
constexpr units::Time kTube = units::Time(120);

class Course {
 public:
  Course(const machine::MachineEntry& m, const SurveyEntry& s, const CourseChoices& c)
      : machine_(m), survey_(s), choices_(c) {}

  std::vector<CourseStep> steps() {
    if (has_current()) add({.step = Step::kPowerOff, .cautions = {"course.caution.power"}});
    add({.step = Step::kTapsMarked});
    add({.step = Step::kSupplyFlush,
         .water = WaterTo::kBeforeUnit,
         .cautions = {"course.caution.waste"},
         .wait = kTube});
    if (choices_.membrane_in) {
      add({.step = Step::kMembraneOut, .cautions = {"course.caution.pressure_off"}});
    }
    if (choices_.sanitise) sanitise();
    filters();
    add({.step = Step::kMembraneIn, .cautions = {"course.caution.pressure_off"}});
    purge();
    add({.step = Step::kJointsDry});
    if (unit_has_current()) power_on();
    add({.step = Step::kFirstRun,
         .water = WaterTo::kProduct,
         .cautions = {"course.caution.preservative", "course.caution.do_not_drink"},
         .notes = with_blend(),
         .readings = {Point::kProductQuality}});
    add({.step = Step::kJointsAgain, .wait = kWatch});
    add({.step = Step::kFlows,
         .water = WaterTo::kProduct,
         .notes = with_blend(),
         .readings = flows()});
    if (machine::stops_itself(machine_)) {
      add({.step = Step::kShutOff,
           .water = WaterTo::kVessel,
           .cautions = {"course.caution.do_not_drink"}});
      add({.step = Step::kRestart,
           .water = WaterTo::kVessel,
           .cautions = {"course.caution.do_not_drink"}});
    }
    if (machine_.product.vessel != machine::ProductVessel::kJug) {
      add({.step = Step::kFirstFill,
           .water = WaterTo::kVessel,
           .cautions = {"course.caution.do_not_drink"}});
    }
    polish();
    lamps();
    if (cooled()) add({.step = Step::kVesselOn, .cautions = {"course.caution.power"}});
    if (machine_.blend) {
      add({.step = Step::kBlend,
           .water = WaterTo::kProduct,
           .cautions = {"course.caution.do_not_drink"},
           .readings = {Point::kProductQuality}});
    }
    add({.step = Step::kRestTest, .water = WaterTo::kProduct, .wait = kRestBeforeTest});
    add({.step = Step::kFinalReadings, .water = WaterTo::kProduct, .readings = finals()});
    add({.step = Step::kJointsEnd});
    add({.step = Step::kTapsOpened, .cautions = {"course.caution.sample"}});
    return std::move(steps_);
  }

 private:
  void add(CourseStep step) {
    if (step.filter) step.kind = machine_.filters[*step.filter].kind;
    steps_.push_back(std::move(step));
  }

  // The unit itself; a lamp and a cooler are switched on later.
  bool unit_has_current() const {
    return machine_.pump || machine_.solenoid || machine_.high_pressure_switch;
  }
  bool cooled() const {
    return machine_.product.vessel == machine::ProductVessel::kCooler ||
           !machine_.product.coolers.empty();
  }
  bool has_current() const {
    const bool lamp = std::any_of(machine_.filters.begin(),
                                  machine_.filters.end(),
                                  [](const auto& f) { return f.kind == FilterKind::kUv; });
    return unit_has_current() || lamp || cooled();
  }
  std::vector<const char*> with_blend() const {
    if (machine_.blend) return {"course.note.blend_as_entered"};
    return {};
  }

  std::vector<const char*> with_solenoid() const {
    if (machine_.solenoid) return {"course.note.solenoid"};
    return {};
  }

  void sanitise() {
    add({.step = Step::kSanitise,
         .water = WaterTo::kVessel,
         .cautions = {"course.caution.sanitiser", "course.caution.do_not_drink"},
         .notes = with_solenoid(),
         .wait = kContact});
    add({.step = Step::kSanitiserRinse,
         .water = WaterTo::kVessel,
         .cautions = {"course.caution.do_not_drink"},
         .notes = with_solenoid()});
  }
  void purge() {
    CourseStep step{
        .step = Step::kAirPurge, .water = WaterTo::kMembrane, .cautions = {"course.caution.waste"}};
    if (!machine_.pump) step.words = "air_purge.no_pump";
    step.notes = with_solenoid();
    add(std::move(step));
  }
  void power_on() {
    CourseStep step{.step = Step::kPowerOn, .cautions = {"course.caution.power"}};
    if (!machine_.pump) step.words = "power_on.no_pump";
    add(std::move(step));
  }

  // In the order of the water, each flushed to drain before the next is connected.
  void filters() {
    bool carbon = false;
    for (std::size_t i = 0; i < machine_.filters.size(); ++i) {
      const FilterKind kind = machine_.filters[i].kind;
      if (machine::after_membrane(kind)) continue;
      carbon |= kind == FilterKind::kCarbon;
      add({.step = Step::kFilterIn, .filter = i, .cautions = {"course.caution.pressure_off"}});
      add({.step = Step::kFilterFlush,
           .filter = i,
           .water = WaterTo::kBehindFilter,
           .cautions = {"course.caution.waste"}});
    }
    if (carbon || may_hold_chlorine(survey_)) {
      add({.step = Step::kChlorineZero,
           .water = WaterTo::kBehindFilter,
           .cautions = {"course.caution.chlorine"}});
    }
  }

  // Fitted now, when no preservative comes any more, and flushed to waste before what follows.
  void polish() {
    for (std::size_t i = 0; i < machine_.filters.size(); ++i) {
      const FilterKind kind = machine_.filters[i].kind;
      if (!machine::after_membrane(kind) || kind == FilterKind::kUv) continue;
      add({.step = Step::kFilterIn,
           .words = "filter_in.polish",
           .filter = i,
           .cautions = {unit_has_current() ? "course.caution.plug_out"
                                           : "course.caution.pressure_off"}});
      CourseStep flush{.step = Step::kPolishFlush,
                       .filter = i,
                       .water = WaterTo::kProduct,
                       .cautions = {"course.caution.do_not_drink"}};
      if (kind == FilterKind::kMineral) flush.words = "polish_flush.mineral";
      add(std::move(flush));
    }
  }

  // When no housing is opened any more.
  void lamps() {
    for (std::size_t i = 0; i < machine_.filters.size(); ++i) {
      if (machine_.filters[i].kind != FilterKind::kUv) continue;
      add({.step = Step::kLampOn,
           .filter = i,
           .water = WaterTo::kProduct,
           .cautions = {"course.caution.lamp", "course.caution.power"}});
    }
  }

  std::vector<Point> flows() const {
    std::vector<Point> out{Point::kInletPressure};
    if (std::any_of(machine_.filters.begin(), machine_.filters.end(), [](const auto& f) {
          return !machine::after_membrane(f.kind);
        })) {
      out.push_back(Point::kFilteredPressure);
    }
    if (machine_.pump) out.push_back(Point::kMembranePressure);
    out.push_back(Point::kProductFlow);
    out.push_back(Point::kRejectFlow);
    return out;
  }
  std::vector<Point> finals() const {
    return {Point::kTemperature, Point::kRawQuality, Point::kProductQuality, Point::kProductFlow};
  }

  const machine::MachineEntry& machine_;
  const SurveyEntry& survey_;
  const CourseChoices& choices_;
  std::vector<CourseStep> steps_;
};

}  // namespace

std::string words_of(const CourseStep& step) {
  return std::string(step.words.empty() ? fields::name_of(step.step) : step.words);
}

bool may_hold_chlorine(const SurveyEntry& survey) {
  return (survey.free_chlorine && survey.free_chlorine->si() > 0) || may_hold_chloramine(survey);
}

bool may_hold_chloramine(const SurveyEntry& survey) {
  const auto usual = [](SourceKind s) {
    return s == SourceKind::kMains || s == SourceKind::kUnknown || s == SourceKind::kTanker;
  };
  if (std::any_of(survey.further.begin(), survey.further.end(), [&](const FurtherSource& f) {
        return usual(f.source);
      })) {
    return true;
  }
  if (survey.tap && survey.tap->total_chlorine) return survey.tap->total_chlorine->si() > 0;
  return usual(survey.source);
}

std::vector<CourseStep> course_of(const machine::MachineEntry& machine,
                                  const SurveyEntry& survey,
                                  const CourseChoices& choices) {
  return Course(machine, survey, choices).steps();
}

}  // namespace drawoff::visit
