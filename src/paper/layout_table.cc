#include <algorithm>
#include <utility>

#include "base/check.h"
#include "paper/layout.h"

namespace drawoff::paper {
namespace {

constexpr double kPadding = 0.7;  // above and below the words of a row
constexpr double kBetweenColumns = 4;
constexpr double kBetweenFields = 6;

std::vector<Slot> slots_of(const std::vector<double>& shares, double gap, double width) {
  double all = 0;
  for (const double share : shares) all += share;
  const double room = std::max(width - gap * (static_cast<double>(shares.size()) - 1), 1.0);
  std::vector<Slot> slots;
  double from_start = 0;
  for (const double share : shares) {
    slots.push_back({.from_start = from_start, .top = kPadding, .width = room * share / all});
    from_start += slots.back().width + gap;
  }
  return slots;
}

// A row as high as its highest cell, with a rule beneath.
struct RowCell {
  const std::string& text;
  Style style;
};
Piece row_of(const Sheet& sheet,
             const std::vector<Slot>& slots,
             const std::vector<RowCell>& cells,
             const Rule& rule) {
  CHECK(cells.size() <= slots.size());
  // Cells of different scripts share their base lines.
  double together = 1.42;
  std::vector<std::vector<Line>> lines;
  for (std::size_t i = 0; i < cells.size(); ++i) {
    lines.push_back(lines_of(sheet, cells[i].text, slots[i], cells[i].style));
    for (const Line& line : lines.back()) together = std::max(together, leading(line));
  }
  Piece piece;
  for (std::size_t i = 0; i < cells.size(); ++i) {
    Style style = cells[i].style;
    style.leading = together;
    const double height = set_lines(piece, sheet, std::move(lines[i]), slots[i], style);
    piece.height = std::max(piece.height, height);
  }
  piece.height += 2 * kPadding;
  set_rule(piece, sheet, {.top = piece.height, .width = sheet.width}, rule);
  return piece;
}

}  // namespace

std::vector<Piece> lay_out(const Rows& rows, const Sheet& sheet) {
  const auto slots = slots_of({rows.name_share, 1 - rows.name_share}, kBetweenColumns, sheet.width);
  std::vector<Piece> pieces;
  for (const Row& row : rows.rows) {
    const bool bold = row.weight == Weight::kBold;
    pieces.push_back(
        row_of(sheet, slots, {{row.name, {.ink = Ink::kQuiet}}, {row.value, {.bold = bold}}}, {}));
  }
  if (!pieces.empty()) pieces.front().before = 2;
  return pieces;
}

std::vector<Piece> lay_out(const Table& table, const Sheet& sheet) {
  std::vector<double> shares;
  std::vector<RowCell> heads;
  for (const Column& column : table.columns) {
    shares.push_back(column.share);
    heads.push_back({column.head, {.size = kSmallType, .bold = true, .align = column.align}});
  }
  const std::vector<Slot> slots = slots_of(shares, kBetweenColumns, sheet.width);
  Piece head = row_of(sheet, slots, heads, {.width = 0.35, .ink = Ink::kLine});
  head.before = 2.5;
  head.with_next = true;
  const auto repeated = std::make_shared<const Piece>(head);
  std::vector<Piece> pieces{std::move(head)};
  for (const std::vector<Cell>& row : table.rows) {
    std::vector<RowCell> cells;
    for (std::size_t i = 0; i < row.size(); ++i) {
      CHECK(i < table.columns.size());
      cells.push_back(
          {row[i].text, {.bold = row[i].weight == Weight::kBold, .align = table.columns[i].align}});
    }
    pieces.push_back(row_of(sheet, slots, cells, {}));
    pieces.back().head = repeated;
  }
  return pieces;
}

std::vector<Piece> lay_out(const Signatures& signatures,
                           const std::vector<std::optional<Jpeg>>& jpegs,
                           const Sheet& sheet) {
  constexpr double kRoom = 13;  // at least, above the line: for a hand that signs
  std::vector<double> shares;
  for (const Field& field : signatures.fields) shares.push_back(field.share);
  constexpr double kAboveLine = 0.4;
  const std::vector<Slot> slots = slots_of(shares, kBetweenFields, sheet.width);
  std::vector<Piece> values(slots.size());
  double room = kRoom;
  for (std::size_t i = 0; i < slots.size(); ++i) {
    const Slot at{.from_start = slots[i].from_start, .width = slots[i].width};
    values[i].height = set_words(values[i], sheet, signatures.fields[i].value, at, {});
    room = std::max(room, values[i].height + kAboveLine);
  }
  Piece piece{.before = 3, .height = room};
  for (std::size_t i = 0; i < slots.size(); ++i) {
    const Field& field = signatures.fields[i];
    Slot slot = slots[i];
    for (Mark& mark : values[i].marks) {
      const double top = room - values[i].height - kAboveLine;
      piece.marks.push_back(placed(std::move(mark), {.by = {.x = 0, .y = top}}));
    }
    if (const std::optional<Jpeg>& jpeg = jpegs[i]) {
      const double scale = std::min(slot.width / jpeg->width, (kRoom - 1) / jpeg->height);
      const double tall = scale * jpeg->height;
      piece.marks.push_back(
          placed(PhotoMark{.width = scale * jpeg->width, .height = tall, .jpeg = *jpeg},
                 {.by = {.x = left_of(sheet, slot), .y = room - tall}}));
    }
    slot.top = room;
    set_rule(piece, sheet, slot, {.width = 0.25, .ink = Ink::kLine});
    slot.top += 0.6;
    const double caption =
        set_words(piece, sheet, field.caption, slot, {.size = kSmallType, .ink = Ink::kQuiet});
    piece.height = std::max(piece.height, slot.top + caption);
  }
  return {std::move(piece)};
}

}  // namespace drawoff::paper
