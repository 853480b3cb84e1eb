// The water that stands in a machine's parts, and the air caught among it.
//
// No plate states them: volumes by part are from data/tolerances.csv, each with one spread; the
// feed channel follows from the element's own area and height.
#pragma once

#include <cstdint>

#include "machine/ensemble.h"
#include "machine/readings.h"
#include "transients/vessel.h"
#include "transients/wash.h"

namespace drawoff::transients {

// How one machine's volumes differ from the usual: factors.
struct VolumeFactors {
  double membrane = 1;  // behind the membrane
  double filters = 1;
  double air = 1;
};
// One equally likely set, independent of what a specimen of the same seed and index draws.
VolumeFactors draw_volume_factors(std::uint64_t seed, int index);

struct HeldWater {
  std::vector<double> pre_filters;   // [m³] each, housing with cartridge
  double feed_channel = 0;           // all elements, V = ε h A/2
  double permeate_side = 0;          // all elements
  std::vector<double> post_filters;  // each
  double product_tube = 0;
  double drain_tube = 0;

  // The water's way from membrane to outlet; from behind the blend tee to the outlet.
  Chain product_side() const;
  Chain behind_tee() const;
  // From the filters to the drain.
  Chain feed_side() const;
};
HeldWater held_water(const machine::MachineEntry& entry,
                     const machine::Specimen& specimen,
                     const VolumeFactors& factors);

// What stands behind the outlet: vessels as entered, usual for their kind where the entry is
// silent. With a jug, nothing. `weight` ρ g of the water [Pa/m].
Store store_of(const machine::MachineEntry& entry,
               const machine::Condition& condition,
               const VolumeFactors& factors,
               double weight);
// Their whole volume together.
units::Volume vessels_of(const machine::MachineEntry& entry, const machine::Condition& condition);
// The height of the lowest outlet above the unit [m]: from where a Store's heads count.
units::Length lowest_outlet(const machine::MachineEntry& entry,
                            const machine::Condition& condition);
// Where the product goes in that state.
machine::ProductVessel vessel_of(const machine::MachineEntry& entry,
                                 const machine::Condition& condition);

// Share of a vessel's volume after which its float opens again (data/tolerances.csv).
double float_share();

}  // namespace drawoff::transients
