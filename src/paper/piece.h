// A piece: what is never cut by the end of a page, such as a line of text or a row of a table.
//
// Blocks are laid out to pieces (layout.h); pieces are put on pages (pages.h).
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "paper/document.h"
#include "paper/page.h"
#include "paper/text.h"

namespace drawoff::paper {

struct Piece {
  double before = 0;  // space above it, but not at the top of a page [mm]
  double height = 0;
  bool with_next = false;   // stays on the page of the piece that follows
  std::vector<Mark> marks;  // from the piece's own top left corner
  // Printed above this one where it begins a page: the head of a table.
  std::shared_ptr<const Piece> head = nullptr;
};

// The column that is laid out in.
struct Sheet {
  const Fonts& fonts;
  std::string language;
  bool right_to_left = false;
  double width = 0;

  Sheet of_width(double other) const { return {fonts, language, right_to_left, other}; }
};

// A part of the column: how far it begins from the side on which reading starts, and how wide it
// is.
struct Slot {
  double from_start = 0;
  double top = 0;
  double width = 0;
};

struct Style {
  double size = 3.35;  // [mm]
  bool bold = false;
  Ink ink = Ink::kLine;
  Align align = Align::kStart;
  double leading = 0;  // at least so much from base line to base line [em]
};

inline constexpr double kSmallType = 2.75;   // 7.8 points
inline constexpr double kBodyType = 3.35;    // 9.5 points
inline constexpr double kLargeType = 5.2;    // 15 points
inline constexpr double kPosterType = 14.8;  // 42 points
inline constexpr double kHeadingType = 4.2;  // 12 points
inline constexpr double kTitleType = 7.0;    // 20 points
inline constexpr double kHairline = 0.1;

// The left edge of a slot.
double left_of(const Sheet& sheet, const Slot& slot);

std::vector<Line> lines_of(const Sheet& sheet,
                           const std::string& text,
                           const Slot& slot,
                           const Style& style);
// How high such lines stand [mm].
double height_of(const Line& line, const Style& style);

// Sets lines from the top of the slot down; how high they stand together.
double set_lines(Piece& piece,
                 const Sheet& sheet,
                 std::vector<Line> lines,
                 const Slot& slot,
                 const Style& style);
// Nothing at all, and no height, for an empty text.
double set_words(Piece& piece,
                 const Sheet& sheet,
                 const std::string& text,
                 const Slot& slot,
                 const Style& style);

// A level rule through the slot's top.
struct Rule {
  double width = kHairline;
  Ink ink = Ink::kQuiet;
};
void set_rule(Piece& piece, const Sheet& sheet, const Slot& slot, const Rule& rule);

// One piece of several, one below the other.
Piece joined(const std::vector<Piece>& pieces);

}  // namespace drawoff::paper
