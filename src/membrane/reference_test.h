// Reading the published check values of data/reference in tests.
#pragma once

#include <fstream>
#include <sstream>
#include <string>

#include "base/csv.h"

namespace drawoff::membrane {

inline std::string reference_text(const std::string& name) {
  std::ifstream in(std::string(DRAWOFF_REFERENCE) + "/" + name);
  std::stringstream text;
  text << in.rdbuf();
  std::string result = text.str();
  std::erase(result, '\r');
  return result;
}

inline base::Csv reference(const std::string& name) {
  return base::Csv::parse(reference_text(name));
}

}  // namespace drawoff::membrane
