// A machine at rest: salt creeps through the membrane, raw water through the blend.
//
// ---- Creep. Nothing flows, the feed side is shut, and behind the membrane a check valve keeps
// water from moving: what salt there is evens out. With V_f, V_p the water on either side, B A the
// membrane's salt permeability times its area:
//
//   V_p ds_p/dt = B A (s_f − s_p) = −V_f ds_f/dt
//   s_p(t) = s_∞ + (s_p0 − s_∞) e^(−t/τ),  s_∞ = (V_f s_f0 + V_p s_p0)/(V_f + V_p)
//   τ = 1/[B A (1/V_p + 1/V_f)]                                     [lonsdale1965]
//
// Where the feed side goes on being fed, s_f stays what the feed is: V_f without bound. Mixed
// within each side: along a leaf of a metre diffusion itself needs days, so the water nearest the
// middle tube stays better for longer than said here; left out. Check: V_p 50 mL, V_f 130 mL,
// B A 0.25 L/h -> τ = 8.7 min.
#pragma once

#include <optional>

#include "transients/plant.h"

namespace drawoff::transients {

struct Sides {
  double feed_volume = 0;  // [m³]; infinite where the feed side is fed on
  double permeate_volume = 0;
  double feed_salt = 0;  // strengths
  double permeate_salt = 0;
};
// Both strengths after a rest. `exchange`: B A [m³/s].
Sides crept(const Sides& at_stop, double exchange, double time);
double creep_time_constant(const Sides& sides, double exchange);

// B A of a specimen at its temperature [m³/s].
double salt_exchange(const machine::Specimen& specimen, const machine::Feed& feed);

// ---- First draw after a rest. The water behind the membrane, of strength `rested`, is pushed out
// by permeate through polish filters and tube that still hold product. Blend joins behind it, so of
// a draw only the permeate's share works on it.
struct FirstDraw {
  HeldWater held;
  double permeate_share = 1;  // of the product's flow
  double rested = 0;          // strength behind the membrane
  double permeate = 0;        // running
  double product = 0;         // running, blend and all
};
// Strength at the outlet when `drawn` [m³] has come; mean strength of the first `drawn`.
double strength_after(const FirstDraw& draw, double drawn);
double mean_strength(const FirstDraw& draw, double drawn);
// The water [m³] until the outlet stays within `share` of the running product; 0 if it always is.
double settled_from(const FirstDraw& draw, double share);

// ---- The blend branch at rest. Raw water stands before it at the supply's resting pressure; it
// passes while it finds less behind it, and a check valve lets none back. Into W(p) of tank or
// line:
//
//   dW/dt = q(p),  p_supply − p_check − p = a µ q + b ρ q²   =>   t = ∫ W'(p)/q(p) dp
//
// Losses in polish filters and tube are left out: a seep is too small to feel them.
enum class Seep {
  kNothingMoves,
  kRawSeepsIn,  // into line, tank or open vessel
  kRunsBack,    // no check valve, and the supply is below the product
};
inline constexpr int kSeepCount = 3;

struct BlendAtRest {
  Seep seep = Seep::kNothingMoves;
  double flow = 0;    // [m³/s] as the rest begins, of what moves
  double volume = 0;  // [m³] that has moved by its end, into or out of what holds product
  double held = 0;    // [m³] of product held as the rest began
};
// `outlet_pressure`: in the vessel as the rest begins; `room`: what an open vessel still takes.
struct RestState {
  double time = 0;             // [s]
  double outlet_pressure = 0;  // [Pa]
  double held = 0;             // [m³]
  double room = 0;             // [m³]
};
BlendAtRest blend_at_rest(const machine::MachineEntry& entry,
                          const machine::Specimen& specimen,
                          const machine::Feed& feed,
                          const machine::Condition& condition,
                          const Plant& plant,
                          const RestState& state);
// Strength of what holds product after raw water of strength `raw` came in.
double strength_after(const BlendAtRest& blend, double product, double raw);

}  // namespace drawoff::transients
