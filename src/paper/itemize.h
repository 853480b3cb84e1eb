// A paragraph cut into stretches: stretches of one font, one script and one direction.
#pragma once

#include <cstddef>
#include <memory>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "paper/face.h"
#include "paper/text.h"

namespace drawoff::paper {

struct Stretch {
  std::size_t begin = 0;  // characters begin … end of the paragraph
  std::size_t end = 0;
  std::shared_ptr<const Face> face;
  hb_script_t script = HB_SCRIPT_COMMON;
  bool right_to_left = false;
};

struct Paragraph {
  std::u32string text;
  std::vector<Stretch> stretches;    // in reading order
  std::vector<signed char> levels;   // of embedding, by character
  std::vector<std::string> missing;  // by character: the script of one that no font holds
};

// Control characters become spaces. A character takes the font of its own script, signs common to
// all scripts the Latin one; what no font holds is set in Latin, as an empty box.
Paragraph itemized(const Fonts& fonts, std::u32string_view text, const Setting& setting);

// The stretches of a line that holds the characters of a range, from left to right.
std::vector<Stretch> visual_stretches(const Paragraph& paragraph,
                                      std::pair<std::size_t, std::size_t> range);

}  // namespace drawoff::paper
