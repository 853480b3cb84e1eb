// How far parts stray from their plates: the rows of data/tolerances.csv by name. A row that does
// not exist is a bug (CHECK).
#pragma once

#include <string_view>

namespace drawoff::machine {

double tolerance(std::string_view what);

}  // namespace drawoff::machine
