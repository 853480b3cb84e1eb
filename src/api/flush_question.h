// calc flush: litres and minutes until a residue is gone, or a change shows at the outlet.
#pragma once

#include "api/machine_question_fields.h"
#include "transients/flush.h"

namespace drawoff::api {

struct FlushInput {
  visit::SurveyEntry survey;
  machine::MachineEntry machine;
  machine::Condition condition;
  std::vector<visit::ReadingEntry> readings;  // of which those of the raw water set the day's
  transients::Residue residue = transients::Residue::kPreservative;
  double left = 0.001;  // share of the residue that may be left
  int draws = 200;
  long long seed = 1;
};

struct FlushSide {
  Band volume, time;
};
struct FlushOutput {
  machine::Outcome outcome = machine::Outcome::kRuns;
  double runs = 0;
  std::optional<FlushSide> feed;     // to the drain
  std::optional<FlushSide> product;  // to the outlet
  std::optional<Band> time;          // both at once: the longer
  std::vector<std::string> remarks;
  std::vector<std::string> assumed;
};

base::Result<FlushOutput> ask_flush(const FlushInput& in, Working& working);

}  // namespace drawoff::api

namespace drawoff::fields {

template <>
struct EnumTable<transients::Residue> {
  static constexpr std::string_view name = "residue";
  static constexpr std::array list = {choice(transients::Residue::kPreservative, "preservative"),
                                      choice(transients::Residue::kSanitiser, "sanitiser"),
                                      choice(transients::Residue::kCarbonFines, "carbon_fines"),
                                      choice(transients::Residue::kBlendChange, "blend_change")};
};
template <>
struct Table<api::FlushInput> {
  using T = api::FlushInput;
  static constexpr std::string_view name = "flush_input";
  static constexpr auto list =
      std::make_tuple(field("survey", &T::survey),
                      field("machine", &T::machine),
                      field("condition", &T::condition),
                      field("residue", &T::residue, kRequired),
                      field("left_pct", &T::left, Range{0.0001, 50}),
                      field("readings", &T::readings, Range{0, 60}),
                      field("draws", &T::draws, Range{50, 2000}, kNotAsked),
                      field("seed", &T::seed, at_least(0), kNotAsked));
};
template <>
struct Table<api::FlushSide> {
  using T = api::FlushSide;
  static constexpr std::string_view name = "flush_side";
  static constexpr auto list =
      std::make_tuple(field("volume", &T::volume), field("time", &T::time));
};
template <>
struct Table<api::FlushOutput> {
  using T = api::FlushOutput;
  static constexpr std::string_view name = "flush_output";
  static constexpr auto list = std::make_tuple(field("outcome", &T::outcome),
                                               field("runs_pct", &T::runs),
                                               field("feed", &T::feed, kNullWhenAbsent),
                                               field("product", &T::product, kNullWhenAbsent),
                                               field("time", &T::time, kNullWhenAbsent),
                                               field("remarks", &T::remarks),
                                               field("assumed", &T::assumed));
};

}  // namespace drawoff::fields
