// For tests only: a table of data/reference, whose folder the build gives as DRAWOFF_REFERENCE.
//
//   const base::Csv table = base::reference_table("water_iapws.csv");
#pragma once

#include <fstream>
#include <iterator>
#include <string>

#include "base/csv.h"

namespace drawoff::base {

inline Csv reference_table(const std::string& name) {
  std::ifstream stream(std::string(DRAWOFF_REFERENCE) + "/" + name);
  CHECK(stream.good());
  const std::string text{std::istreambuf_iterator<char>(stream), std::istreambuf_iterator<char>()};
  return Csv::parse(text);
}

}  // namespace drawoff::base
