// A report's text as rows of cells: CSV with any of the usual separators, or words pasted from a
// page.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"

namespace drawoff::water {

struct LabLine {
  int number = 0;  // of the text, from 1
  std::vector<std::string> cells;
};

struct LabTable {
  std::vector<LabLine> lines;  // without the empty ones
  char separator = ',';        // ' ': blanks or a colon, as pasted from a page
};

inline constexpr std::size_t kLargestReport = std::size_t{256} << 10;  // bytes
inline constexpr std::size_t kMostReportLines = 4000;

// Refuses: nothing in it; too large; a quotation mark that never closes; a picture or a printed
// page in place of text.
base::Result<LabTable> lab_table(std::string_view text);

}  // namespace drawoff::water
