// What the building asks for around the unit, whatever the water is: light on its tubes, an open
// drain, hours without water or electricity. All of it common practice, no source.
#pragma once

#include <optional>
#include <vector>

#include "base/message.h"
#include "visit/building.h"

namespace drawoff::visit {

// What the site's unit makes while it runs: product, 90 % interval.
struct UnitFlow {
  units::VolumeFlow low;
  units::VolumeFlow high;
  bool electric = true;  // makes none without electricity
};

// `unit`: none where the flow is not known. A unit that needs no electricity asks for none.
std::vector<base::Message> in_building(const BuildingEntry& building,
                                       const std::optional<UnitFlow>& unit);

}  // namespace drawoff::visit
