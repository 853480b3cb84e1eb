// Is this pressure gauge good enough: at the inlet, at the membrane, for a pressure hold?
//
// First it must stand at zero open to the air, seen in the last 90 days: one that does not is bent
// or worn, and no correction makes it good. Beside another gauge or under a column of water within
// a quarter of its scale it is as far off as it was there, elsewhere as its class allows; and there
// too no further, as long as what was seen does not contradict the class:
//
//   near a check   max|e| + d/2      over the 90 % interval of the error e, smallest mark d
//   elsewhere      class · full scale + d/2
//   hold           d/2: of two readings only the marks count
//
// Needed: ±0.3 bar at the inlet, ±5 % or ±0.3 bar at the membrane, whichever is more, and in a hold
// a fall of 0.1 bar. A gauge that works below a quarter or above three quarters of its scale is
// told so. All common practice, no source.
#pragma once

#include "visit/meter_verdict.h"

namespace drawoff::visit {

MeterResult check_gauge(const CheckedMeter& m);

}  // namespace drawoff::visit
