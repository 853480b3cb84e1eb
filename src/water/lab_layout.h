// Where in a table of cells the results stand: each becomes a LabResult, still as written.
#pragma once

#include <string>
#include <vector>

#include "base/result.h"
#include "water/lab_table.h"

namespace drawoff::water {

struct LabResult {
  int line = 0;
  std::string name, value, unit, basis;
  std::string bound, bound_unit;  // limit of detection, where the report has a column for it
  std::string fraction;           // dissolved or total
  bool too_many_cells = false;    // more than there are headings: a comma in a number, perhaps
};

struct LabSheet {
  std::vector<LabResult> results;
  std::vector<std::string> samples;  // their names, where there are more than one
  std::string date;                  // as written
};

// Refuses a sample that is not there.
base::Result<LabSheet> lab_sheet(const LabTable& table, std::size_t sample);

// JSON as the same table: a list of objects, an object of results, or either inside an object.
base::Result<LabTable> json_table(std::string_view text);

}  // namespace drawoff::water
