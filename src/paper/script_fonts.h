// Every script's fonts, for programs that carry them all: the command and the tests, never the
// phone. Link drawoff_script_fonts (cmake/fonts.cmake writes it).
#pragma once

#include <vector>

#include "paper/fonts.h"

namespace drawoff::paper {

// Sorted by script; the bytes last as long as the program.
std::vector<ScriptFont> script_fonts();

}  // namespace drawoff::paper
