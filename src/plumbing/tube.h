// A run of tube: Darcy-Weisbach friction, fittings, height.
//
//   Δp = (f L/D + ΣK) ρ v²/2,   v = 4Q/(π D²)    [Pa]
//
// Friction factor by Churchill 1977, one formula for laminar, critical and turbulent flow:
//
//   f = 8 [(8/Re)¹² + (A + B)^−1.5]^(1/12)
//   A = [2.457 ln 1/((7/Re)^0.9 + 0.27 ε/D)]¹⁶,  B = (37530/Re)¹⁶
//
// Re > 0; within a few per cent of Colebrook; between 2000 and 4000 the truth itself wavers.
// [churchill1977]  Check: Re 1e5, ε/D 1e-4 -> 0.018462625.
#pragma once

#include <cmath>
#include <numbers>

#include "numerics/dual.h"
#include "plumbing/fluid.h"
#include "units/quantity.h"

namespace drawoff::plumbing {

// No open standard names the small plastic tubes on these units: bore and roughness are entered.
struct Tube {
  units::Length length;
  units::Length bore;
  units::Length roughness = units::millimetre(0.0015);  // drawn plastic, from memory
  double minor_loss = 0;                                // ΣK of bends, fittings, entrance, exit
};

// Reynolds number below which Churchill's formula equals 64/Re to the last digit: used there so
// that nothing overflows as the flow goes to zero.
inline constexpr double kPlainLaminar = 100;

template <class S>
S friction_factor(const S& reynolds, double relative_roughness) {
  using std::log;
  using std::pow;
  if (numerics::value_of(reynolds) < kPlainLaminar) return 64.0 / reynolds;
  const S inner = pow(7.0 / reynolds, 0.9) + 0.27 * relative_roughness;
  const S a = pow(-2.457 * log(inner), 16);
  const S b = pow(37530.0 / reynolds, 16);
  return 8.0 * pow(pow(8.0 / reynolds, 12) + pow(a + b, -1.5), 1.0 / 12);
}

// Pressure taken by the run at flow q [m³/s], signed like q, without heights.
template <class S>
S pressure_of(const Tube& tube, const S& q, const Fluid<S>& fluid) {
  using std::abs;
  const double d = tube.bore.si();
  const double section = std::numbers::pi * d * d / 4;
  const double length = tube.length.si();
  const S speed = abs(q) * (1.0 / section);
  if (numerics::value_of(speed) * d * numerics::value_of(fluid.density) <
      kPlainLaminar * numerics::value_of(fluid.viscosity)) {
    // Laminar, written without Re so that the slope at zero flow is right: 32 µ L v/D².
    return 32.0 * length / (d * d * section) * fluid.viscosity * q +
           0.5 * tube.minor_loss / section * fluid.density * q * speed;
  }
  const S re = fluid.density * speed * d / fluid.viscosity;
  const S f = friction_factor(re, tube.roughness.si() / d);
  return (f * (length / d) + tube.minor_loss) * (0.5 / section) * fluid.density * q * speed;
}

}  // namespace drawoff::plumbing
