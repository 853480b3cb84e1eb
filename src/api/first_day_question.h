// calc first-day: what the readings say of this very machine, beyond its plates.
#pragma once

#include "api/machine_question_fields.h"
#include "visit/first_day.h"

namespace drawoff::api {

// The input of calc accept, and what was read again a day or more later.
struct FirstDayInput {
  visit::SurveyEntry survey;
  machine::MachineEntry machine;
  std::vector<visit::ReadingEntry> readings;
  std::vector<visit::ReadingEntry> again;
  std::optional<units::Time> again_after;
  int draws = 400;
  long long seed = 1;
};

// A share of what plates and survey say at their median.
struct OwnOutput {
  visit::Own what = visit::Own::kMembraneFlow;
  Band before, after;  // 90 %
  double told = 0;
};
struct TogetherOutput {
  visit::Own first = visit::Own::kMembraneFlow;
  visit::Own second = visit::Own::kMembraneFlow;
  double correlation = 0;
};
struct FirstDayOutput {
  visit::FirstDayStanding standing = visit::FirstDayStanding::kNoReadings;
  visit::Settling settling = visit::Settling::kProvisional;
  double readings = 0;
  double probability = 1;
  std::vector<OwnOutput> values;
  std::vector<TogetherOutput> together;
  std::vector<PointBand> expected;  // from now on
};

base::Result<FirstDayOutput> ask_first_day(const FirstDayInput& in, Working& working);
FirstDayOutput first_day_output(const visit::FirstDay& day,
                                Working& working,
                                const std::string& at);

}  // namespace drawoff::api

namespace drawoff::fields {

template <>
struct Table<api::FirstDayInput> {
  using T = api::FirstDayInput;
  static constexpr std::string_view name = "first_day_input";
  static constexpr auto list =
      std::make_tuple(field("survey", &T::survey),
                      field("machine", &T::machine),
                      field("readings", &T::readings, Range{1, 60}, kRequired),
                      field("again", &T::again, Range{0, 60}),
                      field("again_after_h", &T::again_after, Range{24, 1e5}),
                      field("draws", &T::draws, Range{100, 2000}, kNotAsked),
                      field("seed", &T::seed, at_least(0), kNotAsked));
  static base::Result<base::Done> check(const T& in, const Path& path);
};
template <>
struct Table<api::OwnOutput> {
  using T = api::OwnOutput;
  static constexpr std::string_view name = "own_output";
  static constexpr auto list = std::make_tuple(field("what", &T::what),
                                               field("before", &T::before),
                                               field("after", &T::after),
                                               field("told_pct", &T::told));
};
template <>
struct Table<api::TogetherOutput> {
  using T = api::TogetherOutput;
  static constexpr std::string_view name = "together_output";
  static constexpr auto list = std::make_tuple(field("first", &T::first),
                                               field("second", &T::second),
                                               field("correlation", &T::correlation));
};
template <>
struct Table<api::FirstDayOutput> {
  using T = api::FirstDayOutput;
  static constexpr std::string_view name = "first_day_output";
  static constexpr auto list = std::make_tuple(field("standing", &T::standing),
                                               field("settling", &T::settling),
                                               field("fitted", &T::readings),
                                               field("probability", &T::probability),
                                               field("values", &T::values),
                                               field("together", &T::together),
                                               field("expected", &T::expected));
};

}  // namespace drawoff::fields
