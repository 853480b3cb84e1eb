// Elements by trade size: diameter and length in tenths and whole inches (2540: 2.5 by 40).
//
// The size gives a channel: area, length, height. No open standard states them; the values in
// data/element_sizes.csv are from memory with a spread, and only the product A·area is pinned
// down by a rating plate, so the spread matters little to the flow and more to the passage.
#pragma once

#include <span>
#include <string>
#include <string_view>

#include "membrane/channel.h"

namespace drawoff::membrane {

struct ElementSize {
  std::string name;  // "2540"
  Channel channel;   // medians
  // Log-normal spreads (standard deviation of the natural logarithm) between makes of one size.
  double area_spread = 0;
  double length_spread = 0;
  double height_spread = 0;
  double mass_transfer_spread = 0;  // of the multiplier on k
  units::VolumeFlow typical_flow;
};

std::span<const ElementSize> element_sizes();
// nullptr if the trade has no such size.
const ElementSize* find_element_size(std::string_view name);

}  // namespace drawoff::membrane
