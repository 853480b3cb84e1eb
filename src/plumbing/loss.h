// The pressure that a small part takes: restrictor, valve, filter.
//
//   Δp = a µ Q + b ρ Q|Q|    [Pa]
//   a  [1/m³]   the part where the water creeps: grows with viscosity, so with cold
//   b  [1/m⁴]   the part where it jets: the same in summer and winter
//
// Both come from one plate value, a flow at a pressure, and the share of the pressure there that
// is laminar. Monotone in Q, with a finite slope at zero flow as long as a > 0.
#pragma once

#include <cmath>

#include "numerics/dual.h"
#include "plumbing/fluid.h"
#include "units/quantity.h"

namespace drawoff::plumbing {

struct Loss {
  double a = 0;  // [1/m³]
  double b = 0;  // [1/m⁴]
};

// What the plate says: this flow at this pressure, with water of 20 °C (common practice, no
// source).
struct LossPlate {
  units::VolumeFlow flow;
  units::Pressure pressure;
  double laminar_share = 0.5;  // of the pressure, 0 … 1
};

// Check: 1 L/h at 1 bar, all turbulent -> b = 1e5 / (998.2072 (1e-3/3600)²).
Loss loss_from_plate(const LossPlate& plate);

// Pressure taken at flow q [m³/s].
template <class S>
S pressure_of(const Loss& loss, const S& q, const Fluid<S>& fluid) {
  using std::abs;
  return loss.a * fluid.viscosity * q + loss.b * fluid.density * q * abs(q);
}

// d(pressure)/dq at flow q.
inline double slope_of(const Loss& loss, double q, const Fluid<double>& fluid) {
  return loss.a * fluid.viscosity + 2 * loss.b * fluid.density * std::fabs(q);
}

// Flow [m³/s] driven by a pressure [Pa]: the inverse of the above, written so that it neither
// cancels for a mostly laminar part nor divides by zero for a purely turbulent one.
template <class S>
S flow_of(const Loss& loss, const S& pressure, const Fluid<S>& fluid) {
  using std::abs;
  using std::sqrt;
  const S linear = loss.a * fluid.viscosity;
  const S push = abs(pressure);
  const S root = linear + sqrt(linear * linear + 4.0 * loss.b * fluid.density * push);
  if (numerics::value_of(root) <= 0) return S(0.0);
  return 2.0 * pressure / root;
}

}  // namespace drawoff::plumbing
