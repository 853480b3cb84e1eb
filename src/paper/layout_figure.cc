#include <algorithm>
#include <limits>
#include <utility>

#include "base/check.h"
#include "paper/layout.h"
#include "paper/palette.h"

namespace drawoff::paper {
namespace {

constexpr double kLineOfWords = 1.25;  // drawing.h promises it

class Drawn {
 public:
  Drawn(std::vector<Mark>& marks, const Sheet& sheet) : marks_(marks), sheet_(sheet) {}

  void operator()(const Path& path) const {
    marks_.push_back(PathMark{.segments = path.segments,
                              .fill = colour_on_paper(path.fill),
                              .stroke = colour_on_paper(path.stroke.ink),
                              .width = path.stroke.width,
                              .dashed = path.stroke.dashed});
  }

  void operator()(const Words& words) const {
    const auto colour = colour_on_paper(words.ink);
    if (!colour) return;
    CHECK(words.size > 0);
    const double width =
        words.width > 0 ? words.width / words.size : std::numeric_limits<double>::infinity();
    Spot at = words.at;
    for (Line& line : set_text(sheet_.fonts,
                               words.text,
                               {.width = width,
                               .bold = words.bold,
                               .language = sheet_.language,
                               .right_to_left = sheet_.right_to_left})) {
      const double wide = line.width * words.size;
      const double back = words.align == Align::kStart    ? 0
                          : words.align == Align::kMiddle ? wide / 2
                                                          : wide;
      marks_.push_back(TextMark{.at = {.x = at.x - back, .y = at.y},
                                .size = words.size,
                                .colour = *colour,
                                .line = std::move(line)});
      at.y += kLineOfWords * words.size;
    }
  }

 private:
  std::vector<Mark>& marks_;
  const Sheet& sheet_;
};

}  // namespace

std::vector<Mark> marks_of(const Drawing& drawing, const Sheet& sheet) {
  std::vector<Mark> marks;
  for (const Item& item : drawing.items) std::visit(Drawn(marks, sheet), item);
  return marks;
}

Piece captioned(Piece picture, double width, const std::string& caption, const Sheet& sheet) {
  for (Mark& mark : picture.marks) {
    mark = placed(std::move(mark), {.by = {.x = (sheet.width - width) / 2}});
  }
  picture.height += set_words(picture,
                              sheet,
                              caption,
                              {.top = picture.height + 1, .width = sheet.width},
                              {.size = kSmallType, .ink = Ink::kQuiet, .align = Align::kMiddle});
  if (!caption.empty()) picture.height += 1;
  return picture;
}

std::vector<Piece> lay_out(const Figure& figure, const Sheet& sheet) {
  const Drawing& drawing = figure.drawing;
  CHECK(drawing.width > 0 && drawing.height > 0);
  const double wanted = figure.width > 0 ? figure.width : drawing.width;
  const double width = std::min(wanted, sheet.width);
  const double scale = width / drawing.width;
  Piece piece{.before = 3.5, .height = scale * drawing.height};
  for (Mark& mark : marks_of(drawing, sheet)) {
    piece.marks.push_back(placed(std::move(mark), {.scale = scale}));
  }
  return {captioned(std::move(piece), width, figure.caption, sheet)};
}

}  // namespace drawoff::paper
