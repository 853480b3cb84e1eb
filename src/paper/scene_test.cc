#include "paper/scene.h"

#include <gtest/gtest.h>
#include <rapidcheck.h>

#include <algorithm>

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
// drawing, and the product's points follow the water downwards.
TEST(Scene, keeps_everything_apart_and_inside) {
  rc::check([] {
    const MachineEntry m = machine_with(
        *rc::gen::arbitrary<bool>(), *rc::gen::arbitrary<bool>(), *rc::gen::inRange(0, 13));
    const SceneOptions options{.text = *rc::gen::element(1.0, 1.3, 1.6, 2.0),
                               .compact = *rc::gen::arbitrary<bool>()};
    const Scene scene = water_path(m, options);
    std::vector<WordSlot> slots;
    for (const ScenePart& p : scene.parts) slots.push_back(p.slot);
    for (const ScenePoint& p : scene.points) slots.push_back(p.slot);
    for (std::size_t i = 0; i < slots.size(); ++i) {
      RC_ASSERT(slots[i].x >= 0 && slots[i].y >= 0);
      RC_ASSERT(slots[i].x + slots[i].width <= scene.width);
      RC_ASSERT(slots[i].y + slots[i].height <= scene.height);
      RC_ASSERT(slots[i].width >= 100);
      for (std::size_t k = 0; k < i; ++k) RC_ASSERT(apart(slots[i], slots[k]));
    }
    for (std::size_t i = 0; i < scene.points.size(); ++i) {
      RC_ASSERT(scene.points[i].order == static_cast<int>(i));
      const bool same_branch = i > 0 && scene.points[i].at.x == scene.points[i - 1].at.x;
      if (same_branch) RC_ASSERT(scene.points[i].at.y > scene.points[i - 1].at.y);
    }
  });
}

TEST(Scene, grows_with_the_words_and_leaves_out_what_it_is_told) {
  const MachineEntry m = machine_with(true, true, 3);
  const Scene usual = water_path(m, {});
  EXPECT_GT(water_path(m, {.text = 2}).height, 2 * usual.height);
  EXPECT_LT(water_path(m, {.compact = true}).height, usual.height);
  const Scene fewer = water_path(m, {.left_out = {Point::kRejectFlow, Point::kRawQuality}});
  EXPECT_EQ(fewer.points.size(), usual.points.size() - 2);
}

TEST(Scene, marks_the_part_that_explains_by_shape_and_words) {
  const MachineEntry m = machine_with(true, false, 1);
  const Scene scene = water_path(m, {});
  std::vector<PartWords> parts(scene.parts.size(), {.name = "part", .detail = "plate"});
  const std::vector<PointWords> points(scene.points.size(), {.name = "point"});
  const auto plain = to_svg(scene_drawing(scene, parts, points, 1), {.title = "Path"});
  parts[1].explains = "explains the readings";
  const auto marked = to_svg(scene_drawing(scene, parts, points, 1), {.title = "Path"});
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
