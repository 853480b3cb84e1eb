#include "api/meter_question.h"

#include <gtest/gtest.h>

#include "api/question_test.h"

namespace drawoff::api {
namespace {

using fields::Json;

constexpr auto kMeter = question<visit::CheckedMeter, MeterOutput, &ask_meter>("meter");

Json pen() {
  return {
      {"meter", {{"reads", "ppm"}, {"instrument", {{"full_scale", 9990}}}}},
      {"checks",
       {{{"standard_uS_cm", 84}, {"temperature_C", 25}, {"shown", 47}, {"on", "2026-11-20"}},
        {{"standard_uS_cm", 1413}, {"temperature_C", 25}, {"shown", 700}, {"on", "2026-11-20"}}}},
      {"on", "2026-11-27"}};
}
std::string text(const Json& json) { return fields::dump(json); }
std::string error(const Json& json) { return error_of(kMeter, text(json)); }

TEST(MeterQuestion, answers_in_plain_sentences) {
  const Json out = output_of(kMeter, text(pen()));
  EXPECT_EQ(out["purposes"][0]["verdict"], "good");
  EXPECT_EQ(out["purposes"][1]["verdict"], "good_corrected");
  EXPECT_EQ(
      out["purposes"][1]["why"],
      "For the product: good with the correction. Multiply what it shows by 0.894. Near "
      "42.0 ppm it must be right to ±5.0 ppm; as it is it may be 5.5 ppm off, corrected hardly "
      "more than 0.98 ppm.");
  // 42/706.5 = 5.94 % passes; 5.94 % · (5/42 + 0.05) = 1.0.
  EXPECT_EQ(
      out["need"],
      "The product must be read right to ±10% or ±5.0 ppm, whichever is more, the raw water to "
      "±5%. Then a reduction that reads 94.1% is in truth 93.1% to 95.1%.");
  EXPECT_NEAR(number_of(out["purposes"][1]["factor"], "middle"), 42.0 / 47, 1e-9);
  EXPECT_NEAR(number_of(out["checks"][1]["error_share"], "middle"), 100 * (700 / 706.5 - 1), 1e-9);
  EXPECT_EQ(out["checks"][0]["as_bought"], "beyond");
  EXPECT_EQ(out["remarks"].size(), 2U);  // the low standard, the accuracy taken
}

TEST(MeterQuestion, a_pH_pen_has_no_percentages) {
  Json in = pen();
  in["meter"] = {{"reads", "pH"}};
  in["checks"] = {
      {{"buffer_pH", 6.86}, {"temperature_C", 25}, {"shown", 6.62}, {"on", "2026-11-27"}}};
  const Json out = output_of(kMeter, text(in));
  EXPECT_FALSE(out["checks"][0].contains("error_share"));
  EXPECT_EQ(
      out["purposes"][0]["why"],
      "For the raw water: good with the correction. Add 0.24 to what it shows. Near 7.5 it must be "
      "right to ±0.20; as it is it may be 0.30 off, corrected hardly more than 0.056.");
}

Json gauge() {
  return {{"meter",
           {{"reads", "bar"},
            {"instrument", {{"full_scale", 10}, {"of_full_scale_pct", 1.6}, {"last_digit", 0.2}}}}},
          {"gauge_checks",
           {{{"against", "air"}, {"shown", 0}, {"on", "2026-11-20"}},
            {{"against", "column"}, {"column_m", 10}, {"shown", 1}, {"on", "2026-11-20"}}}},
          {"on", "2026-11-27"},
          {"membrane", 8}};
}

// 10 m · 9.789 kPa = 0.979 bar, less than a quarter of the scale from 3 bar: it was off by 0.021
// bar there, and half a mark twice, once less its tail: 0.021 + 0.09 + 0.1.
TEST(MeterQuestion, a_gauge_has_its_own_purposes) {
  const Json out = output_of(kMeter, text(gauge()));
  ASSERT_EQ(out["purposes"].size(), 3U);
  EXPECT_EQ(out["purposes"][0]["why"],
            "For the inlet pressure: good. Near 3.00 bar it must be right to ±0.30 bar, and it is "
            "hardly more than 0.21 bar off.");
  EXPECT_EQ(
      out["purposes"][2]["why"],
      "For a pressure hold: good. A fall of 0.10 bar must be seen, and it shows one of 0.10 bar.");
  EXPECT_NEAR(number_of(out["checks"][1], "should_show"), 0.979, 1e-3);
  EXPECT_EQ(out["checks"][1]["unit"], "bar");
  EXPECT_EQ(out["remarks"][0],
            "For the pressure at the membrane: 8.00 bar stands in the highest quarter of its scale "
            "of 10 bar, where a gauge wears and a stroke of the pump spoils it. Take one with a "
            "longer scale.");
  EXPECT_EQ(out["cautions"].size(), 1U);
}

TEST(MeterQuestion, what_a_gauge_cannot_have_is_named) {
  Json in = gauge();
  in["raw"] = 400;
  EXPECT_EQ(error(in),
            "raw is entered, but the meter reads a pressure. Take it out, or set meter.reads "
            "right.");
  in = pen();
  in["gauge_checks"] = gauge()["gauge_checks"];
  EXPECT_EQ(error(in),
            "gauge_checks is entered, but the meter reads no pressure. Take it out, or set "
            "meter.reads right.");
  in = gauge();
  in["gauge_checks"][0]["column_m"] = 10;
  EXPECT_EQ(error(in),
            "gauge_checks[0].column_m is entered, but gauge_checks[0].against says otherwise. Take "
            "it out, or set gauge_checks[0].against right.");
  in = gauge();
  in["gauge_checks"][1].erase("column_m");
  EXPECT_NE(error(in).find("gauge_checks[1].column_m is missing"), std::string::npos) << error(in);
  in = gauge();
  in["gauge_checks"][0]["shown"] = 11;
  EXPECT_NE(error(in).find("from 0 to 10, the full scale"), std::string::npos) << error(in);
}

TEST(MeterQuestion, bad_input_is_named) {
  Json in = pen();
  in["checks"][0]["on"] = "2026-13-01";
  EXPECT_EQ(error(in), "checks[0].on is 2026-13-01, which is no day. Enter it as 2026-11-27.");
  in = pen();
  in["checks"][1]["on"] = "2026-11-28";
  EXPECT_EQ(error(in),
            "checks[1].on is 2026-11-28, which is after today, 2026-11-27. Enter the day of the "
            "check, or "
            "look whether today is right.");
  in = pen();
  in["checks"][0]["shown"] = 9999;
  EXPECT_EQ(error(in),
            "checks[0].shown is 9,999; it must be from 0 to 9,990, the full scale of the meter. "
            "Enter what it showed, or set meter.instrument.full_scale right.");
  in = pen();
  in["meter"]["reads"] = "pH";
  EXPECT_EQ(error(in),
            "checks[0].standard_uS_cm is entered, but the meter reads pH. Enter "
            "checks[0].buffer_pH in its place, or set meter.reads right.");
  in = pen();
  in["checks"][0].erase("standard_uS_cm");
  EXPECT_NE(error(in).find("checks[0].standard_uS_cm is missing"), std::string::npos) << error(in);
  in = pen();
  in["checks"][0]["standard_uS_cm"] = 1;
  EXPECT_NE(error(in).find("from 10 to 20,000 µS/cm"), std::string::npos) << error(in);
  in = pen();
  in["meter"] = {{"reads", "pH"}};
  in["checks"] = {{{"buffer_pH", 7}, {"temperature_C", 25}, {"shown", 70}, {"on", "2026-11-27"}}};
  EXPECT_NE(error(in).find("checks[0].shown is 70; it must be from 0 to 14"), std::string::npos)
      << error(in);
  in["checks"][0]["shown"] = 7;
  in["product"] = 400;
  EXPECT_NE(error(in).find("product is 400; it must be from 0 to 14"), std::string::npos)
      << error(in);
}

}  // namespace
}  // namespace drawoff::api
