// One machine with what stands behind it and what switches it: what every transient starts from.
#pragma once

#include <optional>

#include "transients/held_water.h"
#include "transients/response_table.h"

namespace drawoff::transients {

struct Thresholds {
  double stops = 0;
  double starts = 0;
};

// What stops and starts the machine. Pressures [Pa]; the shut-off's are shares of the feed's.
struct Controls {
  std::optional<Thresholds> high;      // switch behind the membrane, at the unit
  std::optional<Thresholds> low;       // switch before the pump
  std::optional<Thresholds> shut_off;  // hydraulic, product against feed
  bool pump = false;
  bool solenoid = false;  // shut while the machine does not run
};
// A high-pressure switch with neither pump nor solenoid switches nothing, and is left out.
Controls controls_of(const machine::MachineEntry& entry);

// Pressure at the unit while nothing flows [Pa].
double resting_feed(const machine::Specimen& specimen, const machine::FeedWater& water);

struct Plant {
  ResponseCurve curve;  // against pressure at the lowest outlet
  Store store;
  HeldWater held;
  Controls controls;
  double weight = 0;       // ρ g [Pa/m]
  double static_feed = 0;  // at the unit while nothing flows [Pa]
};
Plant plant_of(const machine::MachineEntry& entry,
               const machine::Specimen& specimen,
               const machine::Feed& feed,
               const machine::Condition& condition,
               const VolumeFactors& factors,
               Reach reach = Reach::kWholeCurve);

// The condition with its outlet at the lowest of the vessels: where the curve's pressures count.
machine::Condition at_lowest_outlet(const machine::MachineEntry& entry,
                                    machine::Condition condition);

}  // namespace drawoff::transients
