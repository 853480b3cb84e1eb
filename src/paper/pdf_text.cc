#include "paper/pdf_text.h"

#include <fmt/format.h>

#include <algorithm>
#include <cstddef>
#include <utility>
#include <vector>

#include "paper/pdf_file.h"

namespace drawoff::paper {

void RunText::add(const Cluster& cluster, bool right_to_left) {
  const std::u32string& text = cluster.text;
  const std::size_t count = cluster.glyphs.size();
  std::vector<Placed> letters;  // glyphs that move the pen
  std::vector<Placed> marks;
  for (std::size_t i = 0; i < count; ++i) {
    const Glyph& glyph = cluster.glyphs[i];
    Placed placed{.glyph = glyph, .x = pen_ + glyph.x};
    // As many glyphs as characters: a letter and its marks, each for itself.
    if (count == text.size()) placed.means = text[right_to_left ? count - 1 - i : i];
    (glyph.advance > 0 ? letters : marks).push_back(std::move(placed));
    pen_ += glyph.advance;
  }
  if (letters.empty()) std::swap(letters, marks);
  if (letters.empty()) return;
  if (count != text.size()) letters.front().means = text;

  // Several letters that mean a text only together, perhaps in another order: that is said around
  // them. The marks stand within, so that the whole reaches from its first letter to its last.
  const bool together = letters.size() > 1;
  if (together) {
    flush();
    stream_ += "/Span << /ActualText " + pdf_text(text) + " >> BDC\n";
  }
  show(letters.front());
  for (const Placed& mark : marks) show(mark);
  for (std::size_t i = 1; i < letters.size(); ++i) show(letters[i]);
  if (together) {
    flush();
    stream_ += "EMC\n";
  }
}

std::string RunText::finish() && {
  move_to(pen_);
  raise_to(0);
  flush();
  return std::move(stream_);
}

void RunText::show(const Placed& placed) {
  raise_to(placed.glyph.y);
  move_to(placed.x);
  const int code = font_.code(placed.glyph.id, placed.means);
  shown_ += fmt::format("<{:04X}>", code);
  at_ += font_.advance(code);
}

void RunText::move_to(double x) {
  const std::string left = pdf_number((at_ - x) * 1000);
  if (left != "0") shown_ += " " + left + " ";
  at_ = x;
}

void RunText::raise_to(double y) {
  if (y == raised_) return;
  flush();
  stream_ += pdf_points(y * size_) + " Ts\n";
  raised_ = y;
}

void RunText::flush() {
  if (!shown_.empty()) stream_ += "[" + shown_ + "] TJ\n";
  shown_.clear();
}

}  // namespace drawoff::paper
