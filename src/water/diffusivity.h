// How fast the dissolved salt as a whole diffuses: the D of the mass-transfer law.
//
// Ions of unlike speed drag each other until they move as one. For a mixture the cations and the
// anions are each replaced by one mean ion, which reproduces every single salt exactly.
#pragma once

#include "units/quantity.h"
#include "water/composition.h"
#include "water/properties.h"

namespace drawoff::water {

// Effective salt diffusivity at 25 °C and infinite dilution [m²/s] (Nernst-Hartley).
//
//   D = (z₊ + z₋) D₊ D₋/(z₊ D₊ + z₋ D₋),  D± = Σ|z|cD/Σ|z|c,  z± = Σz²c/Σ|z|c  over each sign
//
// [robinson1959, eq. 11.4 for one salt]; the mean ions are ours. A water without ions has the
// value of NaCl, so that a model never divides by zero. Check: NaCl -> 1.611e-9, CaCl2 -> 1.335e-9.
units::Diffusivity salt_diffusivity_25(const Composition& c);

// The same at another temperature: D(T) = D₂₅ (T/298.15 K) µ(298.15 K)/µ(T)  [m²/s]
// (Stokes-Einstein). Check: 1.611e-9 at 25 °C -> 1.04272e-9 at 10 °C.
template <class Rep>
units::Quantity<units::dim::Diffusivity, Rep> diffusivity_at(
    units::Diffusivity d25, const TemperatureOf<Rep>& temperature) {
  const double reference = d25.si() * viscosity(units::celsius(25)).si() / units::celsius(25).si();
  return units::Quantity<units::dim::Diffusivity, Rep>(Rep(reference) * temperature.si() /
                                                       viscosity(temperature).si());
}

}  // namespace drawoff::water
