// An operating point put back into the equations of its machine, each part by itself.
//
// Written again from the machine's description, apart from the solver: what goes in comes out, of
// water and of salt, and at each part the pressures differ by what the part takes or gives.
#pragma once

#include <string_view>
#include <vector>

#include "machine/operating_point.h"

namespace drawoff::support {

struct Imbalance {
  std::string_view law;
  double relative = 0;  // to the larger flow at a node; to the largest pressure of the machine
};

// Every law that the outcome promises. Where a stream is used up pressures do not balance, and
// where nothing flows to the drain there are only the blend and what the pump drives round: the
// other laws are left out then.
std::vector<Imbalance> imbalances(const machine::Machine& machine,
                                  const machine::FeedWater& water,
                                  const machine::Parameters<double>& parameters,
                                  const machine::OperatingPoint<double>& point);

// Every number of the point is finite.
bool all_finite(const machine::OperatingPoint<double>& point);

// What the drain's height asks for beyond the pressure behind the membranes [Pa], where nothing
// flows: zero or more if the outcome is right.
double missing_drive(const machine::Machine& machine,
                     const machine::FeedWater& water,
                     const machine::Parameters<double>& parameters,
                     const machine::OperatingPoint<double>& point);

}  // namespace drawoff::support
