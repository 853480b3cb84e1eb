#include "plumbing/gap.h"

#include <cmath>
#include <numbers>

#include "base/check.h"
#include "numerics/bracket.h"
#include "water/properties.h"

namespace drawoff::plumbing {

units::Length gap_for(const MeteredFlow& wanted, const ValveSeat& seat) {
  const double q = wanted.flow.si();
  const double p = wanted.difference.si();
  CHECK(q > 0 && p > 0);
  const double round = std::numbers::pi * seat.diameter.si();
  const double creeping =
      12 * water::viscosity(wanted.temperature).si() * seat.land.si() * q / round;
  const double jetting = water::density(wanted.temperature).si() * q * q /
                         (2 * kSeatDischarge * kSeatDischarge * round * round);
  // Each term alone needs a gap; together they need no more than the sum of both.
  const double alone = std::cbrt(creeping / p);
  const double jet_alone = std::sqrt(jetting / p);
  const auto root =
      numerics::find_root([&](double h) { return p - creeping / (h * h * h) - jetting / (h * h); },
                          {.low = 0.5 * std::fmax(alone, jet_alone),
                           .high = 2 * (alone + jet_alone),
                           .scale = jet_alone});
  CHECK(root.status == numerics::BracketStatus::kFound);
  return units::Length(root.root);
}

}  // namespace drawoff::plumbing
