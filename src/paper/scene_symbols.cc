#include "paper/scene_symbols.h"

#include <algorithm>
#include <array>

#include "paper/outline.h"

namespace drawoff::paper::symbols {

namespace {

using machine::Arrangement;
using machine::FilterKind;
using machine::ProductVessel;
using machine::PumpKind;

Path run(const std::vector<Spot>& spots, const Stroke& stroke) {
  return {.segments = polyline(spots), .stroke = stroke};
}

// Outlined, and hiding the pipe below.
Path body(std::vector<Segment> segments, Ink fill = Ink::kPaper) {
  return {.segments = std::move(segments), .stroke = outline(), .fill = fill};
}

Path polygon(const std::vector<Spot>& spots, Ink fill = Ink::kPaper) {
  Path path = body(polyline(spots), fill);
  path.segments.push_back({.kind = Segment::Kind::kClose});
  return path;
}

Path solid(const std::vector<Spot>& spots, Ink fill) {
  Path path = polygon(spots, fill);
  path.stroke = {};
  return path;
}

Path box(const Spot& m, double width, double height) {
  return body(
      rectangle({.at = {m.x - width / 2, m.y - height / 2}, .width = width, .height = height}));
}

// A curve with its two bends, to be stroked only.
Path bow(const Spot& from, const Spot& bend_1, const Spot& bend_2, const Spot& to, Stroke stroke) {
  return {.segments =
              {{.kind = Segment::Kind::kMove, .to = from},
               {.kind = Segment::Kind::kCurve, .to = to, .control_1 = bend_1, .control_2 = bend_2}},
          .stroke = stroke};
}

Path water_line(double from, double to, double y) {
  return run({{from, y}, {to, y}}, {.ink = Ink::kProduct, .width = 1.5});
}

// Open at the top, so that the air above the water is to be seen: a body without its lid.
std::vector<Path> open_vessel(const Spot& m, const Size& size) {
  const double l = m.x - size.width / 2;
  const double r = m.x + size.width / 2;
  const double t = m.y - size.height / 2;
  const double b = m.y + size.height / 2;
  Path hidden = box(m, size.width, size.height);
  hidden.stroke = {};
  return {hidden, run({{l, t}, {l, b}, {r, b}, {r, t}}, outline())};
}

// A valve at the pipe's end, its arm and the ball that rides on the water.
void add_float(std::vector<Path>& shapes, const Spot& inlet, const Spot& ball, Ink water) {
  shapes.push_back(run({{inlet.x, inlet.y - 10}, inlet}, {.ink = water, .width = 3}));
  shapes.push_back(run({{inlet.x, inlet.y - 3}, ball}, thin()));
  shapes.push_back(body(circle(ball, 4)));
}

std::vector<Path> driven(const Spot& m, std::vector<Path> drive) {
  std::vector<Path> shapes = std::move(drive);
  shapes.push_back(run({{m.x - 18, m.y}, {m.x, m.y}}, outline(1.5)));
  for (Path& p : valve(m, Flow::kDown)) shapes.push_back(std::move(p));
  return shapes;
}

}  // namespace

Stroke outline(double width) { return {.ink = Ink::kLine, .width = width}; }
Stroke thin() { return outline(1.25); }

// Two triangles tip to tip.
std::vector<Path> valve(const Spot& m, Flow flow) {
  constexpr double kLong = 11;
  constexpr double kWide = 8;
  return {flow == Flow::kAcross ? polygon({{m.x - kLong, m.y - kWide},
                                           {m.x + kLong, m.y + kWide},
                                           {m.x + kLong, m.y - kWide},
                                           {m.x - kLong, m.y + kWide}})
                                : polygon({{m.x - kWide, m.y - kLong},
                                           {m.x + kWide, m.y - kLong},
                                           {m.x - kWide, m.y + kLong},
                                           {m.x + kWide, m.y + kLong}})};
}

// The coil: a box with a stroke through it.
std::vector<Path> solenoid(const Spot& m) {
  const Spot coil{m.x - 25, m.y};
  return driven(
      m, {box(coil, 14, 16), run({{coil.x - 7, coil.y + 8}, {coil.x + 7, coil.y - 8}}, thin())});
}

// A diaphragm that feels the pressure behind the valve.
std::vector<Path> regulator(const Spot& m) {
  const double x = m.x - 18;
  Path dome = bow({x, m.y - 11}, {x - 15, m.y - 11}, {x - 15, m.y + 11}, {x, m.y + 11}, outline());
  dome.segments.push_back({.kind = Segment::Kind::kClose});
  dome.fill = Ink::kPaper;
  Stroke feels = thin();
  feels.dashed = true;
  return driven(m, {run({{x - 5, m.y + 10}, {x - 5, m.y + 22}, {m.x, m.y + 22}}, feels), dome});
}

// A piston that the product pushes.
std::vector<Path> shut_off(const Spot& m) {
  const Spot cylinder{m.x - 25, m.y};
  return driven(m,
                {box(cylinder, 14, 18),
                 run({{cylinder.x, cylinder.y - 9}, {cylinder.x, cylinder.y + 9}}, outline())});
}

// Open the way the triangle points.
std::vector<Path> check_valve(const Spot& m) {
  return {polygon({{m.x - 6, m.y - 6}, {m.x + 6, m.y - 6}, {m.x, m.y + 5}}),
          run({{m.x - 6.5, m.y + 5.5}, {m.x + 6.5, m.y + 5.5}}, outline())};
}

std::vector<Path> raw_tank(const Spot& m) {
  std::vector<Path> shapes = open_vessel(m, kTank);
  const double water = m.y - 4;
  shapes.push_back(run({{m.x - kTank.width / 2, water}, {m.x + kTank.width / 2, water}},
                       {.ink = Ink::kRaw, .width = 1.5}));
  add_float(shapes, {m.x, m.y - 13}, {m.x + 13, water}, Ink::kRaw);
  return shapes;
}

std::vector<Path> filter(FilterKind kind, const Spot& m) {
  std::vector<Path> shapes{box(m, kFilter.width, kFilter.height)};
  const double half = kFilter.width / 2;
  switch (kind) {
    case FilterKind::kSediment:
    case FilterKind::kCarbon:
    case FilterKind::kPolish: {
      Stroke dashes = outline(1.5);
      dashes.dashed = true;
      shapes.push_back(run({{m.x - half, m.y + half}, {m.x + half, m.y - half}}, dashes));
      break;
    }
    case FilterKind::kSoftener:
      // A bed of resin between two screens; two ways: one ion for another.
      for (const double y : {-11.0, 11.0}) {
        shapes.push_back(run({{m.x - half, m.y + y}, {m.x + half, m.y + y}}, thin()));
      }
      for (const double side : {-1.0, 1.0}) {
        const double x = m.x + 5 * side;
        shapes.push_back(run({{x, m.y - 6.5}, {x, m.y + 6.5}}, outline(1.5)));
        shapes.push_back(
            run({{x - 3, m.y + 3 * side}, {x, m.y + 6.5 * side}, {x + 3, m.y + 3 * side}},
                outline(1.5)));
      }
      break;
    case FilterKind::kMineral:
      // Grains.
      for (const double y : {-9.0, 0.0, 9.0}) {
        for (const double x : {-9.0, 0.0, 9.0}) {
          shapes.push_back({.segments = circle({m.x + x, m.y + y}, 2.5), .stroke = outline(1.25)});
        }
      }
      break;
    case FilterKind::kUv:
      shapes.push_back(body(circle(m, 11)));
      for (const double side : {-1.0, 1.0}) {
        shapes.push_back(
            run({{m.x - 7.8, m.y - 7.8 * side}, {m.x + 7.8, m.y + 7.8 * side}}, outline(1.5)));
      }
      break;
  }
  return shapes;
}

Size size_of(const machine::PumpEntry& entry) {
  if (entry.count < 2) return kPump;
  return entry.arrangement == Arrangement::kSeries ? Size{kPump.width, kPump.height + 2 * kEcho}
                                                   : Size{kPump.width + 2 * kEcho, kPump.height};
}

std::vector<Path> pump(const machine::PumpEntry& entry, const Spot& m) {
  const double r = kPump.width / 2;
  std::vector<Path> shapes;
  // Further pumps peep out from behind: above the first in series, beside it in parallel.
  if (entry.count > 1) {
    const bool series = entry.arrangement == Arrangement::kSeries;
    for (const double side : {-1.0, 1.0}) {
      shapes.push_back(
          body(circle({m.x + (series ? 0 : side * kEcho), m.y + (series ? side * kEcho : 0)}, r)));
    }
  }
  shapes.push_back(body(circle(m, r)));
  switch (entry.kind) {
    case PumpKind::kDiaphragm:
      shapes.push_back(
          polygon({{m.x - 17.3, m.y - 10}, {m.x + 17.3, m.y - 10}, {m.x, m.y + r}}, Ink::kNone));
      shapes.push_back(bow({m.x - 17.3, m.y - 10},
                           {m.x - 6, m.y + 1},
                           {m.x + 6, m.y + 1},
                           {m.x + 17.3, m.y - 10},
                           outline(1.5)));
      break;
    case PumpKind::kVane:
      // A rotor off the middle, its vanes reaching the wall.
      shapes.push_back(run({{m.x - 18.3, m.y - 3}, {m.x + 18.3, m.y - 3}}, outline(1.5)));
      shapes.push_back(run({{m.x, m.y - r}, {m.x, m.y + 8}}, outline(1.5)));
      shapes.push_back(body(circle({m.x, m.y - 3}, 10)));
      shapes.push_back(
          solid({{m.x - 6, m.y + 10.5}, {m.x + 6, m.y + 10.5}, {m.x, m.y + r}}, Ink::kLine));
      break;
    case PumpKind::kMultistage:
      // One wheel after another, the last at the outlet.
      for (const auto& [x, y] : {std::array{17.3, -10.0}, std::array{19.0, -2.0}}) {
        shapes.push_back(
            run({{m.x - x, m.y + y}, {m.x, m.y + y + 11}, {m.x + x, m.y + y}}, outline(1.5)));
      }
      shapes.push_back(
          solid({{m.x - 6, m.y + 12}, {m.x + 6, m.y + 12}, {m.x, m.y + r}}, Ink::kLine));
      break;
  }
  return shapes;
}

// A cell for each element: in a row one behind the other, in rows side by side.
std::vector<Path> membrane(const machine::ElementEntry& entry, const Spot& m) {
  const double w = kMembrane.width;
  const double h = kMembrane.height;
  const double l = m.x - w / 2;
  const double t = m.y - h / 2;
  const int columns = std::max(entry.in_series, 1);
  const int rows = std::max(entry.in_parallel, 1);
  std::vector<Path> shapes{box(m, w, h)};
  const double cell_w = w / columns;
  const double cell_h = h / rows;
  const Stroke stroke = outline(columns * rows == 1 ? 2 : columns * rows <= 6 ? 1.5 : 1);
  for (int c = 1; c < columns; ++c) {
    shapes.push_back(run({{l + c * cell_w, t}, {l + c * cell_w, t + h}}, stroke));
  }
  for (int r = 1; r < rows; ++r) {
    shapes.push_back(run({{l, t + r * cell_h}, {l + w, t + r * cell_h}}, stroke));
  }
  for (int r = 0; r < rows; ++r) {
    for (int c = 0; c < columns; ++c) {
      const Spot corner{l + c * cell_w, t + r * cell_h};
      shapes.push_back(run({{corner.x, corner.y + cell_h}, {corner.x + cell_w, corner.y}}, stroke));
    }
  }
  return shapes;
}

// Two plates with a narrow way between two facing wedges.
std::vector<Path> restrictor(const Spot& m) {
  return {run({{m.x - 11, m.y - 16}, {m.x + 11, m.y - 16}}, outline()),
          run({{m.x - 11, m.y + 16}, {m.x + 11, m.y + 16}}, outline()),
          polygon({{m.x - 11, m.y - 11}, {m.x - 3, m.y}, {m.x - 11, m.y + 11}}),
          polygon({{m.x + 11, m.y - 11}, {m.x + 3, m.y}, {m.x + 11, m.y + 11}})};
}

std::vector<Path> funnel(const Spot& m) {
  return {
      polygon({{m.x - 16, m.y - 6}, {m.x + 16, m.y - 6}, {m.x + 9, m.y + 6}, {m.x - 9, m.y + 6}})};
}

std::vector<Path> vessel(ProductVessel vessel, const Spot& m) {
  const double half_w = kVessel.width / 2;
  const double half_h = kVessel.height / 2;
  switch (vessel) {
    case ProductVessel::kJug: {
      std::vector<Path> shapes{polygon({{m.x - 15, m.y - half_h + 4},
                                        {m.x + 15, m.y - half_h + 4},
                                        {m.x + 12, m.y + half_h},
                                        {m.x - 12, m.y + half_h}}),
                               bow({m.x + 14, m.y - 9},
                                   {m.x + 25, m.y - 9},
                                   {m.x + 25, m.y + 10},
                                   {m.x + 13, m.y + 10},
                                   outline()),
                               water_line(m.x - 13.5, m.x + 13.5, m.y - 2)};
      return shapes;
    }
    case ProductVessel::kTank: {
      // Round at both ends; air below the skin that the water presses down.
      const double bend = 9;
      Path shell{.stroke = outline(), .fill = Ink::kPaper};
      const double t = m.y - half_h + bend;
      const double b = m.y + half_h - bend;
      const double l = m.x - 18;
      const double r = m.x + 18;
      shell.segments = {{.kind = Segment::Kind::kMove, .to = {l, t}},
                        {.kind = Segment::Kind::kCurve,
                         .to = {r, t},
                         .control_1 = {l, t - 1.33 * bend},
                         .control_2 = {r, t - 1.33 * bend}},
                        {.kind = Segment::Kind::kLine, .to = {r, b}},
                        {.kind = Segment::Kind::kCurve,
                         .to = {l, b},
                         .control_1 = {r, b + 1.33 * bend},
                         .control_2 = {l, b + 1.33 * bend}},
                        {.kind = Segment::Kind::kClose}};
      return {shell,
              bow({l, m.y - 1},
                  {l + 9, m.y + 9},
                  {r - 9, m.y + 9},
                  {r, m.y - 1},
                  {.ink = Ink::kProduct, .width = 1.5})};
    }
    case ProductVessel::kOpenTank: {
      std::vector<Path> shapes = open_vessel(m, kVessel);
      shapes.push_back(water_line(m.x - half_w, m.x + half_w, m.y - 2));
      add_float(shapes, {m.x, m.y - 11}, {m.x + 14, m.y - 2}, Ink::kProduct);
      return shapes;
    }
    case ProductVessel::kCooler:
      break;
  }
  // A reservoir with the tap that people drink from.
  return {box({m.x + 3, m.y}, 38, kVessel.height),
          water_line(m.x - 16, m.x + half_w, m.y - 8),
          run({{m.x - 16, m.y + 8}, {m.x - half_w, m.y + 8}, {m.x - half_w, m.y + 15}}, outline())};
}

// Contacts that part: a lever off its stop, and on which side of the pressure.
std::vector<Path> pressure_switch(Trips trips, const Spot& m, const Spot& tap) {
  const double side = trips == Trips::kBelow ? 1 : -1;
  return {run({m, tap}, thin()),
          body(circle(m, 12)),
          run({{m.x - 8, m.y}, {m.x - 3.5, m.y}, {m.x + 4, m.y + side * 5.5}}, outline(1.5)),
          run({{m.x + 3.5, m.y}, {m.x + 8, m.y}}, outline(1.5))};
}

Path joint(const Spot& at, Ink ink) { return {.segments = circle(at, 3.5), .fill = ink}; }

Path arrow(const Spot& tip, Way way, Ink ink) {
  constexpr double kLong = 9;
  constexpr double kHalf = 4.5;
  const double x = way == Way::kRight ? 1 : way == Way::kLeft ? -1 : 0;
  const double y = way == Way::kDown ? 1 : way == Way::kUp ? -1 : 0;
  const Spot back{tip.x - kLong * x, tip.y - kLong * y};
  return solid(
      {tip, {back.x - kHalf * y, back.y - kHalf * x}, {back.x + kHalf * y, back.y + kHalf * x}},
      ink);
}

}  // namespace drawoff::paper::symbols
