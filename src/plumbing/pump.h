// The pumps of these units: how much pressure they add at a flow.
//
// All are read from four values of a plate: the flow with nothing against it, a rated flow at a
// rated pressure, and the pressure of bypass, relief valve or no flow. Δp(Q) falls strictly in Q:
// that is what makes a machine's solution unique.
//
// Diaphragm booster. A straight line from open through rated flow (common practice, no source);
//   once the bypass opens, the flow falls to nothing over a further tenth of that pressure (from
//   memory). Fed with more than its open flow, it lets water pass and takes a little pressure
//   itself. Speed and wear scale all flows.
// Rotary vane. Positive displacement less slip through the clearances, which grows with pressure
//   alone:  Q = n Q_open − c Δp,  c = (Q_open − Q_rated)/p_rated  [white2011, ch. 11]; the relief
//   valve opens as the bypass above. Pushed faster than it runs, the slip runs the other way.
// Multistage centrifugal.  Δp = n² p_0 (1 − (Q/(n Q_open))^m),  the power m such that the curve
//   goes through the rated point (common practice, no source; m = 2 is the textbook's parabola).
//   n is the speed as a share of the plate's: head with its square, flow with it (affinity laws,
//   [white2011, ch. 11]). Beyond its open flow it goes on along the tangent.
//
// In series pressures add at one flow, side by side each pump takes its share of the flow.
// Check: p_0 490, 490 − 0.26 Q² against 120 + 0.335 Q² -> Q 24.9; two side by side 30.4
// [white2011, ex. 11.6 and 11.7, from memory].
#pragma once

#include <cmath>

#include "numerics/dual.h"
#include "units/quantity.h"

namespace drawoff::plumbing {

enum class PumpKind { kDiaphragm, kVane, kMultistage };

struct Pump {
  units::VolumeFlow open_flow;
  units::VolumeFlow rated_flow;     // below open_flow
  units::Pressure rated_pressure;   // added at rated_flow
  units::Pressure bypass_pressure;  // bypass or relief valve opens; multistage: at no flow, above
                                    // rated_pressure
  PumpKind kind = PumpKind::kDiaphragm;
  int in_series = 1;
  int in_parallel = 1;
  double speed = 1;  // as a share of the plate's; only a vane pump may stand still
};

// A direct-current motor's speed follows its voltage (common practice, no source; the load's share
// is left out).
inline double speed_at(units::Voltage voltage, units::Voltage plate) { return voltage / plate; }

// Share of the bypass pressure over which an opening bypass takes all the flow (from memory).
inline constexpr double kBypassSpan = 0.1;
// Pressure taken per pressure given by the straight line, where water is pushed through a diaphragm
// pump faster than it runs: its valves are open (from memory).
inline constexpr double kPassThrough = 0.05;

namespace pump_curve {

// Straight line that ends at `open` flow, and goes on there with `past_open` of its slope.
template <class S>
S displacement(const Pump& pump, double open, double past_open, const S& flow) {
  const double slope = pump.rated_pressure.si() /
                       (pump.open_flow.si() - pump.rated_flow.si());  // Pa per m³/s, falling
  const double bypass = pump.bypass_pressure.si();
  if (flow > S(open)) return (open - flow) * (slope * past_open);
  const S on_line = (open - flow) * slope;
  if (on_line < S(bypass)) return on_line;
  const double at_bypass = open - bypass / slope;  // flow where the bypass opens
  if (at_bypass <= 0) return on_line;
  return bypass + (at_bypass - flow) * (kBypassSpan * bypass / at_bypass);
}

template <class S>
S centrifugal(const Pump& pump, const S& flow) {
  using std::pow;
  const double at_rest = pump.bypass_pressure.si();
  const double power =
      std::log(1 - pump.rated_pressure.si() / at_rest) / std::log(pump.rated_flow / pump.open_flow);
  const double head = pump.speed * pump.speed * at_rest;
  const S share = flow / (pump.open_flow.si() * pump.speed);
  if (share > S(1.0)) return (1.0 - share) * (power * head);
  if (share < S(0.0)) return head * (1.0 + pow(-share, power));
  return head * (1.0 - pow(share, power));
}

}  // namespace pump_curve

// Pressure added [Pa] at flow q [m³/s]; `strength` scales all flows (wear, tolerance).
template <class S>
S pressure_added(const Pump& pump, const S& q, const S& strength) {
  const double open = pump.open_flow.si();
  const S flow = q / (strength * double(pump.in_parallel));
  S one(0.0);
  switch (pump.kind) {
    case PumpKind::kDiaphragm:
      one = pump_curve::displacement(pump, open, kPassThrough, S(flow / pump.speed));
      break;
    case PumpKind::kVane:
      one = pump_curve::displacement(pump, open * pump.speed, 1, flow);
      break;
    case PumpKind::kMultistage:
      one = pump_curve::centrifugal(pump, flow);
      break;
  }
  return one * double(pump.in_series);
}

}  // namespace drawoff::plumbing
