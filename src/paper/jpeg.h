// A JPEG file as far as a PDF needs to know it: how large, and of which colours.
//
// The file is printed as it is, so that nothing is decoded here. Accepted are 8-bit baseline and
// progressive files (SOF0, SOF1 and SOF2 of [itu1992]) of one component, grey, or three, colour.
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace drawoff::paper {

struct Jpeg {
  std::string bytes;
  int width = 0;  // [pixels], 1 … 65,535
  int height = 0;
  int components = 3;  // 1 or 3
};

// Nothing if the file is no such JPEG, or is cut short.
std::optional<Jpeg> read_jpeg(std::string_view bytes);

}  // namespace drawoff::paper
