// Readings as numbers whose errors are near normal, and the states in which they belong together.
#pragma once

#include "machine/plates.h"
#include "machine/readings.h"
#include "visit/reading.h"

namespace drawoff::visit {

// Logarithms of flows and qualities; pressures in bar. Where a fault leaves no value (no product,
// so nothing to measure), the observable is a thousandth of the sound machine's.
double observable(machine::Point point, double si, double sound);
// Standard uncertainty of a reading's observable.
double observable_sigma(machine::Point point, const Measured& measured);

// The state of a machine that runs as it was built.
machine::Condition as_built(const machine::MachineEntry& entry);

// Two conditions in which a machine runs alike must be one key: when a reading was taken moves
// nothing, and a product of which nothing is said runs as built.
machine::Condition key_of(machine::Condition condition, const machine::Condition& built);

}  // namespace drawoff::visit
