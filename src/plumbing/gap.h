// How fine a metering valve must stand to pass a small flow.
//
// Between needle and seat water passes a ring of diameter D and height h, over a land of length L:
// creeping between two near walls, and jetting out of it,
//
//   Δp = 12 µ L Q/(π D h³) + ρ Q²/(2 (C π D h)²)    [Pa]
//
// plane Poiseuille flow (h ≪ D) and the orifice, C = 0.6 [white2011]. Δp falls strictly with h, so
// one h belongs to a flow. Where h is finer than what the filter before it lets through, the gap
// clogs and cannot be held.
// Check: 0.9 L/h at 3 bar, 20 °C, D 2 mm, L 0.5 mm -> 9.5 µm; over no land (L -> 0) 2.7 µm.
#pragma once

#include "units/quantity.h"

namespace drawoff::plumbing {

// Of small needle valves (common practice, no source).
struct ValveSeat {
  units::Length diameter = units::millimetre(2);
  units::Length land = units::millimetre(0.5);
};

struct MeteredFlow {
  units::VolumeFlow flow;
  units::Pressure difference;  // over the valve
  units::Temperature temperature = units::celsius(20);
};

inline constexpr double kSeatDischarge = 0.6;

// Both above zero.
units::Length gap_for(const MeteredFlow& wanted, const ValveSeat& seat = {});

// What a sediment filter lets through is as large as its rating: usually 5 µm (common practice, no
// source).
struct GapStanding {
  units::Length gap;
  units::Length filter_rating = units::millimetre(0.005);
};
constexpr bool too_fine_to_hold(const GapStanding& s) { return s.gap < s.filter_rating; }

}  // namespace drawoff::plumbing
