#include "visit/found.h"

#include <gtest/gtest.h>

#include "fields/read.h"
#include "messages/catalogue.h"
#include "visit/example_test.h"

namespace drawoff::visit {
namespace {

std::string error_of(const char* json) {
  fields::ReadContext context;
  const auto found = fields::read<FoundEntry>(*fields::parse_json(json), context);
  return found ? "" : messages::render(messages::catalogue("en"), found.error().message);
}

TEST(Found, fits_by_the_band_that_was_shown) {
  FoundEntry f{.sign = Sign::kFillTime, .value = 41, .unit = SignUnit::kMinute};
  EXPECT_FALSE(fit_of(f));
  f.expected = {30, 50};
  EXPECT_EQ(fit_of(f), SignFit::kFits);
  f.value = 51;
  EXPECT_EQ(fit_of(f), SignFit::kAbove);
  f.value = 29;
  EXPECT_EQ(fit_of(f), SignFit::kBelow);
}

// 84 µS/cm are 42 ppm on the half scale, 58.8 on the other.
TEST(Found, a_quality_is_of_its_scale) {
  const double si = units::microsiemens_per_cm(84).si();
  FoundEntry f{.sign = Sign::kFirstHalfLitre, .unit = SignUnit::kPpm};
  EXPECT_NEAR(as_shown(si, f), 42, 1e-9);
  f.scale = water::MeterScale::kSevenTenths;
  EXPECT_NEAR(as_shown(si, f), 58.8, 1e-9);
  f.unit = SignUnit::kMicrosiemens;
  EXPECT_NEAR(as_shown(si, f), 84, 1e-9);
}

// A class 2.5 gauge of 10 bar: half of its 0.25 bar is 0.25/√3 at one sigma, 1.645 of them 0.237.
TEST(Found, a_band_is_as_wide_as_its_instrument) {
  const double bar = units::bar(1).si();
  const auto read = as_read(Sign::kStopPressure, {3 * bar, 3 * bar, 3 * bar});
  EXPECT_NEAR(read.high / bar, 3 + 0.237, 0.002);
  EXPECT_NEAR(read.low / bar, 3 - 0.237, 0.002);
  const auto wide = as_read(Sign::kStopPressure, {2 * bar, 3 * bar, 5 * bar});
  EXPECT_NEAR(wide.high / bar, 3 + std::hypot(2, 0.237), 0.002);
  // Nothing is below nothing, and what a strip calls none stays that.
  const double none = kNoChlorine.si();
  const auto zero = as_read(Sign::kFreeChlorine, {0, 0, none});
  EXPECT_EQ(zero.low, 0);
  EXPECT_EQ(zero.high, none);
}

TEST(Found, total_chlorine_where_there_may_be_some) {
  const CourseStep zero{.step = Step::kChlorineZero};
  SurveyEntry survey{.source = SourceKind::kBorehole};
  EXPECT_EQ(signs_of(zero, {}, survey), std::vector{Sign::kFreeChlorine});
  survey.tap.emplace().total_chlorine = units::milligram_per_litre(2);
  EXPECT_EQ(signs_of(zero, {}, survey), (std::vector{Sign::kFreeChlorine, Sign::kTotalChlorine}));
  survey.source = SourceKind::kMains;
  survey.tap->total_chlorine = units::milligram_per_litre(0);
  EXPECT_EQ(signs_of(zero, {}, survey), std::vector{Sign::kFreeChlorine});
  survey.tap.reset();
  EXPECT_EQ(signs_of(zero, {}, survey).size(), 2U);
}

TEST(Found, what_nothing_stops_is_never_timed_to_its_stop) {
  machine::MachineEntry machine;
  machine.product.vessel = machine::ProductVessel::kTank;
  EXPECT_TRUE(signs_of({.step = Step::kFirstFill}, machine, {}).empty());
  machine.high_pressure_switch = machine::SwitchEntry{};
  EXPECT_TRUE(signs_of({.step = Step::kFirstFill}, machine, {}).empty());  // it switches nothing
  machine.pump = machine::PumpEntry{};
  EXPECT_EQ(signs_of({.step = Step::kFirstFill}, machine, {}), std::vector{Sign::kFillTime});
}

// Water works that add chloramine leave next to no free chlorine.
TEST(Found, no_free_chlorine_says_nothing_of_the_bound) {
  SurveyEntry survey{.source = SourceKind::kMains};
  survey.free_chlorine = units::milligram_per_litre(0);
  EXPECT_EQ(signs_of({.step = Step::kChlorineZero}, {}, survey).size(), 2U);
  EXPECT_TRUE(may_hold_chlorine(survey));
}

TEST(Found, says_what_is_wrong) {
  EXPECT_EQ(
      error_of(R"({"sign": "fill_time", "value": 41, "unit": "bar"})"),
      "unit is bar, which does not fit time to fill. Enter the unit that the instrument showed "
      "there.");
  EXPECT_EQ(
      error_of(R"({"sign": "free_chlorine", "value": -1, "unit": "mg_L"})"),
      "value is -1\u00a0mg/L; it must be from 0 to 100,000\u00a0mg/L. Enter the number that the "
      "step showed.");
  EXPECT_NE(error_of(R"({"sign": "fill_time", "value": 3, "unit": "min",
                         "expected": {"low": 5, "high": 4}})")
                .find("above the upper end"),
            std::string::npos);
}

}  // namespace
}  // namespace drawoff::visit
