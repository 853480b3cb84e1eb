// The font files that are part of the engine, written by the build (cmake/fonts.cmake).
#pragma once

#include <string_view>

namespace drawoff::paper {

std::string_view latin_regular();
std::string_view latin_bold();
// Signs of mathematics, in one weight for both.
std::string_view signs();

}  // namespace drawoff::paper
