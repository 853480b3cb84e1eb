#include "paper/scene.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

#include "paper/outline.h"
#include "paper/scene_symbols.h"

namespace drawoff::paper {

namespace {

using machine::BlendFrom;
using machine::MachineEntry;
using machine::Point;
using symbols::Size;
using symbols::Way;

// ---- Places [units] ----

constexpr double kAxis = 70;  // of the water to the product
// Lanes left of the axis: the branch that passes the membrane, the line that works the shut-off.
constexpr double kInnerLane = 22;
constexpr double kOuterLane = 11;
constexpr double kTrunk = 34;  // to further coolers
constexpr double kRejectAt = 226;
constexpr double kFlushAt = 250;        // beside the restrictor
constexpr double kReturnAt = 352;       // of reject that is led back
constexpr double kWordsAt = 100;        // beside the axis
constexpr double kRejectWordsAt = 250;  // beside the reject
constexpr double kFlushWordsAt = 262;
constexpr double kEdge = 4;
constexpr double kRight = kSceneWidth - kEdge;
constexpr double kProductRight = kRejectAt - 16;
constexpr double kReturnRight = kReturnAt - 12;
constexpr double kTop = 14;
// A row holds two lines for a part, and name, value and scale for a point.
constexpr double kPartRow = 56;
constexpr double kNarrowPartRow = 66;  // where a name may take two lines
constexpr double kPointRow = 74;
constexpr double kNarrowRow = 114;  // beside the reject, where words wrap
constexpr double kCompactRow = 50;
constexpr double kCompactNarrowPartRow = 60;
constexpr double kUnderMembrane = 36;  // below the reject: the box's foot and the check valve
constexpr double kBranch = 14;         // room in which a branch leaves or joins

Stroke pipe(Ink ink, bool dashed = false) { return {.ink = ink, .width = 3, .dashed = dashed}; }

Path run(const std::vector<Spot>& spots, const Stroke& stroke) {
  return {.segments = polyline(spots), .stroke = stroke};
}

WordSlot around(const Spot& m, const Size& size) {
  return {m.x - size.width / 2, m.y - size.height / 2, size.width, size.height};
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
        narrow_part_row_(options.compact ? kCompactNarrowPartRow : kNarrowPartRow),
        point_row_(options.compact ? kCompactRow : kPointRow),
        narrow_row_(options.compact ? kCompactRow : kNarrowRow) {}

  Scene make() {
    supply();
    filters();
    blend_leaves(BlendFrom::kBeforePump);
    inlet_valves();
    blend_leaves(BlendFrom::kAfterSolenoid);
    reject_returns();
    pump();
    blend_leaves(BlendFrom::kPressurised);
    membrane();
    const double below = y_;
    const std::vector<ScenePoint> reject_points = reject();
    const double reject_end = y_;
    y_ = below;
    product();
    scene_.height = std::max(y_, reject_end) + kEdge;
    scene_.points.insert(scene_.points.end(), reject_points.begin(), reject_points.end());
    for (std::size_t i = 0; i < scene_.points.size(); ++i) {
      scene_.points[i].order = static_cast<int>(i);
    }
    for (Path& j : joints_) scene_.pipes.push_back(std::move(j));
    return std::move(scene_);
  }

 private:
  double row(double height) {
    const double top = y_;
    y_ += height * grow_;
    return top;
  }
  double branch() {
    const double at = y_ + kBranch / 2;
    y_ += kBranch;
    return at;
  }
  WordSlot words(double x, double top, double height) const {
    return {x, top, right_ - x, height * grow_};
  }
  ScenePart& add(PartKind kind, const WordSlot& frame, const WordSlot& slot) {
    scene_.parts.push_back({.kind = kind, .frame = frame, .slot = slot});
    return scene_.parts.back();
  }
  void join(const Spot& at, Ink ink) { joints_.push_back(symbols::joint(at, ink)); }
  void lay(const std::vector<Spot>& spots, const Stroke& stroke) {
    scene_.pipes.push_back(run(spots, stroke));
  }
  bool left_out(Point p) const {
    return std::find(options_.left_out.begin(), options_.left_out.end(), p) !=
           options_.left_out.end();
  }
  // A test point, in a row of its own.
  void point(Point p, double at, double words_at) {
    if (left_out(p)) return;
    double height = narrow() ? narrow_row_ : point_row_;
    for (const auto& [known, room] : options_.point_rooms) {
      if (known == p) height = std::max(height, room);
    }
    const double top = row(height);
    scene_.points.push_back(
        {.point = p, .at = {at, top + 22}, .slot = words(words_at, top, height)});
  }
  void axis_point(Point p) { point(p, kAxis, kWordsAt); }
  bool narrow() const { return right_ == kProductRight || words_beside_reject_; }
  // A part in a row of its own. `symbol` makes its shapes around a middle.
  template <class Symbol>
  ScenePart& part(PartKind kind, Spot middle, double words_at, const Size& size, Symbol symbol) {
    const double height = with_room(narrow() && kind_wraps(kind) ? narrow_part_row_ : part_row_);
    const double top = row(height);
    middle.y = top + part_row_ / 2;
    ScenePart& p = add(kind, around(middle, size), words(words_at, top + 8, height - 8));
    p.shapes = symbol(middle);
    return p;
  }
  // The height of a row for the part that is added next, whose words begin 8 below its top.
  double with_room(double height) const {
    const std::size_t next = scene_.parts.size();
    return next < options_.part_rooms.size() ? std::max(height, 8 + options_.part_rooms[next])
                                             : height;
  }
  template <class Symbol>
  ScenePart& axis_part(PartKind kind, const Size& size, Symbol symbol) {
    return part(kind, {kAxis, 0}, kWordsAt, size, symbol);
  }
  static bool kind_wraps(PartKind kind) {
    return kind == PartKind::kPolish || kind == PartKind::kHighSwitch ||
           kind == PartKind::kFlushValve || kind == PartKind::kCooler;
  }
  // A part whose symbol reaches from the axis to the left.
  template <class Symbol>
  ScenePart& driven_part(PartKind kind, Symbol symbol) {
    ScenePart& p = axis_part(kind, symbols::kDriven, symbol);
    p.frame.x = kAxis - 34;
    return p;
  }

  void supply() {
    y_ = kTop;
    axis_part(PartKind::kSupply, symbols::kValve, [](const Spot& m) {
      return symbols::valve(m, symbols::Flow::kDown);
    });
    if (entry_.raw_tank) axis_part(PartKind::kRawTank, symbols::kTank, symbols::raw_tank);
    axis_point(Point::kTemperature);
    axis_point(Point::kRawQuality);
    axis_point(Point::kInletPressure);
    if (entry_.regulator) driven_part(PartKind::kRegulator, symbols::regulator);
  }

  // True if there was one.
  bool filters_where(bool after) {
    bool any = false;
    for (std::size_t i = 0; i < entry_.filters.size(); ++i) {
      const machine::FilterKind kind = entry_.filters[i].kind;
      if (machine::after_membrane(kind) != after) continue;
      axis_part(after ? PartKind::kPolish : PartKind::kFilter,
                symbols::kFilter,
                [&](const Spot& m) { return symbols::filter(kind, m); })
          .index = i;
      any = true;
    }
    return any;
  }
  void filters() {
    if (filters_where(false)) axis_point(Point::kFilteredPressure);
  }

  void blend_leaves(BlendFrom from) {
    if (!entry_.blend || entry_.blend->from != from) return;
    blend_leaves_ = branch();
    join({kAxis, blend_leaves_}, Ink::kRaw);
  }

  void inlet_valves() {
    if (entry_.solenoid) driven_part(PartKind::kSolenoid, symbols::solenoid);
    if (!entry_.hydraulic_shut_off) return;
    const WordSlot& frame = driven_part(PartKind::kShutOff, symbols::shut_off).frame;
    shut_off_ = {frame.x, frame.y + frame.height / 2};
  }

  void reject_returns() {
    if (!entry_.recirculation) return;
    right_ = kReturnRight;
    const double top = y_;
    returns_ = top + 16;
    const Spot m{kAxis + 50, returns_};
    const double words_top = returns_ + 14;
    ScenePart& p = add(PartKind::kRecirculation,
                       around(m, symbols::kLevelValve),
                       words(kWordsAt, words_top, part_row_ - 16));
    p.shapes = symbols::valve(m, symbols::Flow::kAcross);
    y_ = words_top + (part_row_ - 16) * grow_;
  }

  void pump() {
    if (entry_.low_pressure_switch) pressure_switch(PartKind::kLowSwitch, symbols::Trips::kBelow);
    if (!entry_.pump) return;
    axis_part(PartKind::kPump, symbols::size_of(*entry_.pump), [&](const Spot& m) {
      return symbols::pump(*entry_.pump, m);
    });
    axis_point(Point::kMembranePressure);
  }
  void pressure_switch(PartKind kind, symbols::Trips trips) {
    constexpr double kAside = 30;
    part(kind, {kAxis - kAside, 0}, kWordsAt, symbols::kSwitch, [&](const Spot& m) {
      return symbols::pressure_switch(trips, m, {kAxis, m.y});
    });
  }

  // Its words stand above the reject, which leaves it to the right.
  void membrane() {
    const double top = y_;
    reject_from_ = top + (part_row_ / 2 + 10) * grow_;
    const Spot m{kAxis, reject_from_ - 10};
    const double x = kWordsAt + 20;
    ScenePart& p = add(PartKind::kMembrane,
                       around(m, symbols::kMembrane),
                       {x, top, right_ - x, reject_from_ - 4 - top});
    p.shapes = symbols::membrane(entry_.element, m);
    if (entry_.product.check_valve.si() > 0) {
      for (Path& s : symbols::check_valve({kAxis, reject_from_ + 24})) {
        p.shapes.push_back(std::move(s));
      }
    }
    y_ = reject_from_ + kUnderMembrane;
    right_ = kRight;
  }

  // Across and down. Its points are read after the product's: they are given back, not kept.
  std::vector<ScenePoint> reject() {
    const std::size_t before = scene_.points.size();
    words_beside_reject_ = true;
    const double first_words = entry_.flush_valve ? kFlushWordsAt : kRejectWordsAt;
    const double flush_from = y_ + 4;
    part(PartKind::kRestrictor,
         {kRejectAt, 0},
         first_words,
         symbols::kRestrictor,
         symbols::restrictor);
    if (entry_.flush_valve) flush_valve(flush_from);
    point(Point::kRejectFlow, kRejectAt, kRejectWordsAt);
    point(Point::kRejectQuality, kRejectAt, kRejectWordsAt);
    // The rim lies below the tube's end: the air gap is to be seen.
    const double gap = y_ + 16;
    const double height = with_room(part_row_);
    const double top = row(height);
    add(PartKind::kDrain,
        around({kRejectAt, gap + 18}, symbols::kFunnel),
        words(kRejectWordsAt, top + 8, height - 8))
        .shapes = symbols::funnel({kRejectAt, gap + 18});
    lay({{kAxis + symbols::kMembrane.width / 2, reject_from_},
         {kRejectAt, reject_from_},
         {kRejectAt, gap}},
        pipe(Ink::kReject));
    if (entry_.recirculation) {
      lay({{kRejectAt, reject_from_},
           {kReturnAt, reject_from_},
           {kReturnAt, returns_},
           {kAxis, returns_}},
          pipe(Ink::kReject));
      join({kRejectAt, reject_from_}, Ink::kReject);
      join({kAxis, returns_}, Ink::kReject);
      joints_.push_back(symbols::arrow({kAxis + 20, returns_}, Way::kLeft, Ink::kReject));
    }
    words_beside_reject_ = false;
    std::vector<ScenePoint> points(scene_.points.begin() + static_cast<std::ptrdiff_t>(before),
                                   scene_.points.end());
    scene_.points.resize(before);
    return points;
  }

  void flush_valve(double from) {
    const WordSlot frame =
        part(PartKind::kFlushValve,
             {kFlushAt, 0},
             kFlushWordsAt,
             {16, symbols::kValve.height},
             [](const Spot& m) { return symbols::valve(m, symbols::Flow::kDown); })
            .frame;
    const double to = frame.y + frame.height + 6;
    lay({{kRejectAt, from}, {kFlushAt, from}, {kFlushAt, to}, {kRejectAt, to}}, pipe(Ink::kReject));
    join({kRejectAt, from}, Ink::kReject);
    join({kRejectAt, to}, Ink::kReject);
  }

  // The product's pressure works the shut-off along a thin line in a lane of its own. Where the
  // blend leaves before the shut-off its lane lies outside, so the thin line must come first.
  bool shut_off_inside() const {
    return shut_off_ && entry_.blend && entry_.blend->from == BlendFrom::kBeforePump;
  }
  void shut_off_line() {
    const double lane = entry_.blend && !shut_off_inside() ? kOuterLane : kInnerLane;
    const double y = branch();
    lay({*shut_off_, {lane, shut_off_->y}, {lane, y}, {kAxis, y}},
        {.ink = Ink::kProduct, .width = 1.5, .dashed = true});
    join({kAxis, y}, Ink::kProduct);
  }

  void blend() {
    if (!entry_.blend) return;
    axis_point(Point::kPermeateQuality);
    const double height = with_room(part_row_);
    const double top = row(height);
    const double y = top + 20;
    const double lane = shut_off_inside() ? kOuterLane : kInnerLane;
    const Spot m{(kInnerLane + kAxis) / 2, y};
    ScenePart& p = add(
        PartKind::kBlend, around(m, symbols::kLevelValve), words(kWordsAt, top + 8, height - 8));
    p.shapes = symbols::valve(m, symbols::Flow::kAcross);
    if (entry_.blend->check_valve.si() > 0) {
      for (Path& s : symbols::check_valve({lane, y - 22})) p.shapes.push_back(std::move(s));
    }
    lay({{kAxis, blend_leaves_}, {lane, blend_leaves_}, {lane, y}, {kAxis, y}},
        pipe(Ink::kRaw, true));
    join({kAxis, y}, Ink::kProduct);
  }

  void product() {
    right_ = kProductRight;
    if (shut_off_ && shut_off_inside()) shut_off_line();
    blend();
    axis_point(Point::kProductQuality);
    filters_where(true);
    if (shut_off_ && !shut_off_inside()) shut_off_line();
    if (entry_.high_pressure_switch) {
      pressure_switch(PartKind::kHighSwitch, symbols::Trips::kAbove);
    }
    axis_point(Point::kProductFlow);
    vessels();
  }

  void vessels() {
    const auto inlet = [](const WordSlot& frame) { return frame.y - 3; };
    const WordSlot first = axis_part(PartKind::kVessel, symbols::kVessel, [&](const Spot& m) {
                             return symbols::vessel(entry_.product.vessel, m);
                           }).frame;
    lay({{kAxis, kTop - 10}, {kAxis, reject_from_}}, pipe(Ink::kRaw));
    lay({{kAxis, reject_from_}, {kAxis, first.y}}, pipe(Ink::kProduct));
    double from = inlet(first);
    for (std::size_t i = 0; i < entry_.product.coolers.size(); ++i) {
      ScenePart& p = axis_part(PartKind::kCooler, symbols::kVessel, [](const Spot& m) {
        return symbols::vessel(machine::ProductVessel::kCooler, m);
      });
      p.index = i;
      const double to = inlet(p.frame);
      const double x = i == 0 ? kAxis : kTrunk;  // the first branch leaves the axis itself
      lay({{x, from}, {kTrunk, from}, {kTrunk, to}, {kAxis, to}, {kAxis, p.frame.y}},
          pipe(Ink::kProduct));
      join({x, from}, Ink::kProduct);
      from = to;
    }
  }

  const MachineEntry& entry_;
  const SceneOptions& options_;
  double grow_;
  double part_row_;
  double narrow_part_row_;
  double point_row_;
  double narrow_row_;
  double y_ = 0;
  double right_ = kRight;  // where words must end
  bool words_beside_reject_ = false;
  double blend_leaves_ = 0;
  double returns_ = 0;            // where led-back reject joins
  double reject_from_ = 0;        // where reject leaves the membrane
  std::optional<Spot> shut_off_;  // where its line begins
  std::vector<Path> joints_;
  Scene scene_;
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
    path.segments.push_back({.kind = Segment::Kind::kMove, .to = {x, y + dy * kArm}});
    path.segments.push_back({.kind = Segment::Kind::kLine, .to = {x, y}});
    path.segments.push_back({.kind = Segment::Kind::kLine, .to = {x + dx * kArm, y}});
  }
  return path;
}

}  // namespace drawoff::paper
