#include "water/saturation.h"

#include <cmath>
#include <numbers>

#include "water/activity.h"
#include "water/carbonate.h"
#include "water/ion_pairs.h"

namespace drawoff::water {

namespace {
constexpr LogK kLogKCalcite{-171.9065, -0.077993, 2839.319, 71.595, 0};
}  // namespace

double calcite_index(const Composition& settled, units::Temperature temperature) {
  const PairedWater paired = pair_ions(settled, temperature);
  // Two ions of two charges: 4 times the logarithm each.
  const double log_activity =
      davies_log_activity(paired.ionic_strength.si() * 1e-3, temperature) * 8 / std::numbers::ln10;
  // The carbonate of a settled water is what its pH leaves free beside bicarbonate, which pairs a
  // little: what is bound to calcium and magnesium is not of it.
  const double unbound =
      settled[Species::HCO3] > 0 ? paired.free[Species::HCO3] / settled[Species::HCO3] : 1;
  const double product = 1e-6 * paired.free[Species::Ca] * settled[Species::CO3] * unbound;
  return std::log10(product) + log_activity - kLogKCalcite.at(temperature);
}

}  // namespace drawoff::water
