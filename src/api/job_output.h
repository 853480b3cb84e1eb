// What drawoff job answers to programs.
#pragma once

#include <string>

#include "api/first_day_question.h"
#include "api/handing_over.h"

namespace drawoff::api {

// How a step of the start-up stands; no state where nothing was done of it.
struct JobStep {
  std::string key;
  std::optional<visit::StepState> state;
  bool settled = false;  // done or skipped, and not to be done again
  bool early = false;    // settled while a step before it was open
  // Of a step with a wait: the least that it takes, and what its clock had counted, if it ran.
  std::optional<units::Time> wait;
  std::optional<units::Time> counted;
  std::string note;
  std::string at;  // UTC
};
struct JobOutput {
  std::string site;
  VerdictOutput verdict;
  std::optional<AcceptOutput> start_up;  // none without a machine
  std::optional<FirstDayOutput> first_day;
  std::vector<JobStep> steps;  // none where no start-up was begun
  std::optional<HandedOverOutput> handed_over;
};

}  // namespace drawoff::api

namespace drawoff::fields {

template <>
struct Table<api::JobStep> {
  using T = api::JobStep;
  static constexpr std::string_view name = "job_step";
  static constexpr auto list = std::make_tuple(field("key", &T::key, kRequired),
                                               field("state", &T::state, kNullWhenAbsent),
                                               field("settled", &T::settled, kRequired),
                                               field("early", &T::early, kRequired),
                                               field("wait_min", &T::wait, kNullWhenAbsent),
                                               field("counted_min", &T::counted, kNullWhenAbsent),
                                               field("note", &T::note, kRequired),
                                               field("at", &T::at, kRequired));
};
template <>
struct Table<api::JobOutput> {
  using T = api::JobOutput;
  static constexpr std::string_view name = "job_output";
  static constexpr auto list = std::make_tuple(field("site", &T::site),
                                               field("verdict", &T::verdict),
                                               field("start_up", &T::start_up),
                                               field("first_day", &T::first_day),
                                               field("steps", &T::steps),
                                               field("handed_over", &T::handed_over));
};

}  // namespace drawoff::fields
