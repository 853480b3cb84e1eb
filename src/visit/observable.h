// Readings as numbers whose errors are near normal, and the states in which they belong together.
#pragma once

#include "machine/plates.h"
#include "machine/readings.h"
#include "visit/reading.h"

namespace drawoff::visit {

// Logarithms of flows and qualities; pressures in bar. Where a fault leaves no value (no product,
// so nothing to measure), the observable is a thousandth of the sound machine's; no flow counts as
// 0.01 L/h at least, no strength as 0.01 µS/cm.
double observable(machine::Point point, double si, double sound);

// A reading as an observable with its standard uncertainty there. A number smaller than its own
// uncertainty says "at most about that much", however near to nothing it stands.
Measured observed(machine::Point point, const Measured& reading, double sound);

// The state of a machine that runs as it was built.
machine::Condition as_built(const machine::MachineEntry& entry);

// Two conditions in which a machine runs alike must be one key: when a reading was taken moves
// nothing, and a product of which nothing is said runs as built.
machine::Condition key_of(machine::Condition condition, const machine::Condition& built);

}  // namespace drawoff::visit
