// How often intervals hold what they promise, counted, with a region of acceptance computed from
// the count.
#pragma once

#include <array>
#include <span>
#include <string_view>

#include "machine/readings.h"
#include "support/section.h"

namespace drawoff::support {

struct Count {
  std::string_view name;
  int inside = 0;
  int all = 0;
};

// One empty row a point of a machine.
std::array<Count, machine::kPointCount> counts_by_point();

// Writes the table and demands that no row's count of 90 % intervals is rejected at 1 % (binomial,
// Holm's step-down over the rows: the smallest p-value against α/m, the next against α/(m − 1), …).
// In full, none may lie outside 86-94 % either: a judge that is off by more would mislead, however
// many jobs prove it. Rows without a count are left out.
void demand_coverage(Section& section, std::span<const Count> counts, bool full);

}  // namespace drawoff::support
