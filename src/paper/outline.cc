#include "paper/outline.h"

namespace drawoff::paper {

std::vector<Segment> polyline(const std::vector<Spot>& points) {
  std::vector<Segment> segments;
  for (const Spot& point : points) {
    const auto kind = segments.empty() ? Segment::Kind::kMove : Segment::Kind::kLine;
    segments.push_back({.kind = kind, .to = point});
  }
  return segments;
}

std::vector<Segment> rectangle(const Box& box) {
  const double right = box.at.x + box.width;
  const double bottom = box.at.y + box.height;
  auto segments = polyline({box.at, {right, box.at.y}, {right, bottom}, {box.at.x, bottom}});
  segments.push_back({.kind = Segment::Kind::kClose});
  return segments;
}

std::vector<Segment> circle(const Spot& middle, double radius) {
  constexpr double kArc = 0.5522847498307936;  // 4/3 (√2 − 1)
  const double r = radius;
  const double k = kArc * r;
  using K = Segment::Kind;
  const auto at = [&](double x, double y) { return Spot{middle.x + x, middle.y + y}; };
  return {{.kind = K::kMove, .to = at(r, 0)},
          {K::kCurve, at(0, r), at(r, k), at(k, r)},
          {K::kCurve, at(-r, 0), at(-k, r), at(-r, k)},
          {K::kCurve, at(0, -r), at(-r, -k), at(-k, -r)},
          {K::kCurve, at(r, 0), at(k, -r), at(r, -k)},
          {.kind = K::kClose}};
}

}  // namespace drawoff::paper
