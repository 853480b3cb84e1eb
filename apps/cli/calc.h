// drawoff calc NAME: one question to the engine, JSON in, JSON out.
#pragma once

#include <string>

#include "console.h"

namespace drawoff::cli {

struct CalcWords {
  std::string name;
  std::string in = "-";
  bool explain = false;
  bool ndjson = false;
  bool schema = false;
  bool list = false;
};

Exit run_calc(const CalcWords& asked, Console& console);

// Whether there is such a question; if not, says so with the nearest that there is.
bool is_question(const std::string& name, const Console& console);

}  // namespace drawoff::cli
