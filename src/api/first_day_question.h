// calc first-day: what the readings say of this very machine, beyond its plates.
#pragma once

#include "api/machine_question_fields.h"
#include "visit/first_day.h"

namespace drawoff::api {

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
  double readings = 0;
  double probability = 1;
  std::vector<OwnOutput> values;
  std::vector<TogetherOutput> together;
  std::vector<PointBand> expected;  // from now on
};

// The input is that of calc accept.
base::Result<FirstDayOutput> ask_first_day(const AcceptInput& in, Working& working);
FirstDayOutput first_day_output(const visit::FirstDay& day,
                                Working& working,
                                const std::string& at);

}  // namespace drawoff::api

namespace drawoff::fields {

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
                                               field("fitted", &T::readings),
                                               field("probability", &T::probability),
                                               field("values", &T::values),
                                               field("together", &T::together),
                                               field("expected", &T::expected));
};

}  // namespace drawoff::fields
