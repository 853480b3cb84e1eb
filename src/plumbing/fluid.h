// What pipes need of the water, SI: density [kg/m³] and viscosity [Pa·s].
#pragma once

namespace drawoff::plumbing {

inline constexpr double kGravity = 9.80665;  // standard gravity [m/s²], [bipm2019]

template <class S>
struct Fluid {
  S density{};
  S viscosity{};
};

}  // namespace drawoff::plumbing
