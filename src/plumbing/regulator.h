// A pressure regulator: holds the pressure behind it down to its setting.
//
//   p_behind = min(p_before, p_set − d Q/Q_d)    [Pa]
//   d  what it loses at the flow Q_d, in proportion between (common practice, no source)
//
// One of two: shut down to its setting, or wide open. Both fall with the flow, so their lesser
// does too, and a bracketed solve needs nothing else.
#pragma once

#include "numerics/dual.h"
#include "units/quantity.h"

namespace drawoff::plumbing {

struct Regulator {
  units::Pressure set_pressure;  // gauge, at no flow
  units::Pressure droop;         // less at this flow
  units::VolumeFlow flow;
};

template <class S>
S pressure_behind(const Regulator& regulator, const S& before, const S& q) {
  const S held = regulator.set_pressure.si() - q * (regulator.droop.si() / regulator.flow.si());
  return held < before ? held : before;
}

}  // namespace drawoff::plumbing
