#include "visit/gauge_check.h"

#include <gtest/gtest.h>

#include "visit/meter_check.h"

namespace drawoff::visit {
namespace {

using units::bar;
using units::metre;

// Of 10 bar, class 1.6, marks of 0.2 bar.
CheckedMeter gauge(MeterReads reads = MeterReads::kBar) {
  return {
      .meter = {.reads = reads,
                .instrument = {.full_scale = 10, .share_of_full_scale = 0.016, .last_digit = 0.2}},
      .on = "2026-11-27"};
}
CheckResult in_air(double shown) {
  return result_of(gauge(), GaugeCheck{.shown = shown, .on = "2026-11-20"});
}

// 998.2 kg/m³ (water at 20 °C, from memory) · 9.80665 m/s² = 9789 Pa; the density is good to 0.01
// %.
TEST(GaugeCheck, a_metre_of_water) {
  EXPECT_NEAR(pressure_under(metre(1)).si(), 9789, 2);
  EXPECT_NEAR(pressure_under(metre(10)).si(), 97890, 20);
}

// Half a mark, 0.1 bar, is all that is open in air; of one bound nine tenths hold 90 %.
TEST(GaugeCheck, in_air_only_the_marks_blur) {
  const CheckResult r = in_air(0.1);
  EXPECT_EQ(r.should_show, 0);
  EXPECT_NEAR(r.error.low, 0.1 - 0.09, 1e-6);
  EXPECT_NEAR(r.error.high, 0.1 + 0.09, 1e-6);
  EXPECT_FALSE(r.error_share);
  EXPECT_FALSE(r.factor);
  EXPECT_FALSE(r.shift);
  EXPECT_NEAR(r.bought_for, 0.16, 1e-12);  // 1.6 % of 10 bar
  EXPECT_EQ(r.age, 7);
  EXPECT_TRUE(r.vouches);
}

// Within while 0.09 above what it shows is within 0.16; beyond once 0.09 below is not.
TEST(GaugeCheck, returns_to_zero_or_does_not) {
  EXPECT_EQ(in_air(0).as_bought, AsBought::kWithin);
  EXPECT_EQ(in_air(0.06).as_bought, AsBought::kWithin);
  EXPECT_EQ(in_air(0.2).as_bought, AsBought::kCannotTell);
  EXPECT_EQ(in_air(0.26).as_bought, AsBought::kBeyond);
}

// 4 bar are 58.0 psi; of what the other may be off, 0.16 bar or 2.32 psi, its nine tenths and a
// little of the marks: between 2.09 and 2.42.
TEST(GaugeCheck, beside_another_gauge_in_its_own_unit) {
  const GaugeCheck c{
      .against = GaugeAgainst::kGauge, .other = bar(4), .shown = 60, .on = "2026-11-27"};
  const CheckResult r = result_of(gauge(MeterReads::kPsi), c);
  EXPECT_NEAR(r.should_show, 58.015, 1e-3);
  EXPECT_NEAR(r.error.middle, 60 - 58.015, 1e-3);
  EXPECT_GT(r.error.high - r.error.middle, 2.08);
  EXPECT_LT(r.error.high - r.error.middle, 2.42);
}

TEST(GaugeCheck, under_a_column_of_water) {
  const GaugeCheck c{
      .against = GaugeAgainst::kColumn, .column = metre(10), .shown = 1, .on = "2026-11-27"};
  const CheckResult r = result_of(gauge(), c);
  EXPECT_NEAR(r.should_show, 0.9789, 2e-4);
  EXPECT_EQ(r.as_bought, AsBought::kWithin);
}

}  // namespace
}  // namespace drawoff::visit
