#include "visit/blend_work.h"

namespace drawoff {
namespace visit {
namespace {

// The number as the meter of another reading would show it.
double on_meter(const ReadingEntry& reading, const ReadingEntry& like) {
  return as_shown(measured(reading).value, like);
}

}  // namespace

ReadingEntry reading_of(const BlendTurnEntry& turn) {
  return {.point = machine::Point::kProductQuality,
          .value = turn.value,
          .unit = turn.unit,
          .instrument = turn.instrument,
          .shown = turn.shown};
}

BlendSetting blend_setting(const BlendWorkEntry& work,
                           const ReadingEntry& raw,
                           const ReadingEntry& permeate,
                           std::span<const BlendTurnEntry> turns) {
  const ReadingEntry like = turns.empty() ? raw : reading_of(turns.back());
  BlendSetting setting{
      .raw = on_meter(raw, like),
      .permeate = on_meter(permeate, like),
      .unit = like.unit == ReadingUnit::kPpm ? MeterUnit::kPpm : MeterUnit::kMicrosiemens,
      .meter = like.instrument,
      .turns_open = work.turns_open,
      .running = permeate.condition.since_start,
      .low = work.low,
      .high = work.high};
  for (const BlendTurnEntry& turn : turns) {
    setting.readings.push_back({.turns = turn.turns,
                                .product = on_meter(reading_of(turn), like),
                                .waited = turn.waited,
                                .turned = turn.turned});
  }
  return setting;
}

bool within_permitted(const BlendLeftEntry& left) {
  return left.turns == 0 || left.share.value_or(1) <= left.permitted.value_or(0);
}

bool left_as_advised(const BlendLeftEntry& left) {
  if (left.turns == 0) return true;
  const bool set =
      left.standing == BlendStanding::kDone || left.standing == BlendStanding::kNearest;
  return set && within_permitted(left);
}

}  // namespace visit

namespace fields {

base::Result<base::Done> Table<visit::UntilEntry>::check(const T& until, const Path& path) {
  const auto refused = [&](const char* key, const char* other) {
    return base::Error{
        base::ErrorKind::kData,
        {"error.blend.range",
         {{"path", path_argument(path / key)}, {"other", path_argument(path / other)}}}};
  };
  if (until.coldest && until.hottest && *until.coldest > *until.hottest) {
    return refused("coldest_C", "hottest_C");
  }
  if (until.lowest_supply && until.highest_supply && *until.lowest_supply > *until.highest_supply) {
    return refused("lowest_supply_bar", "highest_supply_bar");
  }
  return base::Done{};
}

base::Result<base::Done> Table<visit::BlendWorkEntry>::check(const T& work, const Path& path) {
  return check_blend_window(work.low, work.high, path / "low_ppm", path / "high_ppm");
}

base::Result<base::Done> Table<visit::BlendTurnEntry>::check(const T& turn, const Path& path) {
  return Table<visit::ReadingEntry>::check(visit::reading_of(turn), path);
}

base::Result<base::Done> Table<visit::BlendLeftEntry>::check(const T& left, const Path& path) {
  if (left.value) {
    const visit::BlendTurnEntry last{
        .value = *left.value, .unit = left.unit, .instrument = left.instrument};
    TRY([[maybe_unused]] const auto fits, Table<visit::BlendTurnEntry>::check(last, path));
  }
  if (visit::left_as_advised(left) || !left.reason.empty()) return base::Done{};
  return base::Error{base::ErrorKind::kData,
                     {"error.blend.no_reason", {{"path", path_argument(path / "reason")}}}};
}

}  // namespace fields
}  // namespace drawoff
