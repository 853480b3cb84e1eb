// Where lines would break, without a font at hand: by an estimate of the type's width. For SVG,
// which does not break lines, and for what stands below a text on a drawing.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace drawoff::paper {

struct EstimatedType {
  double size = 3;   // of the type [mm]
  double width = 0;  // of the line [mm]; 0: never broken
};

// At least one line; words longer than a line stand alone.
std::vector<std::string> estimated_lines(std::string_view text, const EstimatedType& type);

}  // namespace drawoff::paper
