// calc hold: a unit was shut in under pressure and the gauge fell. Does it leak, how much, and how
// small a leak could this show?
#pragma once

#include "api/machine_question_fields.h"
#include "transients/pressure_hold.h"

namespace drawoff::api {

struct HoldInput {
  std::optional<machine::MachineEntry> machine;
  std::optional<units::Volume> volume;  // shut in, in place of the machine's
  units::Length tube_length;            // of it, in tube
  units::Length tube_bore = units::millimetre(6.35);
  std::optional<units::Volume> air;  // usual if absent
  std::optional<bool> tank_open;     // if absent: where the machine has one
  units::Pressure start;
  units::Pressure end;
  units::Time time;
  units::Time before = units::Time(300);  // under that pressure before it was shut in
  units::Pressure resolution = units::bar(0.1);
  long long seed = 1;
};

struct HoldOutput {
  transients::HoldVerdict verdict = transients::HoldVerdict::kCannotTell;
  std::string said;
  units::Pressure fall;
  std::optional<Band> tight_fall;
  std::optional<Band> leak;
  std::optional<Band> drops;  // a minute
  std::optional<Band> give;   // water that one bar of fall means
  std::optional<units::VolumeFlow> smallest;
  std::optional<double> smallest_drops;  // a minute
  std::vector<std::string> next;
  std::vector<std::string> cautions;
};

base::Result<HoldOutput> ask_hold(const HoldInput& in,
                                  Working& working,
                                  const messages::Catalogue& words);

}  // namespace drawoff::api

namespace drawoff::fields {

template <>
struct EnumTable<transients::HoldVerdict> {
  static constexpr std::string_view name = "hold_verdict";
  static constexpr std::array list = {choice(transients::HoldVerdict::kTight, "tight"),
                                      choice(transients::HoldVerdict::kMayLeak, "may_leak"),
                                      choice(transients::HoldVerdict::kLeaks, "leaks"),
                                      choice(transients::HoldVerdict::kRose, "rose"),
                                      choice(transients::HoldVerdict::kTankOpen, "tank_open"),
                                      choice(transients::HoldVerdict::kCannotTell, "cannot_tell")};
};
template <>
struct Table<api::HoldInput> {
  using T = api::HoldInput;
  static constexpr std::string_view name = "hold_input";
  static constexpr auto list =
      std::make_tuple(field("machine", &T::machine),
                      field("volume_L", &T::volume, Range{0.01, 1000}),
                      field("tube_length_m", &T::tube_length, Range{0, 1000}),
                      field("tube_bore_mm", &T::tube_bore, Range{0.5, 200}),
                      field("air_mL", &T::air, Range{0, 20000}),
                      field("tank_open", &T::tank_open),
                      field("start_bar", &T::start, Range{0.2, 16}, kRequired),
                      field("end_bar", &T::end, Range{0, 16}, kRequired),
                      field("time_min", &T::time, Range{1, 2880}, kRequired),
                      field("before_min", &T::before, Range{0.5, 1e5}),
                      field("resolution_bar", &T::resolution, Range{0.001, 1}),
                      field("seed", &T::seed, at_least(0), kNotAsked));
  // A machine or a volume; no more in the tube than is shut in.
  static base::Result<base::Done> check(const T& in, const Path& path);
};
template <>
struct Table<api::HoldOutput> {
  using T = api::HoldOutput;
  static constexpr std::string_view name = "hold_output";
  static constexpr auto list = std::make_tuple(
      field("verdict", &T::verdict, kRequired),
      field("said", &T::said, kRequired),
      field("fall_bar", &T::fall, kRequired),
      field("tight_fall", &T::tight_fall, kRequired, kNullWhenAbsent),
      field("leak", &T::leak, kRequired, kNullWhenAbsent),
      field("drops_a_minute", &T::drops, kRequired, kNullWhenAbsent),
      field("give", &T::give, kRequired, kNullWhenAbsent),
      field("smallest_mL_h", &T::smallest, kRequired, kNullWhenAbsent),
      field("smallest_drops_a_minute", &T::smallest_drops, kRequired, kNullWhenAbsent),
      field("next", &T::next, kRequired),
      field("cautions", &T::cautions, kRequired));
};

}  // namespace drawoff::fields
