// calc pours: what flow jug and stopwatch found, how sure it is, and how long the next pour should
// be.
#pragma once

#include "api/machine_question_fields.h"
#include "visit/pours.h"

namespace drawoff::api {

enum class FlowUnit { kLh, kMlMin, kLmin, kGpd };

struct PoursInput {
  std::vector<visit::Pour> pours;
  std::optional<units::Volume> jug_mark;
  FlowUnit unit = FlowUnit::kLh;
  double target = 0.02;  // half of the 90 % interval, share of the flow
};

struct PoursUncertainty {
  double standard = 0;
  std::string unit;  // that of the flow
};
struct PoursOutput {
  Band flow;
  PoursUncertainty uncertainty;
  double within = 0;            // half of the 90 % interval, share of the flow
  double scatter = 0;           // of the flow itself from pour to pour, share of it
  std::optional<double> birge;  // none of a single pour
  std::optional<units::Time> next_time;
  std::optional<units::Volume> next_volume;
  std::optional<int> more;
  std::string said;
  std::vector<std::string> doubts;
  std::string next;
};

base::Result<PoursOutput> ask_pours(const PoursInput& in,
                                    Working& working,
                                    const messages::Catalogue& words);

}  // namespace drawoff::api

namespace drawoff::fields {

template <>
struct EnumTable<api::FlowUnit> {
  static constexpr std::string_view name = "flow_unit";
  static constexpr std::array list = {choice(api::FlowUnit::kLh, "L_h"),
                                      choice(api::FlowUnit::kMlMin, "mL_min"),
                                      choice(api::FlowUnit::kLmin, "L_min"),
                                      choice(api::FlowUnit::kGpd, "gpd")};
};
template <>
struct Table<api::PoursInput> {
  using T = api::PoursInput;
  static constexpr std::string_view name = "pours_input";
  static constexpr auto list =
      std::make_tuple(field("pours", &T::pours, Range{1, visit::kMostPours}, kRequired),
                      field("jug_mark_mL", &T::jug_mark, Range{0.01, 1e5}),
                      field("unit", &T::unit),
                      field("target_pct", &T::target, Range{0.5, 50}));
  static base::Result<base::Done> check(const T& in, const Path& path);
};
template <>
struct Table<api::PoursUncertainty> {
  using T = api::PoursUncertainty;
  static constexpr std::string_view name = "pours_uncertainty";
  static constexpr auto list = std::make_tuple(field("standard", &T::standard, kRequired),
                                               field("unit", &T::unit, kRequired));
};
template <>
struct Table<api::PoursOutput> {
  using T = api::PoursOutput;
  static constexpr std::string_view name = "pours_output";
  static constexpr auto list =
      std::make_tuple(field("flow", &T::flow, kRequired),
                      field("uncertainty", &T::uncertainty, kRequired),
                      field("within_pct", &T::within, kRequired),
                      field("scatter_pct", &T::scatter, kRequired),
                      field("scatter_ratio", &T::birge, kRequired, kNullWhenAbsent),
                      field("next_pour_s", &T::next_time, kRequired, kNullWhenAbsent),
                      field("next_pour_mL", &T::next_volume, kRequired, kNullWhenAbsent),
                      field("more_pours", &T::more, kRequired, kNullWhenAbsent),
                      field("said", &T::said, kRequired),
                      field("doubts", &T::doubts, kRequired),
                      field("next", &T::next, kRequired));
};

}  // namespace drawoff::fields
