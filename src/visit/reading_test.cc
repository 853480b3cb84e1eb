#include "visit/reading.h"

#include <gtest/gtest.h>

#include <cmath>

#include "fields/json.h"
#include "fields/read.h"
#include "messages/catalogue.h"
#include "numerics/random.h"

namespace drawoff::visit {
namespace {

using machine::Point;

ReadingEntry of(Point point, double value, ReadingUnit unit) {
  return {.point = point, .value = value, .unit = unit};
}

TEST(Reading, comes_to_si_and_back_as_the_instrument_shows_it) {
  const auto flow = of(Point::kProductFlow, 165, ReadingUnit::kMlMin);
  EXPECT_NEAR(measured(flow).value, 165e-6 / 60, 1e-18);
  EXPECT_NEAR(as_shown(measured(flow).value, flow), 165, 1e-9);
  const auto gauge = of(Point::kMembranePressure, 75, ReadingUnit::kPsi);
  EXPECT_NEAR(measured(gauge).value, 75 * 6894.757293168, 1e-6);  // psi by NIST SP 811
  const auto warm = of(Point::kTemperature, 59, ReadingUnit::kFahrenheit);
  EXPECT_NEAR(measured(warm).value, 288.15, 1e-9);
}

// 38 ppm on the half scale is 76 µS/cm, on the other 54.3: never 38 mg/L.
TEST(Reading, ppm_is_what_the_pen_showed) {
  auto pen = of(Point::kProductQuality, 38, ReadingUnit::kPpm);
  EXPECT_NEAR(measured(pen).value, 76e-4, 1e-12);
  pen.instrument.scale = water::MeterScale::kSevenTenths;
  EXPECT_NEAR(measured(pen).value, 38 / 0.7 * 1e-4, 1e-12);
  pen.instrument.scale = water::MeterScale::kCalibrated;
  pen.instrument.calibrated_factor = 0.55;
  EXPECT_NEAR(as_shown(measured(pen).value, pen), 38, 1e-9);
}

// A cheap pen, ±2 % of 999: a bound of 20 ppm whatever it reads. JCGM 100, 4.3.7: over √3.
TEST(Reading, uncertainty_is_as_bought) {
  auto pen = of(Point::kProductQuality, 38, ReadingUnit::kPpm);
  pen.instrument.full_scale = 999;
  pen.instrument.share_of_full_scale = 0.02;
  pen.instrument.last_digit = 1;
  const double ppm = 19.98 / std::sqrt(3);
  EXPECT_NEAR(measured(pen).sigma / 2e-4, ppm, 1e-9);
}

std::string error_of(const char* json) {
  fields::ReadContext context{.path = fields::Path("reading")};
  const auto parsed = fields::parse_json(json);
  const auto read = fields::read<ReadingEntry>(*parsed, context);
  return read ? "" : messages::render(messages::catalogue("en"), read.error().message);
}

TEST(Reading, says_which_unit_does_not_fit) {
  EXPECT_EQ(error_of(R"({"point": "reject_flow", "value": 3, "unit": "bar"})"),
            "reading.unit is bar, which does not fit reject flow. Enter the unit that the "
            "instrument showed there.");
  EXPECT_EQ(error_of(R"({"point": "product_quality", "value": 3, "unit": "L_h"})").substr(0, 19),
            "reading.unit is L/h");
  EXPECT_NE(error_of(R"({"point": "product_quality", "value": -3, "unit": "ppm"})"), "");
  EXPECT_EQ(error_of(R"({"point": "product_flow", "value": -3, "unit": "L_h"})"),
            "");  // questioned
  EXPECT_EQ(error_of(R"({"point": "product_flow", "value": 3, "unit": "L_h"})"), "");
}

TEST(Reading, of_pours_is_as_sure_as_they_are) {
  auto flow = of(Point::kProductFlow, 60, ReadingUnit::kLh);
  flow.instrument.share_of_reading = 0.3;  // the pours count, not this
  flow.pours = {{.volume = units::Volume(1e-3), .time = units::Time(60)}};
  flow.jug_mark = units::Volume(50e-6);
  EXPECT_NEAR(measured(flow).value, 60e-3 / 3600, 1e-12);
  // The check value of pours.h, to its printed digits.
  EXPECT_NEAR(measured(flow).sigma / measured(flow).value, 0.015184, 5e-7);
  // Scattered ones: their 90 % interval is that of the normal distribution of this sigma.
  flow.pours->push_back({.volume = units::Volume(1.3e-3), .time = units::Time(60)});
  const PouredFlow poured = poured_flow(*flow.pours, flow.jug_mark);
  ASSERT_GT(poured.scatter, 0);
  EXPECT_NEAR(
      measured(flow).sigma * numerics::kNormal95, (poured.high() - poured.flow).si(), 1e-15);
}

TEST(Reading, must_be_what_its_pours_come_to) {
  EXPECT_EQ(error_of(R"({"point": "product_flow", "value": 60, "unit": "L_h",
                         "pours": [{"volume_mL": 1000, "time_s": 60.5}]})"),
            "");
  EXPECT_EQ(error_of(R"({"point": "product_flow", "value": 66, "unit": "L_h",
                         "pours": [{"volume_mL": 1000, "time_s": 60}]})"),
            "reading.value is 66\u00A0L/h, but the pours come to 60.0\u00A0L/h; it may differ by "
            "2 %. Enter what they come to, or put reading.pours right.");
  EXPECT_EQ(error_of(R"({"point": "inlet_pressure", "value": 3, "unit": "bar",
                         "pours": [{"volume_mL": 1000, "time_s": 60}]})"),
            "reading.pours does not fit pressure after stop valve: jug and stopwatch measure a "
            "flow. Leave the pours out, or choose the flow that was poured.");
  EXPECT_NE(error_of(R"({"point": "product_flow", "value": 60, "unit": "L_h", "pours": []})"), "");
}

}  // namespace
}  // namespace drawoff::visit
