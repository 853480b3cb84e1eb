#include "paper/scene_drawing.h"

#include <algorithm>

#include "base/check.h"
#include "paper/estimate.h"
#include "paper/fonts.h"
#include "paper/outline.h"

namespace drawoff::paper {

namespace {

// Sizes of words and marks [units].
constexpr double kName = 12;
constexpr double kReading = 16;
constexpr double kBubble = 7;  // radius of a test point
constexpr double kGaugeHeight = 5;
constexpr double kGaugeWidth = 96;

class Pen {
 public:
  Pen(Drawing& drawing, double scale) : drawing_(drawing), scale_(scale) {}

  void path(Path path) {
    for (Segment& s : path.segments) {
      for (Spot* spot : {&s.to, &s.control_1, &s.control_2}) {
        spot->x *= scale_;
        spot->y *= scale_;
      }
    }
    path.stroke.width *= scale_;
    drawing_.items.push_back(std::move(path));
  }
  void words(Words words) {
    words.at = {words.at.x * scale_, words.at.y * scale_};
    words.size *= scale_;
    words.width *= scale_;
    if (!words.text.empty()) drawing_.items.push_back(std::move(words));
  }
  void bar(const WordSlot& at, Ink fill) {
    path({.segments = rectangle({.at = {at.x, at.y}, .width = at.width, .height = at.height}),
          .fill = fill});
  }
  void bubble(const Spot& middle, Ink ink) {
    path({.segments = circle(middle, kBubble),
          .stroke = {.ink = ink, .width = 2},
          .fill = Ink::kPaper});
  }

 private:
  Drawing& drawing_;
  double scale_;
};

// How far further lines of a text push down what stands below it.
double further_lines(const std::string& text, const Type& type, double width, const Fonts* fonts) {
  const auto lines = fonts != nullptr ? wrapped(*fonts, text, type, width)
                                      : estimated_lines(text, {.size = type.size, .width = width});
  return 1.25 * type.size * static_cast<double>(lines.size() - 1);
}

// Under the last base line, to the words of what comes next: a part's detail must not seem theirs.
constexpr double kBelow = 3;
constexpr double kBelowPart = 9;

const std::string& detail_of(const PartWords& words) {
  return words.explains.empty() ? words.detail : words.explains;
}
const std::string& said_of(const PointWords& words) {
  return !words.reading.empty() && !words.fit.empty() ? words.fit : words.expected;
}

// Base lines of what stands beside a part, from the top of its slot.
struct PartLines {
  double name = kName;
  double detail = 0;
  double end = 0;
};
PartLines lines_of(const PartWords& words, double width, const Fonts* fonts) {
  PartLines at;
  at.detail = at.name + 1.25 * kName +
              further_lines(words.name, {.size = kName, .bold = true}, width, fonts);
  const std::string& detail = detail_of(words);
  at.end = kBelowPart +
           (detail.empty() ? at.detail - 1.25 * kName
                           : at.detail + further_lines(detail, {.size = kName - 1}, width, fonts));
  return at;
}

// The same beside a point; the gauge's is its upper edge.
struct PointLines {
  double name = kName;
  double reading = 0;
  double said = 0;
  double gauge = 0;
  double end = 0;
};
PointLines lines_of(const PointWords& words, double width, const Fonts* fonts) {
  PointLines at;
  double y = at.name + further_lines(words.name, {.size = kName - 1}, width, fonts);
  if (!words.reading.empty()) y += 1.25 * kReading;
  at.reading = y;
  const std::string& said = said_of(words);
  if (!said.empty()) y += 1.25 * kName;
  at.said = y;
  if (!said.empty()) y += further_lines(said, {.size = kName - 1}, width, fonts);
  if (words.gauge) y += 7;
  at.gauge = y;
  if (words.gauge) y += kGaugeHeight + 2.5;
  at.end = y + kBelow;
  return at;
}

void draw_part(const ScenePart& part, const PartWords& words, const Fonts* fonts, Pen& pen) {
  for (const Path& p : part.shapes) pen.path(p);
  const bool marked = !words.explains.empty();
  if (marked) pen.path(corners_around(part.frame));
  const WordSlot& slot = part.slot;
  const PartLines at = lines_of(words, slot.width, fonts);
  pen.words({.at = {slot.x, slot.y + at.name},
             .text = words.name,
             .size = kName,
             .bold = true,
             .ink = marked ? Ink::kMarked : Ink::kLine,
             .width = slot.width});
  pen.words({.at = {slot.x, slot.y + at.detail},
             .text = detail_of(words),
             .size = kName - 1,
             .ink = marked ? Ink::kMarked : Ink::kQuiet,
             .width = slot.width});
}

void draw_point(const ScenePoint& point, const PointWords& words, const Fonts* fonts, Pen& pen) {
  const Ink ink = words.outside ? Ink::kMarked : Ink::kLine;
  pen.bubble(point.at, ink);
  const WordSlot& slot = point.slot;
  const PointLines at = lines_of(words, slot.width, fonts);
  pen.words({.at = {slot.x, slot.y + at.name},
             .text = words.name,
             .size = kName - 1,
             .ink = Ink::kQuiet,
             .width = slot.width});
  pen.words({.at = {slot.x, slot.y + at.reading},
             .text = words.reading,
             .size = kReading,
             .bold = true,
             .ink = ink,
             .width = slot.width});
  pen.words({.at = {slot.x, slot.y + at.said},
             .text = said_of(words),
             .size = kName - 1,
             .ink = words.outside ? Ink::kMarked : Ink::kQuiet,
             .width = slot.width});
  if (words.gauge) {
    const double y = slot.y + at.gauge;
    const double width = std::min(kGaugeWidth, slot.width);
    const Gauge& g = *words.gauge;
    pen.bar({slot.x + g.from * width, y, (g.to - g.from) * width, kGaugeHeight}, Ink::kBand);
    if (g.mark) pen.bar({slot.x + *g.mark * width - 1.25, y - 2.5, 2.5, kGaugeHeight + 5}, ink);
  }
}

}  // namespace

Rooms rooms_of(const Scene& scene,
               std::span<const PartWords> parts,
               std::span<const PointWords> points,
               const Fonts* fonts) {
  CHECK(parts.size() == scene.parts.size() && points.size() == scene.points.size());
  Rooms rooms;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    rooms.parts.push_back(lines_of(parts[i], scene.parts[i].slot.width, fonts).end);
  }
  for (std::size_t i = 0; i < points.size(); ++i) {
    const ScenePoint& p = scene.points[i];
    rooms.points.emplace_back(p.point, lines_of(points[i], p.slot.width, fonts).end);
  }
  return rooms;
}

Drawing scene_drawing(const Scene& scene,
                      std::span<const PartWords> parts,
                      std::span<const PointWords> points,
                      double millimetre,
                      const Fonts* fonts) {
  CHECK(parts.size() == scene.parts.size() && points.size() == scene.points.size());
  Drawing drawing{.width = scene.width * millimetre, .height = scene.height * millimetre};
  Pen pen(drawing, millimetre);
  for (const Path& p : scene.pipes) pen.path(p);
  for (std::size_t i = 0; i < parts.size(); ++i) draw_part(scene.parts[i], parts[i], fonts, pen);
  for (std::size_t i = 0; i < points.size(); ++i)
    draw_point(scene.points[i], points[i], fonts, pen);
  return drawing;
}

}  // namespace drawoff::paper
