// Where the carbonate system of a water settles when nothing comes or goes.
//
// A membrane holds back bicarbonate and lets carbon dioxide pass; a blend mixes two waters. Neither
// is then at the pH of its parts. Alkalinity and total carbonate stay what they are, and the pH
// follows:
//
//   alkalinity = [HCO3] + 2 [CO3] + [OH] − [H],   C = [CO2] + [HCO3] + [CO3]
//   K₁, K₂, K_w of carbonate.h, activities of activity.h      (closed system)
//
// No ion pairs: up to 0.08 in pH in hard or sulfate-rich water. Range 0 … 60 °C, I below 0.5 mol/L.
#pragma once

#include "units/quantity.h"
#include "water/composition.h"

namespace drawoff::water {

struct Settled {
  Composition composition;  // H, OH, CO2, HCO3 and CO3 in balance; all else as it was
  double ph = 7;
};

// Check: PHREEQC's permeate of an upland water, 1.48 mg/L of CO2 and 0.0079 meq/L of alkalinity ->
// pH 5.80.
Settled settled(const Composition& c, units::Temperature temperature);

}  // namespace drawoff::water
