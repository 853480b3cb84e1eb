// A diaphragm booster pump: how much pressure it adds at a flow.
//
// From its plate: the flow with nothing against it, a rated flow at a rated pressure, and the
// pressure at which its bypass opens. Between, a straight line (common practice, no source); once
// the bypass opens, the flow falls to nothing over a further tenth of that pressure (from memory).
// Fed with more than its open flow, it lets water pass and takes a little pressure itself.
//
//   Δp(Q) falls strictly in Q: that is what makes a machine's solution unique.
#pragma once

#include "numerics/dual.h"
#include "units/quantity.h"

namespace drawoff::plumbing {

struct Pump {
  units::VolumeFlow open_flow;
  units::VolumeFlow rated_flow;     // below open_flow
  units::Pressure rated_pressure;   // added at rated_flow
  units::Pressure bypass_pressure;  // added when its bypass opens, at or above rated_pressure
};

// Share of the bypass pressure over which an opening bypass takes all the flow (from memory).
inline constexpr double kBypassSpan = 0.1;
// Pressure taken per pressure given by the straight line, where water is pushed through the pump
// faster than it runs: its valves are open (from memory).
inline constexpr double kPassThrough = 0.05;

// Pressure added [Pa] at flow q [m³/s]; `strength` scales all flows (wear, voltage, tolerance).
template <class S>
S pressure_added(const Pump& pump, const S& q, const S& strength) {
  const double open = pump.open_flow.si();
  const double slope =
      pump.rated_pressure.si() / (open - pump.rated_flow.si());  // Pa per m³/s, falling
  const double bypass = pump.bypass_pressure.si();
  const S flow = q / strength;
  if (flow > S(open)) return (open - flow) * (slope * kPassThrough);
  const S on_line = (open - flow) * slope;
  if (on_line < S(bypass)) return on_line;
  const double at_bypass = open - bypass / slope;  // flow where the bypass opens
  if (at_bypass <= 0) return on_line;
  return bypass + (at_bypass - flow) * (kBypassSpan * bypass / at_bypass);
}

}  // namespace drawoff::plumbing
