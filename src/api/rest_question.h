// calc rest: what has moved while the machine stood, and what the first draw then shows.
#pragma once

#include "api/machine_question_fields.h"
#include "transients/rest.h"

namespace drawoff::api {

// The rest itself is condition.rest_before_h, which must be given.
struct RestInput {
  visit::SurveyEntry survey;
  machine::MachineEntry machine;
  machine::Condition condition;
  std::vector<visit::ReadingEntry> readings;  // of which those of the raw water set the day's
  int draws = 200;
  long long seed = 1;
};

// Of the machine with everything at its median.
struct DrawnStep {
  units::Volume drawn;
  double strength = 0;
  units::Conductivity quality;
};

struct RestOutput {
  machine::Outcome outcome = machine::Outcome::kRuns;
  double runs = 0;
  std::optional<Band> time_constant, held_behind_membrane, strength_behind_membrane;
  std::optional<Band> product_quality;   // running
  std::optional<Band> first_half_litre;  // its mean
  std::optional<Band> settled;           // litres until within a tenth
  std::optional<bool> feed_runs;         // the feed side is fed on, median machine
  std::optional<transients::Seep> seep;  // median machine
  std::optional<double> same_seep;
  std::optional<Band> seep_flow, seep_volume, vessel_before, vessel_after;
  std::vector<DrawnStep> first_draw;
  std::vector<std::string> remarks;
  std::vector<std::string> assumed;
};

base::Result<RestOutput> ask_rest(const RestInput& in, Working& working);

}  // namespace drawoff::api

namespace drawoff::fields {

template <>
struct EnumTable<transients::Seep> {
  static constexpr std::string_view name = "seep";
  static constexpr std::array list = {choice(transients::Seep::kNothingMoves, "nothing_moves"),
                                      choice(transients::Seep::kRawSeepsIn, "raw_seeps_in"),
                                      choice(transients::Seep::kRunsBack, "product_runs_back")};
};
template <>
struct Table<api::RestInput> {
  using T = api::RestInput;
  static constexpr std::string_view name = "rest_input";
  static constexpr auto list =
      std::make_tuple(field("survey", &T::survey),
                      field("machine", &T::machine),
                      field("condition", &T::condition, kRequired),
                      field("readings", &T::readings, Range{0, 60}),
                      field("draws", &T::draws, Range{50, 2000}, kNotAsked),
                      field("seed", &T::seed, at_least(0), kNotAsked));
  static base::Result<base::Done> check(const T& in, const Path& path);
};
template <>
struct Table<api::DrawnStep> {
  using T = api::DrawnStep;
  static constexpr std::string_view name = "drawn_step";
  static constexpr auto list = std::make_tuple(field("drawn_mL", &T::drawn),
                                               field("strength_pct", &T::strength),
                                               field("quality_uS_cm", &T::quality));
};
template <>
struct Table<api::RestOutput> {
  using T = api::RestOutput;
  static constexpr std::string_view name = "rest_output";
  static constexpr auto list = std::make_tuple(
      field("outcome", &T::outcome),
      field("runs_pct", &T::runs),
      field("time_constant", &T::time_constant, kNullWhenAbsent),
      field("held_behind_membrane", &T::held_behind_membrane, kNullWhenAbsent),
      field("strength_behind_membrane", &T::strength_behind_membrane, kNullWhenAbsent),
      field("product_quality", &T::product_quality, kNullWhenAbsent),
      field("first_half_litre", &T::first_half_litre, kNullWhenAbsent),
      field("settled", &T::settled, kNullWhenAbsent),
      field("feed_runs", &T::feed_runs, kNullWhenAbsent),
      field("seep", &T::seep, kNullWhenAbsent),
      field("same_seep_pct", &T::same_seep, kNullWhenAbsent),
      field("seep_flow", &T::seep_flow, kNullWhenAbsent),
      field("seep_volume", &T::seep_volume, kNullWhenAbsent),
      field("vessel_before", &T::vessel_before, kNullWhenAbsent),
      field("vessel_after", &T::vessel_after, kNullWhenAbsent),
      field("first_draw", &T::first_draw),
      field("remarks", &T::remarks),
      field("assumed", &T::assumed));
};

}  // namespace drawoff::fields
