// Filling: from a content to where the machine stops, what it then does, and when it starts again.
//
// All that matters is the pressure p at the outlet: the machine gives Q(p), what stands behind it
// holds W(p). So time, litres and salt are integrals over p, each to its last digit:
//
//   t = ∫ W'(p)/Q(p) dp    V = W(p₁) − W(p₀)    S = ∫ s(p) W'(p) dp
//
// by Gauss-Legendre of ten points on panels that halve towards the pressure where the flow ends
// [dahlquist2008], where t grows without bound. Open vessels fill at the pressure of their height,
// the lowest first (which branch takes how much is left out). The water on its way in the line is
// left out: it is what the vessel gets later.
#pragma once

#include <optional>
#include <vector>

#include "transients/plant.h"

namespace drawoff::transients {

enum class FillEnd {
  kSwitch,        // high-pressure switch stops it
  kShutOff,       // hydraulic shut-off closes the feed
  kFlowEnds,      // nothing stops it: it fills until the membrane gives no more
  kOpenOutlet,    // a jug: nothing fills and nothing stops
  kNothingComes,  // no product at the pressure that the vessel begins with
};
inline constexpr int kFillEndCount = 5;

// What a fill stops at: the outlet's pressure.
struct Stop {
  FillEnd end = FillEnd::kFlowEnds;
  double pressure = 0;  // [Pa]
};
Stop stop_of(const Plant& plant);

// So much water came in at this pressure.
struct Portion {
  double pressure = 0;  // [Pa]
  double volume = 0;    // [m³]
  double time = 0;      // [s] that it took
};

struct Fill {
  FillEnd end = FillEnd::kNothingComes;
  double stop_pressure = 0;       // [Pa]
  double time = 0;                // [s]
  double volume = 0;              // [m³]
  double salt = 0;                // [m³ of raw water as given]: strength times volume
  std::vector<Portion> portions;  // as they come

  double strength() const { return volume > 0 ? salt / volume : 0; }
};

// Where nothing stops it, a fill ends at this share of all it would ever take.
inline constexpr double kFilledShare = 0.99;

// From a content of the vessels [m³]: of an air-charged tank, or of the open ones, lowest first.
Fill fill(const Plant& plant, double content);
// Between two pressures of line and tank, the machine running; to >= from, below the closing one.
Fill fill_between(const ResponseCurve& curve, const Store& store, const Thresholds& pressures);
// The composition of what came in.
water::Composition product_of(const ResponseCurve& curve, const Fill& fill);

// ---- After the stop --------------------------------------------------------------------------

struct AfterStop {
  bool reject_runs = false;
  bool pump_runs = false;
  double reject_flow = 0;  // [m³/s] that goes on to the drain
};
AfterStop after_stop(const machine::MachineEntry& entry,
                     const machine::Specimen& specimen,
                     const machine::Feed& feed,
                     const machine::Condition& condition,
                     const Plant& plant,
                     const Stop& stop);

// When it starts again: at once, where the loss between unit and outlet, gone as the flow stops, is
// more than the switch's two pressures lie apart; else after a draw.
struct Restart {
  bool at_once = false;
  double pressure = 0;  // at the outlet [Pa]
  double drawn = 0;     // [m³] until then
  double loss = 0;      // that vanishes at the stop [Pa]
};
// None where nothing stopped it.
std::optional<Restart> restart_of(const Plant& plant, const Stop& stop);

// ---- Cycling ---------------------------------------------------------------------------------

// A switch that goes to and fro.
struct Cycle {
  double period = 0;  // [s]
  double duty = 0;    // share of it that the machine runs
};
// The shortest cycle that a draw can cause: water drawn slower than it is made, D between stop and
// start, drawn at q and refilled at Q − q:
//
//   T = D/q + ∫ dW/(Q − q),   shortest near q = Q/2, there 4 D/Q at a steady Q
//
// (a pressure switch's rule; from memory). q is half the flow at the stop. None where it starts at
// once: then nothing of ours sets the period.
std::optional<Cycle> shortest_cycle(const Plant& plant, const Stop& stop, const Restart& restart);
// The whole volume of an air-charged tank, precharged a tenth below the restart, with which the
// cycle would last `period` [s]: T Q/4 between the two pressures, by Boyle.
double tank_for_period(const Plant& plant, const Stop& stop, const Restart& restart, double period);

enum class LowSwitch {
  kFine,
  kHolds,  // the supply at rest is below the pressure at which it starts: it never runs
  kHunts,  // running pressure below, resting pressure above
};
struct LowPressure {
  LowSwitch state = LowSwitch::kFine;
  std::optional<Cycle> cycle;
};
// The water before the pump.
struct FeedSide {
  double rest = 0;     // while nothing flows [Pa]
  double running = 0;  // while the machine runs [Pa]; below 0: it would starve the pump
  double flow = 0;     // then [m³/s]
};
// Of a machine that runs into an open outlet.
FeedSide feed_side(const Plant& plant);
// Feed side as one air-cushioned volume behind one resistance: relaxation between two thresholds,
//
//   t_off = τ ln[(p_rest − p_out)/(p_rest − p_in)],  t_on = τ ln[(p_in − p_run)/(p_out − p_run)]
//   τ = R C,  R = (p_rest − p_run)/Q,  C = V_a p_a/(p + p_a)²
//
// V_a the air caught in the housings. [horowitz1989, sec. 1.13]  Check: p_rest 1, p_run 0, p_out
// 1/4, p_in 3/4 -> t_off = t_on = τ ln 3. R is taken constant; the air is known to a factor of 2.
// A machine without such a switch or without a pump is fine.
LowPressure low_pressure(const machine::MachineEntry& entry, const FeedSide& feed);
struct Relaxation {
  double rest = 0;
  double run = 0;
  double stops = 0;
  double starts = 0;
  double time_constant = 0;
};
Cycle relaxation_cycle(const Relaxation& r);

}  // namespace drawoff::transients
