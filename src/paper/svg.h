// A drawing as an SVG file (SVG 2, [svg2018]), for screens and for other programs. Inks become CSS
// custom properties with the colours of the paper as their defaults, so that a page may restyle it.
// Words are text elements; SVG does not break lines, so they are broken here by an estimate of the
// type's width, and a viewer's own font may run a little wider.
#pragma once

#include <string>

#include "paper/drawing.h"

namespace drawoff::paper {

// `title` is what a screen reader says of the whole; `language` is a BCP 47 tag.
struct SvgOptions {
  std::string title;
  std::string language = "en";
};

std::string to_svg(const Drawing& drawing, const SvgOptions& options);

// The value of a path's `d` attribute, coordinates with two decimals.
std::string path_data(const Path& path);

}  // namespace drawoff::paper
