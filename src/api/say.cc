#include "api/say.h"

#include <algorithm>
#include <cmath>

#include "messages/number.h"

namespace drawoff::api {

using base::Message;
using base::Number;

Number percent(double share) {
  const double whole = std::clamp(std::round(100 * share), 1.0, 99.0);
  return {whole, "%", messages::digits_of(whole)};
}

Message band_of(double low, double high, const std::string& unit) {
  const double width = std::fmax(std::fabs(high - low), 1e-12);
  const double last = std::floor(std::log10(width / 5));  // power of ten of the last digit shown
  const auto digits = [&](double value) {
    const double first = std::floor(std::log10(std::fmax(std::fabs(value), std::pow(10, last))));
    return std::clamp(static_cast<int>(first - last) + 1, 1, 12);
  };
  return {"job.band",
          {{"low", Number{low, "", digits(low)}}, {"high", Number{high, unit, digits(high)}}}};
}

Message band_of(const inference::Interval& interval, const visit::ReadingEntry& like) {
  return band_of(interval.low, interval.high, std::string(visit::unit_of(like.unit).symbol));
}

visit::ReadingUnit usual_unit(machine::PointKind kind, fields::UnitSystem units) {
  const bool us = units == fields::UnitSystem::kUs;
  switch (kind) {
    case machine::PointKind::kPressure:
      return us ? visit::ReadingUnit::kPsi : visit::ReadingUnit::kBar;
    case machine::PointKind::kFlow:
      return us ? visit::ReadingUnit::kGpd : visit::ReadingUnit::kLh;
    case machine::PointKind::kTemperature:
      return us ? visit::ReadingUnit::kFahrenheit : visit::ReadingUnit::kCelsius;
    case machine::PointKind::kQuality:
      break;
  }
  return visit::ReadingUnit::kPpm;
}

Number number_of(const visit::ReadingEntry& reading) {
  return {reading.value,
          std::string(visit::unit_of(reading.unit).symbol),
          messages::digits_of(reading.value)};
}

}  // namespace drawoff::api
