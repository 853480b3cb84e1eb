#include "paper/piece.h"

#include <algorithm>
#include <utility>

#include "paper/outline.h"
#include "paper/palette.h"

namespace drawoff::paper {
namespace {

// Capitals of the embedded font are 0.714 em high; half of that lies above the middle of a line.
constexpr double kHalfCapital = 0.357;

}  // namespace

double left_of(const Sheet& sheet, const Slot& slot) {
  return sheet.right_to_left ? sheet.width - slot.from_start - slot.width : slot.from_start;
}

std::vector<Line> lines_of(const Sheet& sheet,
                           const std::string& text,
                           const Slot& slot,
                           const Style& style) {
  return set_text(sheet.fonts,
                  text,
                  {.width = slot.width / style.size,
                   .bold = style.bold,
                   .language = sheet.language,
                   .right_to_left = sheet.right_to_left});
}

double height_of(const Line& line, const Style& style) {
  return std::max(leading(line), style.leading) * style.size;
}

double set_lines(Piece& piece,
                 const Sheet& sheet,
                 std::vector<Line> lines,
                 const Slot& slot,
                 const Style& style) {
  const double left = left_of(sheet, slot);
  double y = slot.top;
  for (Line& line : lines) {
    const double height = height_of(line, style);
    const double spare = slot.width - line.width * style.size;
    double x = left;
    if (style.align == Align::kMiddle) {
      x += spare / 2;
    } else if ((style.align == Align::kEnd) != sheet.right_to_left) {
      x += spare;
    }
    const double base = y + height / 2 + kHalfCapital * style.size;
    piece.marks.push_back(TextMark{.at = {.x = x, .y = base},
                                   .size = style.size,
                                   .colour = colour_on_paper(style.ink).value_or(Colour{}),
                                   .line = std::move(line)});
    y += height;
  }
  return y - slot.top;
}

double set_words(Piece& piece,
                 const Sheet& sheet,
                 const std::string& text,
                 const Slot& slot,
                 const Style& style) {
  if (text.empty()) return 0;
  return set_lines(piece, sheet, lines_of(sheet, text, slot, style), slot, style);
}

void set_rule(Piece& piece, const Sheet& sheet, const Slot& slot, const Rule& rule) {
  const double left = left_of(sheet, slot);
  piece.marks.push_back(PathMark{
      .segments = polyline({{.x = left, .y = slot.top}, {.x = left + slot.width, .y = slot.top}}),
      .stroke = colour_on_paper(rule.ink),
      .width = rule.width});
}

Piece joined(const std::vector<Piece>& pieces) {
  Piece all;
  for (const Piece& piece : pieces) {
    if (all.height > 0) all.height += piece.before;
    for (const Mark& mark : piece.marks) {
      all.marks.push_back(placed(mark, {.by = {.x = 0, .y = all.height}}));
    }
    all.height += piece.height;
  }
  return all;
}

}  // namespace drawoff::paper
