#include "machine/readings.h"

#include <gtest/gtest.h>

#include <cmath>

#include "machine/example_entry_test.h"
#include "machine/example_test.h"
#include "machine/tolerances.h"
#include "water/conductivity.h"

namespace drawoff::machine {
namespace {

class Readings : public testing::Test {
 protected:
  Readings()
      : feed_(feed_of({.composition = hard_water(), .temperature = units::celsius(18)})),
        specimen_(nominal(full_plates(), feed_).specimen) {}

  PointValues values(const Condition& c) const { return values_at(specimen_, feed_, c); }
  static double at(const PointValues& v, Point p) { return v[static_cast<std::size_t>(p)]; }

  Feed feed_;
  Specimen specimen_;
};

TEST_F(Readings, a_jug_fills_faster_than_a_full_tank) {
  const auto jug = values({.product_to = ProductVessel::kJug});
  const auto tank =
      values({.product_to = ProductVessel::kTank, .vessel_pressure = units::bar(2.5)});
  EXPECT_GT(at(jug, Point::kProductFlow), 1.1 * at(tank, Point::kProductFlow));
  EXPECT_LT(at(jug, Point::kPermeateQuality), at(tank, Point::kPermeateQuality));
}

TEST_F(Readings, with_the_blend_shut_the_product_is_the_permeate) {
  const auto shut = values({.product_to = ProductVessel::kJug, .blend = BlendState::kShut});
  EXPECT_DOUBLE_EQ(at(shut, Point::kProductQuality), at(shut, Point::kPermeateQuality));
  const auto set = values({.product_to = ProductVessel::kJug});
  EXPECT_GT(at(set, Point::kProductQuality), 1.2 * at(set, Point::kPermeateQuality));
}

TEST_F(Readings, a_pump_switched_off_makes_less) {
  const auto on = values({.product_to = ProductVessel::kJug});
  const auto off = values({.product_to = ProductVessel::kJug, .pump = PumpState::kOff});
  EXPECT_LT(at(off, Point::kProductFlow), 0.6 * at(on, Point::kProductFlow));
  EXPECT_DOUBLE_EQ(at(off, Point::kMembranePressure), at(off, Point::kFilteredPressure));
}

TEST_F(Readings, a_running_machine_has_a_value_at_every_point) {
  for (const double v : values({})) EXPECT_TRUE(std::isfinite(v));
}

TEST_F(Readings, raw_water_is_read_as_it_comes) {
  const auto v = values({});
  EXPECT_DOUBLE_EQ(at(v, Point::kRawQuality), water::conductivity_25(hard_water()).si());
  EXPECT_DOUBLE_EQ(at(v, Point::kTemperature), units::celsius(18).si());
}

// What a machine does not give is not a number: there is no reading to expect.
TEST_F(Readings, without_product_there_is_no_quality_of_it) {
  specimen_.machine.blend.reset();
  const auto v = values({.product_to = ProductVessel::kCooler, .height = units::metre(100)});
  EXPECT_TRUE(std::isnan(at(v, Point::kPermeateQuality)));
  EXPECT_TRUE(std::isnan(at(v, Point::kProductQuality)));
  EXPECT_EQ(at(v, Point::kProductFlow), 0);
  EXPECT_GT(at(v, Point::kRejectFlow), 0);
  EXPECT_NEAR(at(v, Point::kRejectQuality) / at(v, Point::kRawQuality), 1, 1e-12);
}

TEST_F(Readings, where_nothing_flows_only_the_raw_water_is_known) {
  specimen_.machine.blend.reset();
  specimen_.machine.supply.pressure = units::bar(0);
  const auto v = values({.pump = PumpState::kOff});
  EXPECT_TRUE(std::isfinite(at(v, Point::kRawQuality)));
  EXPECT_EQ(at(v, Point::kRejectFlow), 0);
  for (const Point p : {Point::kPermeateQuality, Point::kProductQuality, Point::kRejectQuality}) {
    EXPECT_TRUE(std::isnan(at(v, p)));
  }
}

// A membrane that gives nothing leaves the blend: the product is raw water.
TEST_F(Readings, a_blend_alone_is_raw_water) {
  specimen_.machine.membranes.water = units::Permeability(1e-30);
  specimen_.machine.product_check_valve = units::bar(10);
  const auto v = values({.product_to = ProductVessel::kJug});
  EXPECT_TRUE(std::isnan(at(v, Point::kPermeateQuality)));
  EXPECT_DOUBLE_EQ(at(v, Point::kProductQuality), at(v, Point::kRawQuality));
}

TEST_F(Readings, conditions_change_what_they_name) {
  const Machine m = specimen_.machine;
  const auto jug = in_condition(m, {.product_to = ProductVessel::kJug});
  EXPECT_EQ(jug.product_height, units::metre(0));
  EXPECT_EQ(jug.product_pressure, units::bar(0));
  const auto cooler = in_condition(m, {.product_to = ProductVessel::kCooler});
  EXPECT_EQ(cooler.product_height, m.product_height);
  EXPECT_EQ(cooler.product_pressure, units::bar(0));
  const auto tank = in_condition(m, {.product_to = ProductVessel::kTank});
  EXPECT_EQ(tank.product_pressure, m.product_pressure);
}

// t = 3 V_mixed/Q + V_tube/Q, V_mixed = 0.35 L/m² × 2.6 m² + 0.25 L of one polish filter
// (tolerances.csv, element_sizes.csv), tube 2 m of 4.3 mm: 0.0290 L. At 60 L/h: 3.51 L / 60 L/h.
TEST_F(Readings, settles_after_three_mixed_volumes_and_one_tube) {
  const double mixed = tolerance("permeate_water_volume") * 2.6 + tolerance("filter_water_volume");
  const double tube = 2 * 3.14159265358979 * 0.0043 * 0.0043 / 4 * 1e3;  // [L]
  EXPECT_NEAR(settled_after(full_plates(), units::litre_per_hour(60)) / units::hour(1),
              (3 * mixed + tube) / 60,
              1e-9);
}

}  // namespace
}  // namespace drawoff::machine
