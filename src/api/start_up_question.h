// calc start-up: the steps from a closed supply to a running machine, in the order that harms
// neither the membrane nor a person, each with what it asks for and what its readings should show.
//
// The order is that of visit/course.h. Litres and minutes of flushing are those of `calc flush`,
// the bands those of `calc machine`. A machine that does not run still has its steps, without
// numbers.
#pragma once

#include "api/machine_question_fields.h"
#include "visit/course.h"

namespace drawoff::api {

struct StartUpInput {
  visit::SurveyEntry survey;
  machine::MachineEntry machine;
  bool sanitise = false;
  bool membrane_in = false;
  int draws = 200;
  long long seed = 1;
};

struct CourseStepOutput {
  visit::Step step = visit::Step::kPowerOff;
  std::optional<long long> part;  // of the machine's filters
  std::string what;
  std::string why;
  std::vector<std::string> cautions;
  std::optional<Band> wait;    // or flush
  std::optional<Band> volume;  // that it takes
  std::vector<PointBand> expected;
};
struct StartUpOutput {
  std::vector<CourseStepOutput> steps;
  std::vector<std::string> assumed;
};

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
                      field("draws", &T::draws, Range{50, 2000}, kNotAsked),
                      field("seed", &T::seed, at_least(0), kNotAsked));
};
template <>
struct Table<api::CourseStepOutput> {
  using T = api::CourseStepOutput;
  static constexpr std::string_view name = "course_step";
  static constexpr auto list = std::make_tuple(field("step", &T::step),
                                               field("part", &T::part, kNullWhenAbsent),
                                               field("what", &T::what),
                                               field("why", &T::why),
                                               field("cautions", &T::cautions),
                                               field("wait", &T::wait, kNullWhenAbsent),
                                               field("volume", &T::volume, kNullWhenAbsent),
                                               field("expected", &T::expected));
};
template <>
struct Table<api::StartUpOutput> {
  using T = api::StartUpOutput;
  static constexpr std::string_view name = "start_up_output";
  static constexpr auto list =
      std::make_tuple(field("steps", &T::steps), field("assumed", &T::assumed));
};

}  // namespace drawoff::fields
