// How near a water is to laying down calcite.
//
//   SI = log₁₀ (a_Ca a_CO3/K),   log₁₀ K = −171.9065 − 0.077993 T + 2839.319/T + 71.595 log₁₀T
//
// [plummer1982], 0 … 90 °C. Free ions behind their pairs (ion_pairs.h), activities of activity.h.
#pragma once

#include "units/quantity.h"
#include "water/composition.h"

namespace drawoff::water {

// Of a water whose carbonate is settled (equilibrium.h); minus infinity without calcium or
// carbonate. Check: K at 25 °C -> 10^−8.480; a chalk groundwater of PHREEQC -> SI 0.35.
double calcite_index(const Composition& settled, units::Temperature temperature);

}  // namespace drawoff::water
