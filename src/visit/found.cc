#include "visit/found.h"

#include <algorithm>
#include <cmath>

#include "base/check.h"
#include "numerics/random.h"

namespace drawoff {

namespace visit {

namespace {

water::Meter meter_of(const FoundEntry& f) {
  if (f.unit == SignUnit::kMicrosiemens) return {water::MeterScale::kMicrosiemens, 1};
  return {f.scale, f.calibrated_factor};
}

// Standard uncertainty of an ordinary instrument [SI].
double usual_sigma(Sign sign, double si) {
  switch (sign) {
    case Sign::kFillTime:
      return inference::standard_uncertainty({.share_of_reading = 0.02}, si);
    case Sign::kStopPressure:
      return inference::standard_uncertainty(
          {.full_scale = units::bar(10).si(), .share_of_full_scale = 0.025}, si);
    case Sign::kFirstHalfLitre: {
      const units::Conductivity unit = units::microsiemens_per_cm(1);
      return inference::standard_uncertainty(kUsualPen, si / unit.si()) * unit.si();
    }
    case Sign::kFreeChlorine:
    case Sign::kTotalChlorine:
    case Sign::kSanitiserLeft:
      break;  // their band is what the test can tell from none
  }
  return 0;
}

}  // namespace

std::vector<Sign> signs_of(const CourseStep& step,
                           const machine::MachineEntry& machine,
                           const SurveyEntry& survey) {
  switch (step.step) {
    case Step::kSanitiserRinse:
      return {Sign::kSanitiserLeft};
    case Step::kChlorineZero:
      if (may_hold_chloramine(survey)) return {Sign::kFreeChlorine, Sign::kTotalChlorine};
      return {Sign::kFreeChlorine};
    case Step::kShutOff:
      return {Sign::kStopPressure};
    case Step::kFirstFill:
      // What nothing stops has no moment at which it is full.
      if (machine::stops_itself(machine)) return {Sign::kFillTime};
      return {};
    case Step::kRestTest:
      return {Sign::kFirstHalfLitre};
    default:
      return {};
  }
}

std::vector<SignUnit> units_of(Sign sign, bool us) {
  switch (sign) {
    case Sign::kFreeChlorine:
    case Sign::kTotalChlorine:
    case Sign::kSanitiserLeft:
      return {SignUnit::kMilligramLitre};
    case Sign::kFillTime:
      return {SignUnit::kMinute};
    case Sign::kStopPressure:
      if (us) return {SignUnit::kPsi, SignUnit::kBar, SignUnit::kKpa};
      return {SignUnit::kBar, SignUnit::kKpa, SignUnit::kPsi};
    case Sign::kFirstHalfLitre:
      return {SignUnit::kPpm, SignUnit::kMicrosiemens};
  }
  return {};
}

const units::Unit& unit_of(SignUnit unit) {
  const units::Unit* found = units::unit_of_key(fields::name_of(unit));
  CHECK(found != nullptr);
  return *found;
}

double as_shown(double si, const FoundEntry& like) {
  if (like.sign == Sign::kFirstHalfLitre) {
    return water::shown(units::Conductivity(si), meter_of(like));
  }
  return units::from_si(unit_of(like.unit), si);
}

inference::Interval as_read(Sign sign, inference::Interval predicted) {
  const double middle = predicted.middle;
  const double by_meter = numerics::kNormal95 * usual_sigma(sign, middle);
  return {std::max(0.0, middle - std::hypot(middle - predicted.low, by_meter)),
          middle,
          middle + std::hypot(predicted.high - middle, by_meter)};
}

std::optional<SignFit> fit_of(const FoundEntry& found) {
  if (!found.expected) return std::nullopt;
  if (found.value > found.expected->high) return SignFit::kAbove;
  if (found.value < found.expected->low) return SignFit::kBelow;
  return SignFit::kFits;
}

}  // namespace visit

namespace fields {

base::Result<base::Done> Table<visit::SignBand>::check(const T& band, const Path& path) {
  if (band.low <= band.high) return base::Done{};
  return base::Error{base::ErrorKind::kData,
                     {"error.found.band",
                      {{"path", path_argument(path / "low")},
                       {"low", given_number(band.low, nullptr)},
                       {"high", given_number(band.high, nullptr)}}}};
}

base::Result<base::Done> Table<visit::FoundEntry>::check(const T& found, const Path& path) {
  const auto& unit = visit::unit_of(found.unit);
  const auto allowed = visit::units_of(found.sign, false);
  if (std::find(allowed.begin(), allowed.end(), found.unit) == allowed.end()) {
    return base::Error{base::ErrorKind::kData,
                       {"error.reading.unit",
                        {{"path", path_argument(path / "unit")},
                         {"unit", std::string(unit.symbol)},
                         {"point", base::Ref{"sign." + std::string(name_of(found.sign))}}}}};
  }
  // What a test, a watch, a gauge or a pen can show.
  Range range{0, 1e5};
  if (found.sign == visit::Sign::kFillTime) range.high = 2 * 24 * 60;
  if (found.sign == visit::Sign::kStopPressure) {
    range.high = units::from_si(unit, units::bar(100).si());
  }
  if (found.value >= range.low && found.value <= range.high) return base::Done{};
  return out_of_range(
      {.path = path / "value", .meaning = "field.found.value", .unit = &unit, .range = range},
      found.value);
}

}  // namespace fields

}  // namespace drawoff
