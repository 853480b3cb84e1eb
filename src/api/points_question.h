// calc points: what every test point should show in one state, quickly.
#pragma once

#include "api/machine_question_fields.h"
#include "visit/expected_points.h"

namespace drawoff::api {

struct PointsInput {
  visit::SurveyEntry survey;
  machine::MachineEntry machine;
  machine::Condition condition;
  int draws = 400;
  long long seed = 1;
};

struct QuickBandOutput {
  machine::Point point = machine::Point::kProductQuality;
  Band expected;
  visit::IntervalBy by = visit::IntervalBy::kDraws;
};
struct PointsOutput {
  machine::Outcome outcome = machine::Outcome::kRuns;
  std::vector<QuickBandOutput> points;
  std::vector<std::string> assumed;
};

base::Result<PointsOutput> ask_points(const PointsInput& in, Working& working);

}  // namespace drawoff::api

namespace drawoff::fields {

template <>
struct Table<api::PointsInput> {
  using T = api::PointsInput;
  static constexpr std::string_view name = "points_input";
  static constexpr auto list =
      std::make_tuple(field("survey", &T::survey),
                      field("machine", &T::machine),
                      field("condition", &T::condition),
                      field("draws", &T::draws, Range{100, 2000}, kNotAsked),
                      field("seed", &T::seed, at_least(0), kNotAsked));
};
template <>
struct Table<api::QuickBandOutput> {
  using T = api::QuickBandOutput;
  static constexpr std::string_view name = "quick_band";
  static constexpr auto list = std::make_tuple(
      field("point", &T::point), field("expected", &T::expected), field("by", &T::by));
};
template <>
struct Table<api::PointsOutput> {
  using T = api::PointsOutput;
  static constexpr std::string_view name = "points_output";
  static constexpr auto list = std::make_tuple(
      field("outcome", &T::outcome), field("points", &T::points), field("assumed", &T::assumed));
};

}  // namespace drawoff::fields
