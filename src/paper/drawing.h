// A drawing: lines, fills and words in its own millimetres, x to the right and y downwards from the
// top left corner. It is made once and printed in several ways: as SVG (svg.h) or on the page of a
// PDF (document.h). Nothing in it depends on where it is printed.
//
//   Drawing d{.width = 100, .height = 40};
//   d.items.push_back(Path{.segments = line({.from = {10, 20}, .to = {90, 20}}), .stroke = {…}});
//   d.items.push_back(Words{.at = {10, 10}, .text = "Supply"});
#pragma once

#include <string>
#include <variant>
#include <vector>

namespace drawoff::paper {

struct Spot {  // [mm]
  double x = 0;
  double y = 0;
  bool operator==(const Spot&) const = default;
};

// What a colour means. The printer chooses the colour, so that paper, bright sun and a dark
// cupboard can differ; nothing is ever said by colour alone.
enum class Ink {
  kNone,
  kLine,     // outlines and main words
  kQuiet,    // second words, bands' frames
  kPaper,    // inside of parts
  kRaw,      // raw water, before the membrane
  kProduct,  // permeate and product
  kReject,
  kBand,    // where a reading should lie
  kMarked,  // what explains the readings
};

struct Stroke {
  Ink ink = Ink::kNone;
  double width = 0.3;  // [mm]
  bool dashed = false;
};

struct Segment {
  enum class Kind { kMove, kLine, kCurve, kClose };
  Kind kind = Kind::kMove;
  Spot to;
  Spot control_1;  // of a cubic curve
  Spot control_2;
};

struct Path {
  std::vector<Segment> segments;
  Stroke stroke;
  Ink fill = Ink::kNone;
};

enum class Align { kStart, kMiddle, kEnd };

struct Words {
  Spot at;  // on the base line of the first line
  std::string text;
  double size = 3;  // of the type [mm]
  bool bold = false;
  Ink ink = Ink::kLine;
  Align align = Align::kStart;
  double width = 0;  // wraps to further lines below, 1.25 sizes apart, beyond this [mm]; 0: never
};

using Item = std::variant<Path, Words>;

struct Drawing {
  double width = 0;
  double height = 0;
  std::vector<Item> items;  // later ones lie on top
};

}  // namespace drawoff::paper
