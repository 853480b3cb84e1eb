#include "visit/observable.h"

#include <cmath>

namespace drawoff::visit {

using machine::Condition;
using machine::kind_of;
using machine::Point;
using machine::PointKind;

double observable(Point point, double si, double sound) {
  constexpr double kNothing = 1e-3;
  if (kind_of(point) == PointKind::kPressure) return std::isnan(si) ? 0 : si * 1e-5;
  const double least = kNothing * sound;
  return std::log(std::isnan(si) || !(si > least) ? least : si);
}

double observable_sigma(Point point, const Measured& measured) {
  if (kind_of(point) == PointKind::kPressure) return measured.sigma * 1e-5;
  // Near nothing a relative error says little: at most as wide as the number itself.
  constexpr double kMostRelative = 1.0;
  return measured.value > 0 ? std::fmin(kMostRelative, measured.sigma / measured.value)
                            : kMostRelative;
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
