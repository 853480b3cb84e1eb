#include "paper/scene_drawing.h"

#include <algorithm>

#include "base/check.h"
#include "paper/estimate.h"
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
double further_lines(const std::string& text, double size, double width) {
  const auto lines = estimated_lines(text, {.size = size, .width = width});
  return 1.25 * size * static_cast<double>(lines.size() - 1);
}

void draw_part(const ScenePart& part, const PartWords& words, Pen& pen) {
  for (const Path& p : part.shapes) pen.path(p);
  const bool marked = !words.explains.empty();
  if (marked) pen.path(corners_around(part.frame));
  const WordSlot& slot = part.slot;
  double y = slot.y + kName;
  pen.words({.at = {slot.x, y},
             .text = words.name,
             .size = kName,
             .bold = true,
             .ink = marked ? Ink::kMarked : Ink::kLine,
             .width = slot.width});
  y += 1.25 * kName + further_lines(words.name, kName, slot.width);
  pen.words({.at = {slot.x, y},
             .text = marked ? words.explains : words.detail,
             .size = kName - 1,
             .ink = marked ? Ink::kMarked : Ink::kQuiet,
             .width = slot.width});
}

void draw_point(const ScenePoint& point, const PointWords& words, Pen& pen) {
  const Ink ink = words.outside ? Ink::kMarked : Ink::kLine;
  pen.bubble(point.at, ink);
  const WordSlot& slot = point.slot;
  double y = slot.y + kName;
  pen.words({.at = {slot.x, y},
             .text = words.name,
             .size = kName - 1,
             .ink = Ink::kQuiet,
             .width = slot.width});
  y += further_lines(words.name, kName - 1, slot.width);
  if (!words.reading.empty()) {
    y += 1.25 * kReading;
    pen.words({.at = {slot.x, y},
               .text = words.reading,
               .size = kReading,
               .bold = true,
               .ink = ink,
               .width = slot.width});
  }
  const bool judged = !words.reading.empty() && !words.fit.empty();
  const std::string& said = judged ? words.fit : words.expected;
  if (!said.empty()) {
    y += 1.25 * kName;
    pen.words({.at = {slot.x, y},
               .text = said,
               .size = kName - 1,
               .ink = words.outside ? Ink::kMarked : Ink::kQuiet,
               .width = slot.width});
  }
  if (words.gauge) {
    y += 7 + (said.empty() ? 0 : further_lines(said, kName - 1, slot.width));
    const double width = std::min(kGaugeWidth, slot.width);
    const Gauge& g = *words.gauge;
    pen.bar({slot.x + g.from * width, y, (g.to - g.from) * width, kGaugeHeight}, Ink::kBand);
    if (g.mark) pen.bar({slot.x + *g.mark * width - 1.25, y - 2.5, 2.5, kGaugeHeight + 5}, ink);
  }
}

}  // namespace

Drawing scene_drawing(const Scene& scene,
                      std::span<const PartWords> parts,
                      std::span<const PointWords> points,
                      double millimetre) {
  CHECK(parts.size() == scene.parts.size() && points.size() == scene.points.size());
  Drawing drawing{.width = scene.width * millimetre, .height = scene.height * millimetre};
  Pen pen(drawing, millimetre);
  for (const Path& p : scene.pipes) pen.path(p);
  for (std::size_t i = 0; i < parts.size(); ++i) draw_part(scene.parts[i], parts[i], pen);
  for (std::size_t i = 0; i < points.size(); ++i) draw_point(scene.points[i], points[i], pen);
  return drawing;
}

}  // namespace drawoff::paper
