#include "visit/quick_check.h"

#include <gtest/gtest.h>
#include <rapidcheck.h>

#include "fields/json.h"
#include "membrane/sizes.h"
#include "visit/start_up.h"
#include "visit/verdict.h"
#include "water/conductivity.h"

namespace drawoff::visit {
namespace {

using machine::Point;

QuickCheck check_of(const char* size, double raw) {
  QuickCheck check{.size = size};
  check.raw = {raw, ReadingUnit::kMicrosiemens};
  check.temperature = {15, ReadingUnit::kCelsius};
  return check;
}

// The water made up for a meter reading shows that reading.
TEST(QuickCheck, makes_a_water_that_the_meter_would_show) {
  for (const double raw : {25.0, 300.0, 900.0, 3000.0, 15000.0}) {
    const QuickCase quick = quick_case(check_of("2540", raw));
    const auto composition = water::speciate(water::analysis_of(quick.survey.water));
    ASSERT_TRUE(composition);
    EXPECT_NEAR(water::conductivity_25(*composition) / units::microsiemens_per_cm(raw), 1, 1e-3);
    EXPECT_EQ(quick.survey.basis, SurveyBasis::kMeter);
  }
}

// Every size of the trade gives a machine that runs on an ordinary water, at one element and at
// six, and whose median flow is near what the size usually gives: within a factor of two at 15 °C,
// where the plate's flow holds at 25 °C and its own pressure (common practice, no source).
TEST(QuickCheck, every_size_runs) {
  for (const auto& size : membrane::element_sizes()) {
    for (const int elements : {1, 6}) {
      QuickCheck check = check_of(size.name.c_str(), 600);
      check.elements = elements;
      const QuickCase quick = quick_case(check);
      ReadingEntry flow{.point = Point::kProductFlow, .unit = ReadingUnit::kLh};
      flow.condition.product_to = machine::ProductVessel::kJug;
      const auto s =
          judge_start_up(quick.survey, quick.machine, quick.readings, {}, std::vector{flow});
      ASSERT_TRUE(s) << size.name;
      EXPECT_EQ(s->outcome, machine::Outcome::kRuns) << size.name << " x" << elements;
      EXPECT_GT(s->runs_share, 0.9) << size.name << " x" << elements;
      EXPECT_LT(s->over_pressure_share, 0.05) << size.name << " x" << elements;
      ASSERT_EQ(s->forecasts.size(), 1U) << size.name;
      const double usual = elements * (size.typical_flow / units::litre_per_hour(1));
      EXPECT_GT(s->forecasts[0].expected.middle, 0.5 * usual) << size.name << " x" << elements;
      EXPECT_LT(s->forecasts[0].expected.middle, 2 * usual) << size.name << " x" << elements;
    }
  }
}

// Nine tenths taken out is what the trade expects of such a unit (common practice, no source), so
// it must fit; a product as strong as half the raw water must not.
TEST(QuickCheck, knows_nine_tenths_from_one_half) {
  for (const char* size : {"1812", "2812", "2540", "4040"}) {
    for (const auto& [share, fits] : {std::pair{0.1, true}, std::pair{0.5, false}}) {
      QuickCheck check = check_of(size, 700);
      check.product = {share * 700, ReadingUnit::kMicrosiemens};
      const QuickCase quick = quick_case(check);
      const auto s = judge_start_up(quick.survey, quick.machine, quick.readings, {});
      ASSERT_TRUE(s);
      EXPECT_EQ(s->standing == StartUpStanding::kAsExpected, fits) << size << " " << share;
    }
  }
}

// Nothing in a water known by its meter reading alone may be judged against a limit.
TEST(QuickCheck, judges_no_substance_of_an_assumed_water) {
  const QuickCase quick = quick_case(check_of("2540", 700));
  const auto water = surveyed_water(quick.survey);
  const auto verdict = source_verdict(quick.survey, judged_water(*water, water->composition, {}));
  ASSERT_TRUE(verdict);
  const SourceVerdict& v = *verdict;
  EXPECT_EQ(v.warranted, Warranted::kCannotSay);
  for (const auto& s : v.substances) EXPECT_EQ(s.limit.substance, "TDS");
  EXPECT_GT(v.not_analysed.size(), 10U);
}

TEST(QuickCheck, refuses_by_field) {
  const auto refused = [](const char* text) {
    fields::ReadContext context;
    const auto read = fields::read<QuickCheck>(*fields::parse_json(text), context);
    EXPECT_FALSE(read) << text;
    if (read) return std::string();
    for (const auto& [key, argument] : read.error().message.arguments) {
      if (key == "path") return std::get<base::Where>(argument).path;
    }
    return std::string("?");
  };
  EXPECT_EQ(refused(R"({})"), "raw.value");
  EXPECT_EQ(refused(R"({"raw": {"value": 400}, "size": "9999"})"), "size");
  EXPECT_EQ(refused(R"({"raw": {"value": 5}})"), "raw.value");
  EXPECT_EQ(refused(R"({"raw": {"value": 400, "unit": "bar"}})"), "raw.unit");
  EXPECT_EQ(refused(R"({"raw": {"value": 400}, "temperature": {"value": 90, "unit": "C"}})"),
            "temperature.value");
}

}  // namespace
}  // namespace drawoff::visit
