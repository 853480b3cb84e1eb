// How near a water is to laying down each solid.
//
//   SI = Σ ν log₁₀ a − log₁₀ K(T)       0: in balance; below: dissolves; above: may lay down
//
// Free ions behind their complexes (speciation.h), K of minerals.h; the activity of water is
// 1 − 0.017 Σm. [plummer1982; parkhurst2013]. Against PHREEQC with wateq4f.dat: 0.01.
#pragma once

#include <array>

#include "units/quantity.h"
#include "water/minerals.h"
#include "water/speciation.h"

namespace drawoff::water {

// log₁₀ of the activity of water itself: 0 when pure.
double log_water_activity(const Speciation& water);

// Minus infinity when an ion of it is not there. Check: a chalk groundwater, 25 °C -> calcite
// 0.349.
double saturation_index(const Speciation& water, Mineral which);

// Langelier's index pH − pHs and Ryznar's 2 pHs − pH in the form of Standard Methods 2330 B: pHs is
// where the water's own free calcium and bicarbonate would be in balance with calcite.
//
//   pHs = pK₂ − pK_s + p a_Ca + p a_HCO3        LI = pH − pHs        RI = 2 pHs − pH
//
// [apha2005], from memory. LI is then the saturation index of calcite, up to the CO3 that is there.
struct CalciteBalance {
  double saturation_ph = 0;
  double langelier = 0;
  double ryznar = 0;
};
CalciteBalance calcite_balance(const Speciation& water);

}  // namespace drawoff::water
