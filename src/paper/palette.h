// Inks on paper. Dark enough to read in a copy without colours: dashes and weights tell the waters
// apart there. (A choice of ours, no source.)
#pragma once

#include <optional>

#include "paper/drawing.h"
#include "paper/page.h"

namespace drawoff::paper {

// Nothing for Ink::kNone.
constexpr std::optional<Colour> colour_on_paper(Ink ink) {
  switch (ink) {
    case Ink::kNone:
      return std::nullopt;
    case Ink::kLine:
      return Colour{.red = 0.09, .green = 0.12, .blue = 0.14};
    case Ink::kQuiet:
      return Colour{.red = 0.38, .green = 0.42, .blue = 0.44};
    case Ink::kPaper:
      return Colour{.red = 1, .green = 1, .blue = 1};
    case Ink::kRaw:
      return Colour{.red = 0.17, .green = 0.34, .blue = 0.49};
    case Ink::kProduct:
      return Colour{.red = 0.0, .green = 0.44, .blue = 0.42};
    case Ink::kReject:
      return Colour{.red = 0.52, .green = 0.33, .blue = 0.14};
    case Ink::kBand:
      return Colour{.red = 0.87, .green = 0.92, .blue = 0.91};
    case Ink::kMarked:
      return Colour{.red = 0.7, .green = 0.15, .blue = 0.1};
  }
  return std::nullopt;
}

}  // namespace drawoff::paper
