#include <utility>

#include "paper/layout.h"
#include "paper/outline.h"
#include "paper/palette.h"

namespace drawoff::paper {
namespace {

constexpr double kBetweenParagraphs = 2.2;

double type_of(Size size) {
  switch (size) {
    case Size::kSmall:
      return kSmallType;
    case Size::kBody:
      return kBodyType;
    case Size::kLarge:
      return kLargeType;
    case Size::kPoster:
      return kPosterType;
  }
  return kBodyType;
}

// One piece a line. The first two and the last two lines of a paragraph stay together.
std::vector<Piece> paragraph(const Sheet& sheet, const std::string& text, const Style& style) {
  const Slot slot{.width = sheet.width};
  std::vector<Piece> pieces;
  for (Line& line : lines_of(sheet, text, slot, style)) {
    Piece piece;
    piece.height = set_lines(piece, sheet, {std::move(line)}, slot, style);
    pieces.push_back(std::move(piece));
  }
  pieces.front().before = kBetweenParagraphs;
  if (pieces.size() > 1) {
    pieces.front().with_next = true;
    pieces[pieces.size() - 2].with_next = true;
  }
  return pieces;
}

// A triangle that stands on its side, with an exclamation mark.
void set_triangle(Piece& piece, const Box& box) {
  const double middle = box.at.x + box.width / 2;
  const double bottom = box.at.y + box.height;
  const auto line = colour_on_paper(Ink::kLine);
  std::vector<Segment> sides =
      polyline({{middle, box.at.y}, {box.at.x + box.width, bottom}, {box.at.x, bottom}});
  sides.push_back({.kind = Segment::Kind::kClose});
  piece.marks.push_back(
      PathMark{.segments = std::move(sides), .stroke = line, .width = 0.085 * box.width});
  const double stem = 0.1 * box.width;
  piece.marks.push_back(
      PathMark{.segments = rectangle({.at = {middle - stem / 2, box.at.y + 0.36 * box.height},
                                      .width = stem,
                                      .height = 0.3 * box.height}),
               .fill = line});
  piece.marks.push_back(PathMark{
      .segments = rectangle(
          {.at = {middle - stem / 2, box.at.y + 0.74 * box.height}, .width = stem, .height = stem}),
      .fill = line});
}

}  // namespace

std::vector<Piece> lay_out(const Title& title, const Sheet& sheet) {
  Piece piece{.with_next = true};
  const Slot slot{.width = sheet.width};
  piece.height = set_words(piece, sheet, title.text, slot, {.size = kTitleType, .bold = true});
  piece.height += set_words(
      piece, sheet, title.below, {.top = piece.height, .width = sheet.width}, {.ink = Ink::kQuiet});
  piece.height += 1.8;
  set_rule(
      piece, sheet, {.top = piece.height, .width = sheet.width}, {.width = 0.6, .ink = Ink::kLine});
  piece.height += 2;
  return {std::move(piece)};
}

std::vector<Piece> lay_out(const Heading& heading, const Sheet& sheet) {
  Piece piece{.before = 6, .with_next = true};
  piece.height = set_words(
      piece, sheet, heading.text, {.width = sheet.width}, {.size = kHeadingType, .bold = true});
  return {std::move(piece)};
}

std::vector<Piece> lay_out(const Text& text, const Sheet& sheet) {
  return paragraph(sheet,
                   text.text,
                   {.size = type_of(text.size),
                    .bold = text.weight == Weight::kBold,
                    .ink = text.ink,
                    .align = text.align});
}

std::vector<Piece> lay_out(const Caution& caution, const Sheet& sheet) {
  constexpr double kPadding = 3;
  constexpr double kTriangle = 8;
  Piece piece{.before = 3.5};
  Slot slot{.from_start = kPadding + kTriangle + kPadding, .top = kPadding - 0.6};
  slot.width = sheet.width - slot.from_start - kPadding;
  slot.top += set_words(piece, sheet, caution.word, slot, {.bold = true});
  slot.top += set_words(piece, sheet, caution.text, slot, {.size = type_of(caution.size)});
  piece.height = std::max(slot.top + kPadding - 0.6, kTriangle + 2 * kPadding);
  set_triangle(
      piece,
      {.at = {.x = left_of(sheet, {.from_start = kPadding, .width = kTriangle}), .y = kPadding},
       .width = kTriangle,
       .height = 0.88 * kTriangle});
  piece.marks.push_back(
      PathMark{.segments = rectangle({.width = sheet.width, .height = piece.height}),
               .stroke = colour_on_paper(Ink::kLine),
               .width = 0.5});
  return {std::move(piece)};
}

std::vector<Piece> lay_out(const Link& link, const Sheet& sheet) {
  std::vector<Piece> pieces = paragraph(sheet, link.text, {.ink = Ink::kRaw});
  for (Piece& piece : pieces) {
    const auto& text = std::get<TextMark>(piece.marks.front());
    const double width = text.line.width * text.size;
    const Spot left{.x = text.at.x, .y = text.at.y + 0.5};
    piece.marks.push_back(LinkMark{.at = {.x = text.at.x, .y = 0},
                                   .width = width,
                                   .height = piece.height,
                                   .address = link.address});
    piece.marks.push_back(PathMark{.segments = polyline({left, {.x = left.x + width, .y = left.y}}),
                                   .stroke = colour_on_paper(Ink::kRaw),
                                   .width = 0.15});
  }
  return pieces;
}

}  // namespace drawoff::paper
