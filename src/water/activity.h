// Activity coefficient of a single ion, for equilibria in drinking water.
//
//   log₁₀ γ = −A z² (√I/(1+√I) − 0.3 I)      A = 3 A_φ/ln 10      I in mol/kg, up to 0.5   (Davies)
//
// [davies1962; 0.3 as in its second form].  Check: A at 25 °C -> 0.510; γ(z = 1, I = 0.00959) ->
// 0.906. Above I = 0.5 the value at 0.5 is kept: the parabola would turn and rise without end.
// Osmotic pressure never uses this; it has Pitzer's model (pitzer.h).
#pragma once

#include <algorithm>
#include <cmath>
#include <numbers>

#include "units/quantity.h"
#include "water/pitzer.h"

namespace drawoff::water {

// ln γ of an ion of charge 1 [1]; an ion of charge z has z² times this.
inline double davies_log_activity(double ionic_strength_mol_kg, units::Temperature temperature) {
  const double i = std::clamp(ionic_strength_mol_kg, 0.0, 0.5);
  const double root = std::sqrt(i);
  return -3.0 * debye_hueckel_slope(temperature) * (root / (1.0 + root) - 0.3 * i);
}

}  // namespace drawoff::water
