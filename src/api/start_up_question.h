// calc start-up: the steps from a closed supply to a running machine, in the order that harms
// neither the membrane nor a person, each with what it asks for and what its readings should show.
//
// The order is that of visit/course.h. Litres and minutes of flushing are those of `calc flush`, of
// filling those of `calc fill`, the first half litre that of `calc rest`, the bands those of
// `calc machine`. A machine that does not run still has its steps, without
// numbers.
#pragma once

#include "api/form_screen.h"
#include "api/machine_question_fields.h"
#include "visit/course_log.h"

namespace drawoff::api {

struct StartUpInput {
  visit::SurveyEntry survey;
  machine::MachineEntry machine;
  bool sanitise = false;
  bool membrane_in = false;
  fields::UnitSystem units = fields::UnitSystem::kMetric;  // of what is said in words
  int draws = 200;
  long long seed = 1;
};

// What else a step shows.
struct CourseNumber {
  visit::Sign sign = visit::Sign::kFreeChlorine;
  std::string what;
  Band expected;
  std::string says;  // in words, in the person's units
};
struct CourseStepOutput {
  std::string key;
  visit::Step step = visit::Step::kPowerOff;
  std::optional<long long> part;  // of the machine's filters
  std::string what;
  std::string why;
  std::vector<std::string> cautions;
  std::vector<std::string> notes;
  std::optional<Band> wait;    // or flush
  std::optional<Band> volume;  // that it takes
  std::string takes;           // both in words
  std::vector<PointBand> expected;
  std::vector<CourseNumber> numbers;
};
struct StartUpOutput {
  std::string will_not_run;  // why, of a machine that will not as it is entered; else empty
  std::vector<CourseStepOutput> steps;
  std::vector<std::string> assumed;
};

// "Should show, …: … to …", in the person's units.
base::Message expected_in_words(base::Argument what, const Band& band, fields::UnitSystem units);

base::Result<StartUpOutput> ask_start_up(const StartUpInput& in,
                                         Working& working,
                                         const messages::Catalogue& words);

}  // namespace drawoff::api

namespace drawoff::fields {

template <>
struct Table<api::StartUpInput> {
  using T = api::StartUpInput;
  static constexpr std::string_view name = "start_up_input";
  static constexpr auto list =
      std::make_tuple(field("survey", &T::survey),
                      field("machine", &T::machine),
                      field("sanitise", &T::sanitise),
                      field("membrane_in", &T::membrane_in),
                      field("units", &T::units, kNotAsked),
                      field("draws", &T::draws, Range{50, 2000}, kNotAsked),
                      field("seed", &T::seed, at_least(0), kNotAsked));
};
template <>
struct Table<api::CourseNumber> {
  using T = api::CourseNumber;
  static constexpr std::string_view name = "course_number";
  static constexpr auto list = std::make_tuple(field("sign", &T::sign, kRequired),
                                               field("what", &T::what, kRequired),
                                               field("expected", &T::expected, kRequired),
                                               field("says", &T::says, kRequired));
};
template <>
struct Table<api::CourseStepOutput> {
  using T = api::CourseStepOutput;
  static constexpr std::string_view name = "course_step";
  static constexpr auto list =
      std::make_tuple(field("key", &T::key, kRequired),
                      field("step", &T::step, kRequired),
                      field("part", &T::part, kRequired, kNullWhenAbsent),
                      field("what", &T::what, kRequired),
                      field("why", &T::why, kRequired),
                      field("cautions", &T::cautions, kRequired),
                      field("notes", &T::notes, kRequired),
                      field("wait", &T::wait, kRequired, kNullWhenAbsent),
                      field("volume", &T::volume, kRequired, kNullWhenAbsent),
                      field("takes", &T::takes, kRequired),
                      field("expected", &T::expected, kRequired),
                      field("numbers", &T::numbers, kRequired));
};
template <>
struct Table<api::StartUpOutput> {
  using T = api::StartUpOutput;
  static constexpr std::string_view name = "start_up_output";
  static constexpr auto list = std::make_tuple(field("will_not_run", &T::will_not_run, kRequired),
                                               field("steps", &T::steps, kRequired),
                                               field("assumed", &T::assumed, kRequired));
};

}  // namespace drawoff::fields
