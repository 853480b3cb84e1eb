#include "paper/scene.h"

#include <gtest/gtest.h>
#include <rapidcheck.h>

#include <algorithm>
#include <map>

#include "machine/plates_fields.h"
#include "paper/scene_drawing.h"
#include "paper/svg.h"

namespace drawoff::paper {
namespace {

using machine::FilterEntry;
using machine::FilterKind;
using machine::MachineEntry;
using machine::Point;

MachineEntry machine_with(bool pump, bool blend, int filters) {
  MachineEntry m;
  if (pump) m.pump = machine::PumpEntry{};
  if (blend) m.blend = machine::BlendEntry{};
  for (int i = 0; i < filters; ++i) {
    m.filters.push_back({.kind = i % 3 == 2 ? FilterKind::kPolish : FilterKind::kSediment});
  }
  return m;
}

// Any machine that the entry can describe, as far as it is drawn.
rc::Gen<MachineEntry> any_machine() {
  return rc::gen::exec([] {
    const auto chance = [] { return *rc::gen::arbitrary<bool>(); };
    const auto up_to = [](int n) { return *rc::gen::inRange(0, n + 1); };
    MachineEntry m;
    if (chance()) m.raw_tank = machine::RawTankEntry{};
    if (chance()) m.regulator = machine::RegulatorEntry{};
    if (chance()) m.solenoid = machine::SolenoidEntry{};
    if (chance()) m.hydraulic_shut_off = machine::HydraulicShutOffEntry{};
    if (chance()) m.low_pressure_switch = machine::SwitchEntry{};
    if (chance()) m.high_pressure_switch = machine::SwitchEntry{};
    if (chance()) m.flush_valve = machine::FlushValveEntry{};
    if (chance()) m.recirculation = machine::RecirculationEntry{};
    if (chance()) {
      m.pump = machine::PumpEntry{};
      m.pump->kind = static_cast<machine::PumpKind>(up_to(2));
      m.pump->count = 1 + up_to(3);
      m.pump->arrangement = static_cast<machine::Arrangement>(up_to(1));
    }
    if (chance()) {
      m.blend = machine::BlendEntry{};
      m.blend->from = static_cast<machine::BlendFrom>(up_to(2));
    }
    for (int i = up_to(12); i > 0; --i) {
      m.filters.push_back({.kind = static_cast<FilterKind>(up_to(5))});
    }
    m.element.in_series = 1 + up_to(5);
    m.element.in_parallel = 1 + up_to(5);
    m.product.vessel = static_cast<machine::ProductVessel>(up_to(3));
    m.product.coolers.resize(static_cast<std::size_t>(chance() ? up_to(8) : 0));
    return m;
  });
}

rc::Gen<SceneOptions> any_options() {
  return rc::gen::exec([] {
    SceneOptions options{.text = *rc::gen::element(1.0, 1.5, 2.0),
                         .compact = *rc::gen::arbitrary<bool>()};
    for (const Point p : {Point::kTemperature,
                          Point::kFilteredPressure,
                          Point::kMembranePressure,
                          Point::kProductQuality,
                          Point::kProductFlow,
                          Point::kRejectFlow}) {
      if (*rc::gen::inRange(0, 4) == 0) options.left_out.push_back(p);
    }
    return options;
  });
}

struct Line {
  Spot from;
  Spot to;
  bool level() const { return from.y == to.y; }
};

// The straight runs of the pipes, without their dots and arrows.
std::vector<std::vector<Line>> lines_of(const std::vector<Path>& pipes) {
  std::vector<std::vector<Line>> out;
  for (const Path& p : pipes) {
    if (p.fill != Ink::kNone) continue;
    out.emplace_back();
    for (std::size_t i = 1; i < p.segments.size(); ++i) {
      out.back().push_back({p.segments[i - 1].to, p.segments[i].to});
    }
  }
  return out;
}

// Inside both: lines that only meet at an end of one of them join.
bool cross(const Line& a, const Line& b) {
  if (a.level() == b.level()) return false;
  const Line& level = a.level() ? a : b;
  const Line& upright = a.level() ? b : a;
  const auto between = [](double x, double p, double q) {
    return std::min(p, q) < x && x < std::max(p, q);
  };
  return between(upright.from.x, level.from.x, level.to.x) &&
         between(level.from.y, upright.from.y, upright.to.y);
}

// Lie on each other for a length: nobody could tell them apart.
bool together(const Line& a, const Line& b) {
  if (a.level() != b.level()) return false;
  const bool same = a.level() ? a.from.y == b.from.y : a.from.x == b.from.x;
  const auto ends = [](const Line& l) {
    return l.level() ? std::minmax({l.from.x, l.to.x}) : std::minmax({l.from.y, l.to.y});
  };
  const auto [a_low, a_high] = ends(a);
  const auto [b_low, b_high] = ends(b);
  return same && std::max(a_low, b_low) < std::min(a_high, b_high);
}

bool through(const Line& l, const WordSlot& s) {
  return std::max(l.from.x, l.to.x) > s.x && std::min(l.from.x, l.to.x) < s.x + s.width &&
         std::max(l.from.y, l.to.y) > s.y && std::min(l.from.y, l.to.y) < s.y + s.height;
}

std::vector<Point> points_of(const Scene& scene) {
  std::vector<Point> out;
  for (const ScenePoint& p : scene.points) out.push_back(p.point);
  return out;
}

bool apart(const WordSlot& a, const WordSlot& b) {
  return a.x + a.width <= b.x || b.x + b.width <= a.x || a.y + a.height <= b.y ||
         b.y + b.height <= a.y;
}

TEST(Scene, has_a_test_point_only_where_the_machine_has_a_place_for_it) {
  const Scene plain = water_path(machine_with(false, false, 0), {});
  EXPECT_EQ(points_of(plain),
            (std::vector{Point::kTemperature,
                         Point::kRawQuality,
                         Point::kInletPressure,
                         Point::kProductQuality,
                         Point::kProductFlow,
                         Point::kRejectFlow,
                         Point::kRejectQuality}));
  const auto full = points_of(water_path(machine_with(true, true, 3), {}));
  for (const Point p :
       {Point::kFilteredPressure, Point::kMembranePressure, Point::kPermeateQuality}) {
    EXPECT_NE(std::find(full.begin(), full.end(), p), full.end());
  }
}

// Whatever the machine and the size of the words: nothing covers anything, nothing leaves the
// drawing, and the points follow the water downwards.
TEST(Scene, keeps_everything_apart_and_inside) {
  EXPECT_TRUE(rc::check([] {
    const Scene scene = water_path(*any_machine(), *any_options());
    std::vector<WordSlot> slots;
    for (const ScenePart& p : scene.parts) slots.push_back(p.slot);
    for (const ScenePoint& p : scene.points) slots.push_back(p.slot);
    for (std::size_t i = 0; i < slots.size(); ++i) {
      RC_ASSERT(slots[i].x >= 0 && slots[i].y >= 0);
      RC_ASSERT(slots[i].x + slots[i].width <= scene.width);
      RC_ASSERT(slots[i].y + slots[i].height <= scene.height);
      RC_ASSERT(slots[i].width >= 100);
      RC_ASSERT(slots[i].height >= 30);  // a name and a line below it
      for (std::size_t k = 0; k < i; ++k) RC_ASSERT(apart(slots[i], slots[k]));
    }
    for (std::size_t i = 0; i < scene.parts.size(); ++i) {
      const WordSlot& frame = scene.parts[i].frame;
      RC_ASSERT(frame.x >= 0 && frame.x + frame.width <= scene.width);
      RC_ASSERT(frame.y >= 0 && frame.y + frame.height <= scene.height);
      for (const WordSlot& slot : slots) RC_ASSERT(apart(frame, slot));
      for (std::size_t k = 0; k < i; ++k) RC_ASSERT(apart(frame, scene.parts[k].frame));
    }
    for (std::size_t i = 0; i < scene.points.size(); ++i) {
      RC_ASSERT(scene.points[i].order == static_cast<int>(i));
      const bool same_branch = i > 0 && scene.points[i].at.x == scene.points[i - 1].at.x;
      if (same_branch) RC_ASSERT(scene.points[i].at.y > scene.points[i - 1].at.y);
    }
  }));
}

// Pipes join where a dot says so, and nowhere else do they meet; none runs through words.
bool is_clear(const Scene& scene) {
  const auto pipes = lines_of(scene.pipes);
  for (std::size_t i = 0; i < pipes.size(); ++i) {
    for (const Line& a : pipes[i]) {
      if (!a.level() && a.from.x != a.to.x) return false;
      for (std::size_t k = 0; k < i; ++k) {
        for (const Line& b : pipes[k]) {
          if (cross(a, b) || together(a, b)) return false;
        }
      }
      for (const ScenePart& p : scene.parts) {
        if (through(a, p.slot)) return false;
      }
      for (const ScenePoint& p : scene.points) {
        if (through(a, p.slot)) return false;
      }
    }
  }
  return true;
}

TEST(Scene, lets_no_pipe_cross_another_or_run_through_words) {
  EXPECT_TRUE(rc::check([] { RC_ASSERT(is_clear(water_path(*any_machine(), *any_options()))); }));
}

TEST(Scene, is_clear_for_every_combination_of_parts) {
  for (int parts = 0; parts < 1 << 9; ++parts) {
    const auto has = [&](int bit) { return (parts >> bit & 1) == 1; };
    MachineEntry m = machine_with(has(0), false, has(1) ? 3 : 0);
    if (has(2)) m.raw_tank = machine::RawTankEntry{};
    if (has(3)) m.regulator = machine::RegulatorEntry{};
    if (has(3)) m.solenoid = machine::SolenoidEntry{};
    if (has(4)) m.hydraulic_shut_off = machine::HydraulicShutOffEntry{};
    if (has(5)) m.low_pressure_switch = machine::SwitchEntry{};
    if (has(5)) m.high_pressure_switch = machine::SwitchEntry{};
    if (has(6)) m.flush_valve = machine::FlushValveEntry{};
    if (has(7)) m.recirculation = machine::RecirculationEntry{};
    if (has(8)) m.product.coolers.resize(2);
    EXPECT_TRUE(is_clear(water_path(m, {}))) << parts << " without a blend";
    m.blend = machine::BlendEntry{};
    for (const auto& from : fields::EnumTable<machine::BlendFrom>::list) {
      m.blend->from = from.value;
      EXPECT_TRUE(is_clear(water_path(m, {}))) << parts << ", blend from " << from.name;
    }
  }
}

// The parts of the axis stand in the order of the water, and each part of the entry is drawn once.
TEST(Scene, draws_every_part_once_and_in_the_order_of_the_water) {
  EXPECT_TRUE(rc::check([] {
    const MachineEntry m = *any_machine();
    const Scene scene = water_path(m, *any_options());
    std::map<PartKind, std::size_t> drawn;
    std::map<PartKind, double> at;
    for (const ScenePart& p : scene.parts) {
      ++drawn[p.kind];
      at[p.kind] = p.frame.y + p.frame.height / 2;
      RC_ASSERT(!p.shapes.empty());
    }
    const auto after = static_cast<std::size_t>(
        std::count_if(m.filters.begin(), m.filters.end(), [](const FilterEntry& f) {
          return machine::after_membrane(f.kind);
        }));
    const std::pair<PartKind, std::size_t> wanted[] = {
        {PartKind::kSupply, 1},
        {PartKind::kRawTank, m.raw_tank ? 1 : 0},
        {PartKind::kRegulator, m.regulator ? 1 : 0},
        {PartKind::kFilter, m.filters.size() - after},
        {PartKind::kSolenoid, m.solenoid ? 1 : 0},
        {PartKind::kShutOff, m.hydraulic_shut_off ? 1 : 0},
        {PartKind::kRecirculation, m.recirculation ? 1 : 0},
        {PartKind::kLowSwitch, m.low_pressure_switch ? 1 : 0},
        {PartKind::kPump, m.pump ? 1 : 0},
        {PartKind::kMembrane, 1},
        {PartKind::kBlend, m.blend ? 1 : 0},
        {PartKind::kPolish, after},
        {PartKind::kHighSwitch, m.high_pressure_switch ? 1 : 0},
        {PartKind::kVessel, 1},
        {PartKind::kCooler, m.product.coolers.size()},
    };
    double above = 0;
    for (const auto& [kind, count] : wanted) {
      RC_ASSERT(drawn[kind] == count);
      if (count == 0) continue;
      RC_ASSERT(at[kind] > above);
      above = at[kind];
    }
    RC_ASSERT(drawn[PartKind::kRestrictor] == 1U && drawn[PartKind::kDrain] == 1U);
    RC_ASSERT(drawn[PartKind::kFlushValve] == (m.flush_valve ? 1U : 0U));
  }));
}

TEST(Scene, draws_further_elements_and_pumps_so_that_they_can_be_counted) {
  MachineEntry m = machine_with(true, false, 0);
  const auto shapes_of = [&](PartKind kind) {
    const Scene scene = water_path(m, {});
    return std::find_if(scene.parts.begin(),
                        scene.parts.end(),
                        [&](const ScenePart& p) { return p.kind == kind; })
        ->shapes.size();
  };
  const std::size_t one = shapes_of(PartKind::kMembrane);
  const std::size_t pump = shapes_of(PartKind::kPump);
  m.element.in_series = 3;
  m.element.in_parallel = 2;
  m.pump->count = 2;
  // Five more diagonals and three more walls between the six.
  EXPECT_EQ(shapes_of(PartKind::kMembrane), one + 5 + 3);
  EXPECT_GT(shapes_of(PartKind::kPump), pump);
}

TEST(Scene, grows_with_the_words_and_leaves_out_what_it_is_told) {
  const MachineEntry m = machine_with(true, true, 3);
  const Scene usual = water_path(m, {});
  EXPECT_GT(water_path(m, {.text = 2}).height, 2 * usual.height);
  EXPECT_LT(water_path(m, {.compact = true}).height, usual.height);
  const Scene fewer = water_path(m, {.left_out = {Point::kRejectFlow, Point::kRawQuality}});
  EXPECT_EQ(fewer.points.size(), usual.points.size() - 2);
}

TEST(Scene, gives_words_that_wrap_the_room_that_they_need) {
  const MachineEntry m = machine_with(true, true, 3);
  const Scene tight = water_path(m, {.compact = true});
  std::vector<PartWords> parts(tight.parts.size());
  for (PartWords& p : parts)
    p = {.name = "a name that wraps beside a pipe", .detail = "and more of it, also to wrap"};
  std::vector<PointWords> points(tight.points.size());
  for (PointWords& p : points) {
    p = {.name = "a point with a long name, by meter",
         .reading = "31 ppm",
         .gauge = Gauge{0, 1, 0.5}};
  }
  const Rooms rooms = rooms_of(tight, parts, points, nullptr);
  const Scene scene =
      water_path(m, {.compact = true, .part_rooms = rooms.parts, .point_rooms = rooms.points});
  for (std::size_t i = 0; i < scene.points.size(); ++i) {
    EXPECT_GE(scene.points[i].slot.height, rooms.points[i].second);
    EXPECT_EQ(scene.points[i].slot.width, tight.points[i].slot.width);
  }
  for (std::size_t i = 0; i < scene.parts.size(); ++i) {
    const PartKind kind = scene.parts[i].kind;
    if (kind == PartKind::kMembrane || kind == PartKind::kRecirculation) continue;
    EXPECT_GE(scene.parts[i].slot.height, rooms.parts[i]) << static_cast<int>(kind);
  }
}

// "iiii…" is estimated to wrap, and does not: no gap opens under it.
TEST(Scene, measures_words_with_the_fonts_that_set_them) {
  const MachineEntry m = machine_with(false, false, 1);
  const Scene scene = water_path(m, {.compact = true});
  const std::vector<PartWords> parts(scene.parts.size());
  const auto heights = [&](const std::string& name, const Fonts* fonts) {
    const std::vector<PointWords> points(scene.points.size(), {.name = name, .reading = "31"});
    std::vector<double> out;
    for (const auto& room : rooms_of(scene, parts, points, fonts).points) {
      out.push_back(room.second);
    }
    return out;
  };
  const Fonts fonts;
  const std::string narrow = "iiii iiii iiii iiii iiii";
  EXPECT_NE(heights(narrow, nullptr), heights("i", nullptr));
  EXPECT_EQ(heights(narrow, &fonts), heights("i", &fonts));
  const std::string wide = "WWWWWWW WWWWWWW WWWWWWW";
  EXPECT_NE(heights(wide, &fonts), heights("W", &fonts));
}

TEST(Scene, marks_the_part_that_explains_by_shape_and_words) {
  const MachineEntry m = machine_with(true, false, 1);
  const Scene scene = water_path(m, {});
  std::vector<PartWords> parts(scene.parts.size(), {.name = "part", .detail = "plate"});
  const std::vector<PointWords> points(scene.points.size(), {.name = "point"});
  const auto plain = to_svg(scene_drawing(scene, parts, points, 1, nullptr), {.title = "Path"});
  parts[1].explains = "explains the readings";
  const auto marked = to_svg(scene_drawing(scene, parts, points, 1, nullptr), {.title = "Path"});
  EXPECT_EQ(plain.find("--ink-marked"), std::string::npos);
  EXPECT_NE(marked.find("explains"), std::string::npos);
  EXPECT_NE(marked.find("stroke:var(--ink-marked"), std::string::npos);
}

TEST(Svg, escapes_what_people_typed) {
  Drawing d{.width = 10, .height = 10};
  d.items.emplace_back(Words{.at = {1, 2}, .text = "<b>\"A&B\"</b>\x01"});
  const std::string svg = to_svg(d, {.title = "<t>"});
  EXPECT_NE(svg.find("&lt;b&gt;&quot;A&amp;B&quot;&lt;/b&gt;"), std::string::npos);
  EXPECT_EQ(svg.find("<b>"), std::string::npos);
  EXPECT_EQ(svg.find('\x01'), std::string::npos);
  EXPECT_NE(svg.find("<title>&lt;t&gt;</title>"), std::string::npos);
}

TEST(Svg, writes_paths_with_two_decimals) {
  const Path path{.segments = {{.kind = Segment::Kind::kMove, .to = {1, 2.5}},
                               {.kind = Segment::Kind::kLine, .to = {-0.001, 3.14159}},
                               {.kind = Segment::Kind::kClose}}};
  EXPECT_EQ(path_data(path), "M1 2.5 L0 3.14 Z");
}

TEST(Svg, breaks_long_words_to_lines_that_fit) {
  Drawing d{.width = 100, .height = 50};
  d.items.emplace_back(
      Words{.at = {0, 5}, .text = "one two three four five", .size = 4, .width = 20});
  const std::string svg = to_svg(d, {.title = "t"});
  EXPECT_NE(svg.find("y=\"5\""), std::string::npos);
  EXPECT_NE(svg.find("y=\"10\""), std::string::npos);
}

}  // namespace
}  // namespace drawoff::paper
