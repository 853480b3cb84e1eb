#include "machine/leaf.h"

#include <gtest/gtest.h>

#include "machine/example_entry_test.h"
#include "machine/example_test.h"
#include "machine/readings.h"

namespace drawoff::machine {
namespace {

struct Row {
  explicit Row(const MachineEntry& entry)
      : feed(feed_of({.composition = hard_water(), .temperature = units::celsius(18)}, entry)),
        specimen(nominal(entry, feed).specimen),
        machine(in_condition(specimen.machine, {})),
        point(operating_point(machine, feed.water, specimen.parameters)),
        stations(along_row(specimen, machine, feed, point)) {}

  Feed feed;
  Specimen specimen;
  Machine machine;
  OperatingPoint<double> point;
  std::vector<LeafStation> stations;
};

// The value at the end of an element of the parabola through its Gauss points.
double parabola_at(const std::array<double, 3>& y, double place) {
  double sum = 0;
  for (std::size_t i = 0; i < 3; ++i) {
    double term = y[i];
    for (std::size_t j = 0; j < 3; ++j) {
      if (j == i) continue;
      term *= (place - membrane::kPlace[j]) / (membrane::kPlace[i] - membrane::kPlace[j]);
    }
    sum += term;
  }
  return sum;
}

// What holds along every row: it carries the flows and strengths of the operating point.
void expect_the_operating_point(const Row& row) {
  const auto& m = row.machine.membranes;
  const auto& s = row.stations;
  ASSERT_EQ(s.size(), static_cast<std::size_t>(kStations * m.in_series));
  double flux = 0;
  for (std::size_t from = 0; from < s.size(); from += kStations) {
    std::array<double, 3> inner{};
    std::array<double, 3> walls{};
    for (std::size_t k = 0; k < 3; ++k) {
      inner[k] = s[from + 1 + k].flux;
      walls[k] = s[from + 1 + k].wall;
      flux += membrane::kWeight[k] * inner[k] / m.in_series;
    }
    // A stream of recovery R grows as 1/(1 − R x); the parabola lacks its third order, R³ times the
    // product of the distances to the three points, 1/20: 0.0021 at R = 0.35, more where the stream
    // has shrunk.
    constexpr double kLacks = 3e-3;
    EXPECT_LT(1 - s[from].strength / s[from + 4].strength, 0.35);  // R, or nearly
    EXPECT_NEAR(parabola_at(inner, 0) / s[from].flux, 1, kLacks);
    EXPECT_NEAR(parabola_at(inner, 1) / s[from + 4].flux, 1, kLacks);
    EXPECT_NEAR(parabola_at(walls, 0) / s[from].wall, 1, kLacks);
    EXPECT_NEAR(parabola_at(walls, 1) / s[from + 4].wall, 1, kLacks);
  }
  const double area = m.channel.area.si() * m.in_series * m.in_parallel;
  // Sums of the same numbers in another order; the operating point's own balances hold to 1e-9.
  EXPECT_NEAR(flux * area / row.point.permeate_flow, 1, 1e-9);
  EXPECT_NEAR(s.front().strength / row.point.feed_salt, 1, 1e-12);
  EXPECT_NEAR(s.back().strength / row.point.reject_salt, 1, 1e-9);
  EXPECT_NEAR(s[s.size() - 2].wall / row.point.wall_salt, 1, 1e-9);
  EXPECT_EQ(s.front().along, 0);
  EXPECT_EQ(s.back().along, 1);
  for (std::size_t i = 0; i < s.size(); ++i) {
    EXPECT_GT(s[i].wall, s[i].strength);
    if (i == 0) continue;
    EXPECT_GE(s[i].along, s[i - 1].along);
    EXPECT_GE(s[i].strength, s[i - 1].strength);
  }
}

TEST(Leaf, one_element) { expect_the_operating_point(Row(full_plates())); }

TEST(Leaf, without_a_pump) {
  auto entry = full_plates();
  entry.pump.reset();
  entry.supply.pressure = units::bar(4);
  expect_the_operating_point(Row(entry));
}

TEST(Leaf, a_like_element_goes_on_where_the_one_before_ended) {
  auto entry = full_plates();
  entry.element.in_series = 2;
  entry.element.in_parallel = 2;
  const Row row(entry);
  expect_the_operating_point(row);
  const auto& end = row.stations[kStations - 1];
  const auto& start = row.stations[kStations];
  EXPECT_EQ(start.along, 0.5);
  EXPECT_EQ(start.along, end.along);
  // One local problem, solved twice.
  EXPECT_EQ(start.strength, end.strength);
  EXPECT_EQ(start.flux, end.flux);
  EXPECT_EQ(start.wall, end.wall);
  for (std::size_t i = 1; i < row.stations.size(); ++i) {
    EXPECT_LE(row.stations[i].flux, row.stations[i - 1].flux);
  }
}

// The stream goes on, the membrane does not.
TEST(Leaf, an_element_of_its_own_sets_off_anew) {
  auto entry = full_plates();
  entry.element.in_series = 2;
  entry.element.positions = {{.water_permeability = 0.5}};
  const Row row(entry);
  expect_the_operating_point(row);
  const auto& end = row.stations[kStations - 1];
  const auto& start = row.stations[kStations];
  EXPECT_EQ(start.strength, end.strength);
  EXPECT_GT(start.flux, 1.5 * end.flux);
}

TEST(Leaf, recirculation_begins_stronger_than_the_raw_water) {
  auto entry = full_plates();
  entry.recirculation = RecirculationEntry{.full_open_flow = units::litre_per_hour(60)};
  const Row row(entry);
  expect_the_operating_point(row);
  ASSERT_GT(row.point.recirculation_flow, 0);
  EXPECT_GT(row.stations.front().strength, 1.02);
}

}  // namespace
}  // namespace drawoff::machine
