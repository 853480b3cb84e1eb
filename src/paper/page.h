// What stands where on a page: marks at places, in the order in which they are printed.
//
// The layout (layout.h) makes marks, the writer (pdf.h) puts them into a file. Millimetres from the
// top left corner, y downwards.
#pragma once

#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "paper/drawing.h"
#include "paper/jpeg.h"
#include "paper/text.h"

namespace drawoff::paper {

struct Colour {  // parts of red, green and blue, 0 … 1
  double red = 0;
  double green = 0;
  double blue = 0;
  bool operator==(const Colour&) const = default;
};

struct TextMark {
  Spot at;  // the left end of the base line
  double size = 0;
  Colour colour;
  Line line;
};

struct PathMark {
  std::vector<Segment> segments;
  std::optional<Colour> fill;
  std::optional<Colour> stroke;
  double width = 0;  // of the stroke
  bool dashed = false;
};

struct PhotoMark {
  Spot at;  // the top left corner
  double width = 0;
  double height = 0;
  Jpeg jpeg;
};

// Where a touch opens an address.
struct LinkMark {
  Spot at;  // the top left corner
  double width = 0;
  double height = 0;
  std::string address;
};

using Mark = std::variant<TextMark, PathMark, PhotoMark, LinkMark>;

// The mark enlarged about the origin, then moved.
struct Placement {
  double scale = 1;
  Spot by;
};
Mark placed(Mark mark, const Placement& placement);

struct Page {
  double width = 0;
  double height = 0;
  std::vector<Mark> marks;
};

}  // namespace drawoff::paper
