// calc fill: from a content of the vessel to where the machine stops, what it then does, when it
// starts again, and whether a switch hunts.
#pragma once

#include "api/machine_question_fields.h"
#include "transients/fill.h"

namespace drawoff::api {

struct FillInput {
  visit::SurveyEntry survey;
  machine::MachineEntry machine;
  machine::Condition condition;
  std::vector<visit::ReadingEntry> readings;  // of which those of the raw water set the day's
  units::Volume content;                      // of the vessels as the fill begins
  int draws = 200;
  long long seed = 1;
};

// Of the machine with everything at its median.
struct FillStep {
  double filled = 0;  // share of what comes in
  units::Time time;
  units::Volume volume;
  units::VolumeFlow flow;
  double strength = 0;
};

struct FillOutput {
  machine::Outcome outcome = machine::Outcome::kRuns;
  double runs = 0;
  std::optional<transients::FillEnd> end;  // of the median machine
  std::optional<double> same_end;          // share of the machines that end so too
  std::optional<Band> time, volume, stop_pressure, first_flow, last_flow, strength, quality;
  std::optional<Band> rejected;          // to the drain meanwhile
  std::optional<Band> reject_after;      // that runs on after the stop
  std::optional<Band> drawn_restart;     // before it starts again
  std::optional<double> starts_at_once;  // share of the machines that stop
  std::optional<Band> shortest_cycle;
  std::optional<double> duty;   // of that cycle, median machine
  std::optional<double> hunts;  // share of the machines that stop
  std::optional<units::Volume> tank_to_cure;
  std::optional<units::Pressure> loss_at_switch;  // that vanishes as it stops, median machine
  std::optional<transients::LowSwitch> low_switch;
  std::optional<units::Time> low_switch_period;
  std::optional<units::Pressure> low_switch_pressure;  // running, before the pump
  std::vector<FillStep> course;
  std::vector<std::string> remarks;  // message ids
  std::vector<std::string> assumed;
};

base::Result<FillOutput> ask_fill(const FillInput& in, Working& working);

}  // namespace drawoff::api

namespace drawoff::fields {

template <>
struct EnumTable<transients::FillEnd> {
  static constexpr std::string_view name = "fill_end";
  static constexpr std::array list = {choice(transients::FillEnd::kSwitch, "switch"),
                                      choice(transients::FillEnd::kShutOff, "shut_off"),
                                      choice(transients::FillEnd::kFlowEnds, "flow_ends"),
                                      choice(transients::FillEnd::kOpenOutlet, "open_outlet"),
                                      choice(transients::FillEnd::kNothingComes, "nothing_comes")};
};
template <>
struct EnumTable<transients::LowSwitch> {
  static constexpr std::string_view name = "low_switch";
  static constexpr std::array list = {choice(transients::LowSwitch::kFine, "fine"),
                                      choice(transients::LowSwitch::kHolds, "holds"),
                                      choice(transients::LowSwitch::kHunts, "hunts")};
};
template <>
struct Table<api::FillInput> {
  using T = api::FillInput;
  static constexpr std::string_view name = "fill_input";
  static constexpr auto list =
      std::make_tuple(field("survey", &T::survey),
                      field("machine", &T::machine),
                      field("condition", &T::condition),
                      field("content_L", &T::content, Range{0, 20000}),
                      field("readings", &T::readings, Range{0, 60}),
                      field("draws", &T::draws, Range{50, 2000}, kNotAsked),
                      field("seed", &T::seed, at_least(0), kNotAsked));
  static base::Result<base::Done> check(const T& in, const Path& path);
};
template <>
struct Table<api::FillStep> {
  using T = api::FillStep;
  static constexpr std::string_view name = "fill_step";
  static constexpr auto list = std::make_tuple(field("filled_pct", &T::filled),
                                               field("time_min", &T::time),
                                               field("volume_L", &T::volume),
                                               field("flow_L_h", &T::flow),
                                               field("strength_pct", &T::strength));
};
template <>
struct Table<api::FillOutput> {
  using T = api::FillOutput;
  static constexpr std::string_view name = "fill_output";
  static constexpr auto list =
      std::make_tuple(field("outcome", &T::outcome),
                      field("runs_pct", &T::runs),
                      field("end", &T::end, kNullWhenAbsent),
                      field("same_end_pct", &T::same_end, kNullWhenAbsent),
                      field("time", &T::time, kNullWhenAbsent),
                      field("volume", &T::volume, kNullWhenAbsent),
                      field("stop_pressure", &T::stop_pressure, kNullWhenAbsent),
                      field("first_flow", &T::first_flow, kNullWhenAbsent),
                      field("last_flow", &T::last_flow, kNullWhenAbsent),
                      field("strength", &T::strength, kNullWhenAbsent),
                      field("quality", &T::quality, kNullWhenAbsent),
                      field("rejected", &T::rejected, kNullWhenAbsent),
                      field("reject_after", &T::reject_after, kNullWhenAbsent),
                      field("drawn_to_restart", &T::drawn_restart, kNullWhenAbsent),
                      field("starts_at_once_pct", &T::starts_at_once, kNullWhenAbsent),
                      field("shortest_cycle", &T::shortest_cycle, kNullWhenAbsent),
                      field("duty_pct", &T::duty, kNullWhenAbsent),
                      field("hunts_pct", &T::hunts, kNullWhenAbsent),
                      field("tank_to_cure_L", &T::tank_to_cure, kNullWhenAbsent),
                      field("loss_at_switch_bar", &T::loss_at_switch, kNullWhenAbsent),
                      field("low_switch", &T::low_switch, kNullWhenAbsent),
                      field("low_switch_period_s", &T::low_switch_period, kNullWhenAbsent),
                      field("low_switch_pressure_bar", &T::low_switch_pressure, kNullWhenAbsent),
                      field("course", &T::course),
                      field("remarks", &T::remarks),
                      field("assumed", &T::assumed));
};

}  // namespace drawoff::fields
