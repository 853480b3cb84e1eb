#include "machine/leaf.h"

#include <gtest/gtest.h>

#include "machine/example_entry_test.h"
#include "machine/example_test.h"
#include "machine/readings.h"

namespace drawoff::machine {
namespace {

// The element's own figures: wall at its last point, mean flux. Both are solved to rounding; the
// wall's own iteration leaves 1e-9 of it.
TEST(Leaf, agrees_with_each_element) {
  auto entry = full_plates();
  entry.element.in_series = 2;
  const Feed feed =
      feed_of({.composition = hard_water(), .temperature = units::celsius(18)}, entry);
  const Specimen specimen = nominal(entry, feed).specimen;
  const Machine machine = in_condition(specimen.machine, {});
  const auto point = operating_point(machine, feed.water, specimen.parameters);
  const auto n = network::network(machine, feed.water, specimen.parameters);
  const auto elements = row_at(n, point);
  const auto stations = along_row(specimen, machine, feed, point);
  ASSERT_EQ(elements.size(), 2U);
  ASSERT_EQ(stations.size(), 6U);
  double permeate = 0;
  for (std::size_t i = 0; i < 2; ++i) {
    double mean = 0;
    for (std::size_t k = 0; k < 3; ++k) mean += membrane::kWeight[k] * stations[3 * i + k].flux;
    EXPECT_NEAR(mean / elements[i].flux, 1, 1e-12);
    EXPECT_NEAR(stations[3 * i + 2].wall / elements[i].wall_salt, 1, 1e-9);
    permeate += elements[i].permeate_flow;
  }
  EXPECT_NEAR(permeate * machine.membranes.in_parallel / point.permeate_flow, 1, 1e-9);
  for (std::size_t i = 1; i < stations.size(); ++i) {
    EXPECT_GT(stations[i].along, stations[i - 1].along);
    EXPECT_LT(stations[i].flux, stations[i - 1].flux);
  }
  EXPECT_GT(stations.back().wall, 1);
  EXPECT_LT(stations.back().along, 1);
}

}  // namespace
}  // namespace drawoff::machine
