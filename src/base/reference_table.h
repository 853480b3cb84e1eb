// For tests only: a table of data/reference, whose folder the build gives as DRAWOFF_REFERENCE.
//
//   const base::Csv table = base::reference_table("water_iapws.csv");
#pragma once

#include <fstream>
#include <iterator>
#include <string>

#include "base/csv.h"

namespace drawoff::base {

// The file as it is, with line ends made "\n": for one that holds several tables.
inline std::string reference_text(const std::string& name) {
  std::ifstream stream(std::string(DRAWOFF_REFERENCE) + "/" + name);
  CHECK(stream.good());
  std::string text{std::istreambuf_iterator<char>(stream), std::istreambuf_iterator<char>()};
  std::erase(text, '\r');
  return text;
}

inline Csv reference_table(const std::string& name) { return Csv::parse(reference_text(name)); }

}  // namespace drawoff::base
