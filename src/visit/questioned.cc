#include "visit/questioned.h"

#include <cmath>

namespace drawoff::visit {
namespace {

using base::Message;
using base::Number;
using machine::Point;

Number shown(double value, const ReadingEntry& r) {
  return {value, std::string(unit_of(r.unit).symbol), 3};
}

// Within a quarter of a factor: closer than a machine comes to it by chance.
bool near(double ratio, double factor) { return std::fabs(std::log(ratio / factor)) < 0.22; }

// A raw water that differs so much from its survey is hardly the same: seasons move a source by
// less (common practice, no source).
constexpr double kOtherWater = 3;

}  // namespace

inference::Interval as_shown(const inference::Interval& si, const ReadingEntry& reading) {
  return {as_shown(si.low, reading), as_shown(si.middle, reading), as_shown(si.high, reading)};
}

std::optional<Message> questioned(const ReadingEntry& r,
                                  const std::optional<inference::Interval>& expected,
                                  std::optional<double> raw) {
  if (r.instrument.full_scale > 0 && r.value > r.instrument.full_scale) {
    return Message{"reading.question.beyond_gauge",
                   {{"value", shown(r.value, r)}, {"full", shown(r.instrument.full_scale, r)}}};
  }
  if (machine::kind_of(r.point) == machine::PointKind::kFlow && r.value < 0) {
    return Message{"reading.question.below_nothing", {{"value", shown(r.value, r)}}};
  }
  if (r.point == Point::kRejectFlow && r.value == 0) {
    return Message{"reading.question.no_reject"};
  }
  const bool behind = r.point == Point::kProductQuality || r.point == Point::kPermeateQuality;
  if (behind && raw && measured(r).value >= *raw) {
    return Message{"reading.question.as_raw",
                   {{"value", shown(r.value, r)}, {"raw", shown(as_shown(*raw, r), r)}}};
  }
  if (!expected || !(expected->middle > 0) || !(r.value > 0)) return std::nullopt;
  if (r.value >= expected->low && r.value <= expected->high) return std::nullopt;
  const double ratio = r.value / expected->middle;
  for (const double factor : {10.0, 0.1}) {
    if (!near(ratio, factor)) continue;
    return Message{factor > 1 ? "reading.question.ten_times" : "reading.question.a_tenth",
                   {{"value", shown(r.value, r)}, {"expected", shown(expected->middle, r)}}};
  }
  if (machine::kind_of(r.point) != machine::PointKind::kQuality) return std::nullopt;
  // As it would read in the meter's other unit.
  ReadingEntry other = r;
  other.unit = r.unit == ReadingUnit::kPpm ? ReadingUnit::kMicrosiemens : ReadingUnit::kPpm;
  const double swapped = as_shown(measured(other).value, r);
  if (swapped >= expected->low && swapped <= expected->high) {
    return Message{
        "reading.question.other_unit",
        {{"value", shown(r.value, r)}, {"other", std::string(unit_of(other.unit).symbol)}}};
  }
  if (r.point == Point::kRawQuality && std::fabs(std::log(ratio)) > std::log(kOtherWater)) {
    return Message{"reading.question.other_water",
                   {{"value", shown(r.value, r)}, {"expected", shown(expected->middle, r)}}};
  }
  return std::nullopt;
}

}  // namespace drawoff::visit
