#include "paper/scene.h"

#include <algorithm>
#include <cmath>

#include "paper/outline.h"

namespace drawoff::paper {

namespace {

using machine::FilterKind;
using machine::MachineEntry;
using machine::Point;

// ---- Places [units] ----

constexpr double kAxis = 70;     // of the water to the product
constexpr double kBlendAt = 22;  // of the branch that passes the membrane
constexpr double kRejectAt = 226;
constexpr double kWordsAt = 100;        // beside the axis
constexpr double kRejectWordsAt = 250;  // beside the reject
constexpr double kEdge = 4;
constexpr double kTop = 14;
// A row holds two lines for a part, and name, value and scale for a point.
constexpr double kPartRow = 56;
constexpr double kPointRow = 74;
constexpr double kNarrowRow = 114;  // beside the reject, where words wrap
constexpr double kCompactRow = 50;
constexpr double kMembraneMore = 20;  // the reject leaves below its words

constexpr double kLineWidth = 2;
constexpr double kPipeWidth = 3;

Stroke outline() { return {.ink = Ink::kLine, .width = kLineWidth}; }
Stroke pipe(Ink ink, bool dashed = false) {
  return {.ink = ink, .width = kPipeWidth, .dashed = dashed};
}

// ---- Shapes ----

Segment move(double x, double y) { return {.kind = Segment::Kind::kMove, .to = {x, y}}; }
Segment line(double x, double y) { return {.kind = Segment::Kind::kLine, .to = {x, y}}; }

Path run(const std::vector<Spot>& spots, const Stroke& stroke) {
  return {.segments = polyline(spots), .stroke = stroke};
}

// A part's body: outlined, and hiding the pipe below.
Path body(std::vector<Segment> segments, Ink fill = Ink::kPaper) {
  return {.segments = std::move(segments), .stroke = outline(), .fill = fill};
}

Path polygon(const std::vector<Spot>& spots, Ink fill = Ink::kPaper) {
  Path path = body(polyline(spots), fill);
  path.segments.push_back({.kind = Segment::Kind::kClose});
  return path;
}

Path box(const Spot& middle, double width, double height) {
  return body(rectangle(
      {.at = {middle.x - width / 2, middle.y - height / 2}, .width = width, .height = height}));
}

// Two triangles tip to tip, the flow through them vertical or horizontal.
Path valve(const Spot& m, bool across) {
  constexpr double kLong = 11;
  constexpr double kWide = 8;
  return across ? polygon({{m.x - kLong, m.y - kWide},
                           {m.x + kLong, m.y + kWide},
                           {m.x + kLong, m.y - kWide},
                           {m.x - kLong, m.y + kWide}})
                : polygon({{m.x - kWide, m.y - kLong},
                           {m.x + kWide, m.y - kLong},
                           {m.x - kWide, m.y + kLong},
                           {m.x + kWide, m.y + kLong}});
}

// ---- The layout, from the top down ----

class Layout {
 public:
  Layout(const MachineEntry& entry, const SceneOptions& options)
      : entry_(entry),
        options_(options),
        // Words of twice the size in the same width need four times the room; few fill theirs.
        grow_(std::pow(std::clamp(options.text, 1.0, 2.0), 1.6)),
        part_row_(options.compact ? kCompactRow : kPartRow),
        point_row_(options.compact ? kCompactRow : kPointRow),
        narrow_row_(options.compact ? kCompactRow : kNarrowRow) {}

  Scene make() {
    supply();
    const double filtered = pre_filters();
    pump();
    const double membrane = membrane_at(y_);
    this->membrane();
    const double below = y_;
    const double reject_end = reject(membrane, below);
    product(filtered, membrane, below);
    scene_.height = std::max(y_, reject_end) + kEdge;
    for (std::size_t i = 0; i < scene_.points.size(); ++i) {
      scene_.points[i].order = static_cast<int>(i);
    }
    return std::move(scene_);
  }

 private:
  // A part of the axis in a row of its own; the frame is that of its symbol.
  ScenePart& part(PartKind kind, const WordSlot& frame, const WordSlot& slot) {
    scene_.parts.push_back({.kind = kind, .frame = frame, .slot = slot});
    return scene_.parts.back();
  }
  static WordSlot around(const Spot& m, double width, double height) {
    return {m.x - width / 2, m.y - height / 2, width, height};
  }
  double row(double height) {
    const double top = y_;
    y_ += height * grow_;
    return top;
  }
  WordSlot words(double x, double top, double height, double right) const {
    return {x, top, right - x, height * grow_};
  }
  bool left_out(Point p) const {
    return std::find(options_.left_out.begin(), options_.left_out.end(), p) !=
           options_.left_out.end();
  }
  void point(Point p, const Spot& at, const WordSlot& slot) {
    scene_.points.push_back({.point = p, .at = at, .slot = slot});
  }
  // A test point on the axis, in a row of its own.
  void axis_point(Point p, double right) {
    if (left_out(p)) return;
    const double height = right < kRight ? narrow_row_ : point_row_;
    const double top = row(height);
    point(p, {kAxis, top + 22}, words(kWordsAt, top, height, right));
  }
  void axis_part(PartKind kind,
                 std::size_t filter,
                 double right,
                 double width,
                 double height,
                 std::vector<Path> (*symbol)(const Spot&)) {
    const double top = row(part_row_);
    const Spot m{kAxis, top + part_row_ / 2};
    ScenePart& p =
        part(kind, around(m, width, height), words(kWordsAt, top + 8, part_row_ - 8, right));
    p.filter = filter;
    p.shapes = symbol(m);
  }

  static constexpr double kRight = kSceneWidth - kEdge;

  void supply() {
    y_ = kTop;
    top_ = y_;
    axis_part(PartKind::kSupply, 0, kRight, 24, 28, [](const Spot& m) {
      return std::vector{valve(m, false)};
    });
    axis_point(Point::kTemperature, kRight);
    axis_point(Point::kRawQuality, kRight);
    axis_point(Point::kInletPressure, kRight);
  }

  static std::vector<Path> filter_symbol(const Spot& m) {
    return {box(m, 36, 36),
            run({{m.x - 18, m.y + 18}, {m.x + 18, m.y - 18}},
                {.ink = Ink::kLine, .width = 1.5, .dashed = true})};
  }

  // Returns where the blend leaves the axis.
  double pre_filters() {
    bool any = false;
    for (std::size_t i = 0; i < entry_.filters.size(); ++i) {
      if (entry_.filters[i].kind == FilterKind::kPolish) continue;
      axis_part(PartKind::kFilter, i, kRight, 36, 36, &filter_symbol);
      any = true;
    }
    if (any) axis_point(Point::kFilteredPressure, kRight);
    const double leaves = y_ + 4;
    if (entry_.blend) y_ += 10;
    return leaves;
  }

  void pump() {
    if (!entry_.pump) return;
    axis_part(PartKind::kPump, 0, kRight, 40, 40, [](const Spot& m) {
      // The triangle points the way of the water.
      return std::vector{
          body(circle(m, 20)),
          polygon({{m.x - 17.3, m.y - 10}, {m.x + 17.3, m.y - 10}, {m.x, m.y + 20}}, Ink::kNone)};
    });
    axis_point(Point::kMembranePressure, kRight);
  }

  // The reject leaves it below its own words.
  double membrane_at(double top) const { return top + (part_row_ / 2 + 10) * grow_; }
  void membrane() {
    const double top = row(part_row_ + kMembraneMore);
    const double h = 44;
    const Spot m{kAxis, top + part_row_ / 2};
    ScenePart& p = part(PartKind::kMembrane,
                        around(m, 76, h),
                        {kWordsAt + 20, top, kRight - kWordsAt - 20, (part_row_ / 2 + 6) * grow_});
    p.shapes = {box(m, 76, h), run({{m.x - 38, m.y + h / 2}, {m.x + 38, m.y - h / 2}}, outline())};
  }

  // From the membrane's right end across and down. Returns where it ends.
  double reject(double from, double below) {
    const double saved = y_;
    y_ = below;
    const std::size_t before = scene_.points.size();
    const auto beside = [&](double top, double height) {
      return words(kRejectWordsAt, top, height, kRight);
    };
    {
      const double top = row(part_row_);
      const Spot m{kRejectAt, top + part_row_ / 2};
      ScenePart& p = part(PartKind::kRestrictor, around(m, 28, 36), beside(top + 8, part_row_ - 8));
      // Two plates with a narrow way between two facing wedges.
      p.shapes = {run({{m.x - 12, m.y - 16}, {m.x + 12, m.y - 16}}, outline()),
                  run({{m.x - 12, m.y + 16}, {m.x + 12, m.y + 16}}, outline()),
                  polygon({{m.x - 12, m.y - 11}, {m.x - 3, m.y}, {m.x - 12, m.y + 11}}),
                  polygon({{m.x + 12, m.y - 11}, {m.x + 3, m.y}, {m.x + 12, m.y + 11}})};
    }
    for (const Point p : {Point::kRejectFlow, Point::kRejectQuality}) {
      if (left_out(p)) continue;
      const double top = row(narrow_row_);
      point(p, {kRejectAt, top + 22}, beside(top, narrow_row_));
    }
    const double top = row(part_row_);
    const double gap = top + 16;
    ScenePart& drain = part(
        PartKind::kDrain, around({kRejectAt, gap + 18}, 44, 28), beside(top + 8, part_row_ - 8));
    // A funnel with its rim below the tube's end: the air gap is to be seen.
    drain.shapes = {polygon({{kRejectAt - 16, gap + 12},
                             {kRejectAt + 16, gap + 12},
                             {kRejectAt + 9, gap + 24},
                             {kRejectAt - 9, gap + 24}})};
    scene_.pipes.push_back(
        run({{kAxis + 38, from}, {kRejectAt, from}, {kRejectAt, gap}}, pipe(Ink::kReject)));
    // The reject is read after the product: kept aside until then.
    reject_points_.assign(scene_.points.begin() + static_cast<std::ptrdiff_t>(before),
                          scene_.points.end());
    scene_.points.resize(before);
    const double end = y_;
    y_ = saved;
    return end;
  }

  void product(double blend_leaves, double membrane, double below) {
    const double right = kRejectAt - 16;
    y_ = below;
    const bool blended = entry_.blend.has_value();
    if (blended) {
      axis_point(Point::kPermeateQuality, right);
      const double top = row(part_row_);
      const double y = top + 20;
      const Spot m{(kBlendAt + kAxis) / 2, y};
      ScenePart& p =
          part(PartKind::kBlend, around(m, 28, 24), words(kWordsAt, top + 8, part_row_ - 8, right));
      p.shapes = {valve(m, true)};
      scene_.pipes.push_back(
          run({{kAxis, blend_leaves}, {kBlendAt, blend_leaves}, {kBlendAt, y}, {kAxis, y}},
              pipe(Ink::kRaw, true)));
    }
    axis_point(Point::kProductQuality, right);
    for (std::size_t i = 0; i < entry_.filters.size(); ++i) {
      if (entry_.filters[i].kind != FilterKind::kPolish) continue;
      axis_part(PartKind::kPolish, i, right, 36, 36, &filter_symbol);
    }
    axis_point(Point::kProductFlow, right);
    axis_part(PartKind::kVessel, 0, right, 44, 40, [](const Spot& m) {
      return std::vector{
          box(m, 44, 40),
          run({{m.x - 22, m.y - 8}, {m.x + 22, m.y - 8}}, {.ink = Ink::kProduct, .width = 1.5})};
    });
    const double end = y_ - part_row_ * grow_ + 8;
    scene_.pipes.push_back(run({{kAxis, top_ - 10}, {kAxis, membrane}}, pipe(Ink::kRaw)));
    scene_.pipes.push_back(run({{kAxis, membrane}, {kAxis, end}}, pipe(Ink::kProduct)));
    scene_.points.insert(scene_.points.end(), reject_points_.begin(), reject_points_.end());
  }

  const MachineEntry& entry_;
  const SceneOptions& options_;
  double grow_;
  double part_row_;
  double point_row_;
  double narrow_row_;
  double y_ = 0;
  double top_ = 0;
  Scene scene_;
  std::vector<ScenePoint> reject_points_;
};

}  // namespace

Scene water_path(const MachineEntry& entry, const SceneOptions& options) {
  return Layout(entry, options).make();
}

Path corners_around(const WordSlot& frame) {
  constexpr double kAway = 6;
  constexpr double kArm = 8;
  const double l = frame.x - kAway;
  const double t = frame.y - kAway;
  const double r = frame.x + frame.width + kAway;
  const double b = frame.y + frame.height + kAway;
  Path path{.stroke = {.ink = Ink::kMarked, .width = 3}};
  for (const auto& [x, y, dx, dy] : {std::array{l, t, 1.0, 1.0},
                                     std::array{r, t, -1.0, 1.0},
                                     std::array{r, b, -1.0, -1.0},
                                     std::array{l, b, 1.0, -1.0}}) {
    path.segments.push_back(move(x, y + dy * kArm));
    path.segments.push_back(line(x, y));
    path.segments.push_back(line(x + dx * kArm, y));
  }
  return path;
}

}  // namespace drawoff::paper
