// Text as it is set: from a string to glyphs in lines.
//
// A paragraph is itemized by script, font and direction [unicode2019], shaped, and broken to lines
// of a width [unicode2021], though never behind a solidus. Lengths are in em of the type, whatever
// its size.
//
//   for (const Line& line : set_paragraphs(fonts, "…", {.width = 40})) …
#pragma once

#include <cstdint>
#include <limits>
#include <memory>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "paper/face.h"
#include "paper/fonts.h"

namespace drawoff::paper {

struct Glyph {
  std::uint32_t id = 0;  // in the run's face
  double advance = 0;    // [em]
  double x = 0;          // displaced from the pen [em]
  double y = 0;          // upwards
};

// The smallest piece of text whose glyphs belong together: a letter with its marks, a ligature, an
// Indic syllable.
struct Cluster {
  std::u32string text;        // in reading order
  std::vector<Glyph> glyphs;  // from left to right
};

struct Run {
  std::shared_ptr<const Face> face;
  bool right_to_left = false;
  std::vector<Cluster> clusters;  // from left to right
};

struct Line {
  std::vector<Run> runs;  // from left to right
  double width = 0;       // [em]
  std::u32string text;    // in reading order, without the spaces at its end
  // ISO 15924 codes of scripts without a font.
  std::set<std::string> missing;
};

struct Setting {
  double width = std::numeric_limits<double>::infinity();  // of the column [em]
  bool bold = false;
  std::string language = {};   // BCP 47; chooses among a font's forms of a letter
  bool right_to_left = false;  // the direction of a text that does not tell its own
};

// A "\n" ends a paragraph, hence a line; at least one line comes back.
std::vector<Line> set_text(const Fonts& fonts, std::string_view text, const Setting& setting);
// The same on one line.
Line set_line(const Fonts& fonts, std::string_view text, Setting setting);

// From base line to base line, for lines with such letters [em].
double leading(const Line& line);

}  // namespace drawoff::paper
