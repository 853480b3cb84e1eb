// Outlines that drawings are made of.
#pragma once

#include <vector>

#include "paper/drawing.h"

namespace drawoff::paper {

// Straight lines from point to point.
std::vector<Segment> polyline(const std::vector<Spot>& points);

struct Box {
  Spot at;  // the top left corner
  double width = 0;
  double height = 0;
};
std::vector<Segment> rectangle(const Box& box);

// Four cubic curves: within 0.03 % of the radius.
std::vector<Segment> circle(const Spot& middle, double radius);

}  // namespace drawoff::paper
