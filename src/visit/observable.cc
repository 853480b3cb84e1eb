#include "visit/observable.h"

#include <cmath>

namespace drawoff::visit {

using machine::Condition;
using machine::kind_of;
using machine::Point;
using machine::PointKind;

double observable(Point point, double si, double sound) {
  if (kind_of(point) == PointKind::kPressure) return std::isnan(si) ? 0 : si * 1e-5;
  constexpr double kNothing = 1e-3;  // of what a sound machine shows
  const double least = kind_of(point) == PointKind::kFlow ? units::litre_per_hour(0.01).si()
                                                          : units::microsiemens_per_cm(0.01).si();
  // Without a value (NaN) too.
  return std::log(std::fmax(si, std::fmax(least, kNothing * sound)));
}

Measured observed(Point point, const Measured& reading, double sound) {
  if (kind_of(point) == PointKind::kPressure) {
    return {observable(point, reading.value, sound), reading.sigma * 1e-5};
  }
  const double value = std::fmax(reading.value, reading.sigma);
  // Near nothing a relative error says little: at most as wide as the number itself.
  constexpr double kMostRelative = 1.0;
  return {observable(point, value, sound),
          value > 0 ? std::fmin(kMostRelative, reading.sigma / value) : kMostRelative};
}

Condition as_built(const machine::MachineEntry& entry) {
  return {.product_to = entry.product.vessel,
          .height = entry.product.height,
          .vessel_pressure = entry.product.vessel_pressure};
}

Condition key_of(Condition condition, const Condition& built) {
  condition.since_start.reset();
  condition.rest_before.reset();
  if (!condition.product_to && !condition.height && !condition.vessel_pressure) {
    condition.product_to = built.product_to;
    condition.height = built.height;
    condition.vessel_pressure = built.vessel_pressure;
  }
  return condition;
}

}  // namespace drawoff::visit
