// Properties of pure water against temperature at 0.1 MPa: density, viscosity, permittivity.
//
// Templates on the scalar, so that a dual temperature gives the temperature slope for nothing:
//   Viscosity mu = viscosity(celsius(25));                       // 889.9e-6 Pa·s
//   auto mu = viscosity(Quantity<dim::Temperature, Dual<1>>(t)); // mu.si().v[0] is dµ/dT
// Each exports its kRelativeError: how far from the IAPWS values it may be between 0 and 50 °C,
// the range in which all three are tested. Pressure matters not: 10 bar change density by 0.05 %.
#pragma once

#include <cmath>

#include "numerics/dual.h"
#include "units/quantity.h"

namespace drawoff::water {

template <class Rep>
using TemperatureOf = units::Quantity<units::dim::Temperature, Rep>;

inline constexpr double kGasConstant = 8.314462618;  // R [J/(mol·K)], exact since 2019

// Density of pure water, free of air [kg/m³].
//
//   ρ = a₅ [1 − (t + a₁)² (t + a₂)/(a₃ (t + a₄))]      t [°C], 0 … 40 °C
//
// [tanaka2001, eq. 1]; coefficients from memory. Above 40 °C the error grows to 2e-5 at 50 °C.
// Check: 25 °C -> 997.0476 kg/m³ (IAPWS-95).
inline constexpr double kDensityRelativeError = 2e-5;

template <class Rep>
units::Quantity<units::dim::Density, Rep> density(const TemperatureOf<Rep>& temperature) {
  const Rep t = temperature.si() - Rep(273.15);
  const Rep from_maximum = t - Rep(3.983035);
  return units::Quantity<units::dim::Density, Rep>(
      Rep(999.974950) * (Rep(1.0) - from_maximum * from_maximum * (t + Rep(301.797)) /
                                        (Rep(522528.9) * (t + Rep(69.34881)))));
}

// Dynamic viscosity of pure water [Pa·s].
//
//   µ = 280.68 T̃^−1.9 + 511.45 T̃^−7.7 + 61.131 T̃^−19.6 + 0.45903 T̃^−40   [µPa·s]
//   T̃ = T/300 K                                                    253 … 383 K, ±1 %
//
// [iapws2008, eq. 7]; coefficients from memory. The ±1 % is that of water's viscosity itself;
// kViscosityRelativeError is against the IAPWS 2008 formulation.
// Check: 25 °C -> 0.89002 mPa·s.
inline constexpr double kViscosityRelativeError = 3e-4;

template <class Rep>
units::Quantity<units::dim::Viscosity, Rep> viscosity(const TemperatureOf<Rep>& temperature) {
  using std::exp;
  using std::log;
  // One logarithm and four exponentials: cheaper than four powers, and the same for duals.
  const Rep l = log(temperature.si() * Rep(1.0 / 300.0));
  return units::Quantity<units::dim::Viscosity, Rep>(
      Rep(280.68e-6) * exp(Rep(-1.9) * l) + Rep(511.45e-6) * exp(Rep(-7.7) * l) +
      Rep(61.131e-6) * exp(Rep(-19.6) * l) + Rep(0.45903e-6) * exp(Rep(-40.0) * l));
}

// Static relative permittivity of pure water [1].
//
//   ε = −43.7527 T̃^−0.05 + 299.504 T̃^−1.47 − 399.364 T̃^−2.11 + 221.327 T̃^−2.31,  T̃ = T/300 K
//
// [iapws2008, eq. 9]; coefficients from memory. It lies up to 4.2e-4 below the full IAPWS 1997
// formulation, against which kPermittivityRelativeError is meant. Check: 25 °C -> 78.3752.
inline constexpr double kPermittivityRelativeError = 5e-4;

template <class Rep>
Rep relative_permittivity(const TemperatureOf<Rep>& temperature) {
  using std::exp;
  using std::log;
  const Rep l = log(temperature.si() * Rep(1.0 / 300.0));
  return Rep(-43.7527) * exp(Rep(-0.05) * l) + Rep(299.504) * exp(Rep(-1.47) * l) -
         Rep(399.364) * exp(Rep(-2.11) * l) + Rep(221.327) * exp(Rep(-2.31) * l);
}

}  // namespace drawoff::water
