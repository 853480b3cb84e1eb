// calc blend: the highest permissible blend and the wanted one, how far to turn next, how long to
// wait.
//
// The setting is what was read at the valve. With the survey the share of raw water is kept below
// every limit (visit/blend_limit.h), of the raw water as it reads where that is stronger than
// surveyed; with the machine also until the next visit, over the coldest and hottest month, the
// supply's range, the membranes' age and a tank from empty to full.
#pragma once

#include "api/blend_limits.h"
#include "api/machine_question_fields.h"

namespace drawoff::api {

struct BlendInput {
  visit::BlendSetting setting;
  std::optional<units::VolumeFlow> permeate_flow;  // blend shut
  std::optional<visit::SurveyEntry> survey;
  std::optional<machine::MachineEntry> machine;
  std::optional<units::Temperature> coldest;  // of the water, until the next visit
  std::optional<units::Temperature> hottest;
  std::optional<units::Pressure> lowest_supply;
  std::optional<units::Pressure> highest_supply;
  int draws = 100;
  long long seed = 1;
};

struct BlendOutput {
  visit::BlendStanding standing = visit::BlendStanding::kTurn;
  std::string said;
  std::optional<double> back_to;
  std::optional<double> to;
  std::optional<double> turn;
  std::optional<units::Time> wait;
  std::optional<Band> expected;  // of the next reading, as the meter shows
  std::optional<Band> product;   // true, now [ppm, half scale]
  std::optional<Band> share;     // of raw water, now
  std::optional<double> inside;
  std::optional<double> over_share;
  double highest_share = 1;
  Band wanted_share;                // low, middle and high end of the window
  std::optional<Band> wanted_flow;  // of raw water
  std::optional<BlendLimitOutput> limit;
  std::vector<std::string> instead;
  std::vector<std::string> cautions;
};

base::Result<BlendOutput> ask_blend(const BlendInput& in,
                                    Working& working,
                                    const messages::Catalogue& words);

}  // namespace drawoff::api

namespace drawoff::fields {

template <>
struct Table<api::BlendInput> {
  using T = api::BlendInput;
  static constexpr std::string_view name = "blend_input";
  static constexpr auto list =
      std::make_tuple(field("setting", &T::setting, kRequired),
                      field("permeate_flow_L_h", &T::permeate_flow, Range{0.1, 5000}),
                      field("survey", &T::survey),
                      field("machine", &T::machine),
                      field("coldest_C", &T::coldest, Range{0, 60}),
                      field("hottest_C", &T::hottest, Range{0, 60}),
                      field("lowest_supply_bar", &T::lowest_supply, Range{0.01, 16}),
                      field("highest_supply_bar", &T::highest_supply, Range{0.01, 16}),
                      field("draws", &T::draws, Range{50, 2000}, kNotAsked),
                      field("seed", &T::seed, at_least(0), kNotAsked));
  // No machine without a survey, no colder than hot, no lower than high.
  static base::Result<base::Done> check(const T& in, const Path& path);
};
template <>
struct Table<api::BlendOutput> {
  using T = api::BlendOutput;
  static constexpr std::string_view name = "blend_output";
  static constexpr auto list =
      std::make_tuple(field("standing", &T::standing, kRequired),
                      field("said", &T::said, kRequired),
                      field("turn_back_to", &T::back_to, kRequired, kNullWhenAbsent),
                      field("turn_to", &T::to, kRequired, kNullWhenAbsent),
                      field("turn_by", &T::turn, kRequired, kNullWhenAbsent),
                      field("wait_min", &T::wait, kRequired, kNullWhenAbsent),
                      field("expected", &T::expected, kRequired, kNullWhenAbsent),
                      field("product", &T::product, kRequired, kNullWhenAbsent),
                      field("share", &T::share, kRequired, kNullWhenAbsent),
                      field("inside_pct", &T::inside, kRequired, kNullWhenAbsent),
                      field("over_share_pct", &T::over_share, kRequired, kNullWhenAbsent),
                      field("highest_share_pct", &T::highest_share, kRequired),
                      field("wanted_share", &T::wanted_share, kRequired),
                      field("wanted_flow", &T::wanted_flow, kRequired, kNullWhenAbsent),
                      field("limit", &T::limit, kRequired, kNullWhenAbsent),
                      field("instead", &T::instead, kRequired),
                      field("cautions", &T::cautions, kRequired));
};

}  // namespace drawoff::fields
