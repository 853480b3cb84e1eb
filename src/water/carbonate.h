// Equilibrium constants of carbonic acid and of water against temperature.
//
// log₁₀ K with activities in mol/kg, T in kelvin, 0 … 90 °C:
//   K₁ = a_H a_HCO3/a_CO2     −356.3094 − 0.06091964 T + 21834.37/T + 126.8339 log₁₀T − 1684915/T²
//   K₂ = a_H a_CO3/a_HCO3     −107.8871 − 0.03252849 T + 5151.79/T + 38.92561 log₁₀T − 563713.9/T²
//   K_H = a_CO2/p_CO2 [atm]    108.3865 + 0.01985076 T − 6919.53/T − 40.45154 log₁₀T + 669365/T²
//   K_w = a_H a_OH            −283.971 − 0.05069842 T + 13323/T + 102.24447 log₁₀T − 1119669/T²
//
// K₁, K₂, K_H [plummer1982]; K_w [parkhurst2013], from memory.
// Check: 25 °C -> −6.352, −10.329, −1.468, −14.000.
#pragma once

#include <cmath>

#include "units/quantity.h"

namespace drawoff::water {

// Coefficients of log₁₀ K = a + b T + c/T + d log₁₀T + e/T².
struct LogK {
  double a, b, c, d, e;
  [[nodiscard]] double at(units::Temperature temperature) const {
    const double t = temperature.si();
    return a + b * t + c / t + d * std::log10(t) + e / (t * t);
  }
};

inline constexpr LogK kLogK1{-356.3094, -0.06091964, 21834.37, 126.8339, -1684915.0};
inline constexpr LogK kLogK2{-107.8871, -0.03252849, 5151.79, 38.92561, -563713.9};
inline constexpr LogK kLogKH{108.3865, 0.01985076, -6919.53, -40.45154, 669365.0};
inline constexpr LogK kLogKw{-283.971, -0.05069842, 13323.0, 102.24447, -1119669.0};

}  // namespace drawoff::water
