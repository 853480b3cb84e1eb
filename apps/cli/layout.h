// Setting text for a terminal of fixed-width characters: lines that break between words, rows in
// columns. Widths are counted in characters (code points), as terminals show the scripts in use.
//
//   layout.wrap("one two three", {.first = 2, .rest = 4})
//   layout.rows({{"Product flow", "14.0 L/h"}, {"Reject flow", "31 L/h"}}, 2)
//
// A no-break space never breaks, so that a number keeps its unit. With colour on, bold() marks what
// stands out; off, text stays as it is: a pipe gets no escape sequences.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace drawoff::cli {

struct Indent {
  std::size_t first = 0;
  std::size_t rest = 0;
};

struct Layout {
  std::size_t width = 80;
  bool colour = false;

  // Each line ended. Line breaks within the text are kept. A word that is too long stands alone.
  std::string wrap(std::string_view text, Indent indent = {}) const;
  // Columns two spaces apart, the last one wrapped within what is left. Where that would be too
  // narrow to read, each row becomes a block: its first cell, the rest indented below.
  std::string rows(const std::vector<std::vector<std::string>>& rows, std::size_t indent) const;
  // Text in bold, where there is colour.
  std::string bold(std::string_view text) const;
  std::string yellow(std::string_view text) const;
};

std::size_t width_of(std::string_view text);

}  // namespace drawoff::cli
