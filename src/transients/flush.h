// How much water carries a residue away, and how soon a change shows at the outlet.
//
// Both are the same exchange of held water (wash.h): a residue that fills the parts, washed by
// water without it, leaves as the old water leaves after a change at the inlet. What clings to a
// carbon block or a membrane's glue comes off more slowly than water is exchanged: left out; the
// first fill of a vessel is thrown away for that (common practice, no source).
//
// Common-practice check, no source: a turn of the blend shows fully after 3 to 4 minutes at a
// sample point before the cooler. Check: 14 L/h, one polish filter of 0.25 L, 3 m of 4.3 mm tube
// (95 %)
// -> 3.4 min; behind that a mixed cooler of 4 L alone -> 51 min.
#pragma once

#include <optional>

#include "transients/plant.h"

namespace drawoff::transients {

enum class Residue {
  kPreservative,  // of a new membrane: in its element, both sides
  kSanitiser,     // everywhere: housings, element, polish filters, tube
  kCarbonFines,   // of a new carbon filter, before the membrane or behind it
  kBlendChange,   // the old setting: from the tee to the outlet, into a cooler if stated
};

// A way that water takes, and how fast.
struct Path {
  Chain chain;
  double flow = 0;  // [m³/s]
};
// With an open outlet; absent where that side holds nothing of it, or nothing flows there.
struct FlushPaths {
  std::optional<Path> feed;     // to the drain
  std::optional<Path> product;  // to the outlet
};
FlushPaths flush_paths(const machine::MachineEntry& entry,
                       const machine::Condition& condition,
                       const Plant& plant,
                       Residue residue);

struct Flushed {
  double volume = 0;  // [m³]
  double time = 0;    // [s]
};
// Until what leaves holds `share` of what was there.
Flushed flushed(const Path& path, double share);

}  // namespace drawoff::transients
