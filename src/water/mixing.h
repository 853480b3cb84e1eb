// Blend arithmetic: how much raw water brings the product to the wanted value, and what a mix of
// two waters is.
#pragma once

#include "units/quantity.h"
#include "water/composition.h"

namespace drawoff::water {

// Any quantity that mixes in proportion to volume, in one unit throughout: dissolved solids,
// chloride, hardness. A pocket meter's ppm mixes so only roughly (raw and product differ in
// factor).
struct BlendTarget {
  double target = 0;
  double product = 0;
  double raw = 0;
};

// Raw share of the blended stream by volume [1]:  b = (C_t − C_p)/(C_r − C_p).
//
// Not limited to 0 … 1: below 0 the product is already above the target, above 1 so is none of it.
// Raw and product must differ. [army1986, App. A].  Check: 500, product 303, raw 800 -> 0.396.
constexpr double raw_share(const BlendTarget& b) {
  return (b.target - b.product) / (b.raw - b.product);
}

struct Stream {
  Composition composition;
  units::VolumeFlow flow;
};

// The mix of two streams: each species' flow adds, volumes add. Nothing reacts here; CO2, HCO3 and
// CO3 are carried as they come. A mix of two flows of zero is the first composition.
Composition mixed(const Stream& a, const Stream& b);

}  // namespace drawoff::water
