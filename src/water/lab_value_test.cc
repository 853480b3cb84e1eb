#include "water/lab_value.h"

#include <gtest/gtest.h>

#include "water/lab_text.h"

namespace drawoff::water {
namespace {

struct Written {
  const char* text;
  DecimalMark mark;
  Said said;
  double number;
  bool two_readings = false;
};
constexpr auto kPoint = DecimalMark::kPoint;
constexpr auto kComma = DecimalMark::kComma;

// How laboratories write numbers: common practice, no source.
TEST(LabValue, numbers_as_they_are_written) {
  const Written all[] = {{"115", kPoint, Said::kValue, 115},
                         {" 0.05 ", kPoint, Said::kValue, 0.05},
                         {"0,05", kPoint, Said::kValue, 0.05},
                         {".5", kPoint, Said::kValue, 0.5},
                         {"1,234.5", kPoint, Said::kValue, 1234.5},
                         {"1.234,5", kPoint, Said::kValue, 1234.5},
                         {"1 234,5", kPoint, Said::kValue, 1234.5},
                         {"1\u00a0234.5", kPoint, Said::kValue, 1234.5},
                         {"1'234", kPoint, Said::kValue, 1234},
                         {"1,234,567", kPoint, Said::kValue, 1234567},
                         {"1,234", kPoint, Said::kValue, 1234, true},
                         {"1,234", kComma, Said::kValue, 1.234, true},
                         {"1.234", kComma, Said::kValue, 1234, true},
                         {"1.234", kPoint, Said::kValue, 1.234},
                         {"0,123", kPoint, Said::kValue, 0.123},
                         {"1.2E-3", kPoint, Said::kValue, 1.2e-3},
                         {"1.2 x 10^-3", kPoint, Said::kValue, 1.2e-3},
                         {"2,4×10³", kPoint, Said::kValue, 2400},
                         {"7.4 ± 0.1", kPoint, Said::kValue, 7.4},
                         {"12 +/- 5 %", kPoint, Said::kValue, 12},
                         {"~ 5", kPoint, Said::kValue, 5},
                         {"ca. 5", kPoint, Said::kValue, 5},
                         {"12*", kPoint, Said::kValue, 12},
                         {"-3", kPoint, Said::kValue, -3},
                         {"\u22123", kPoint, Said::kValue, -3},
                         {"nil", kPoint, Said::kValue, 0},
                         {"Absent", kPoint, Said::kValue, 0},
                         {"<0.02", kPoint, Said::kBelow, 0.02},
                         {"< 0,02", kPoint, Said::kBelow, 0.02},
                         {"\u2264 0.02", kPoint, Said::kBelow, 0.02},
                         {"&lt;0.02", kPoint, Said::kBelow, 0.02},
                         {"less than 5", kPoint, Said::kBelow, 5},
                         {"BDL (0.05)", kPoint, Said::kBelow, 0.05},
                         {"ND<0.05", kPoint, Said::kBelow, 0.05},
                         {"Not detected (< 1)", kPoint, Said::kBelow, 1},
                         {">2419.6", kPoint, Said::kAbove, 2419.6},
                         {"ND", kPoint, Said::kNotDetected, 0},
                         {"n.n.", kPoint, Said::kNotDetected, 0},
                         {"Below detection limit", kPoint, Said::kNotDetected, 0},
                         {"", kPoint, Said::kNothing, 0},
                         {"-", kPoint, Said::kNothing, 0},
                         {"N/A", kPoint, Said::kNothing, 0},
                         {"Not analysed", kPoint, Said::kNothing, 0},
                         {"hard", kPoint, Said::kText, 0},
                         {"1.2.3,4,5", kPoint, Said::kText, 0},
                         {"see annex", kPoint, Said::kText, 0}};
  for (const Written& w : all) {
    SCOPED_TRACE(w.text);
    const LabValue v = lab_value(w.text, w.mark);
    EXPECT_EQ(v.said, w.said);
    EXPECT_DOUBLE_EQ(v.number, w.number);
    EXPECT_EQ(v.two_readings, w.two_readings);
  }
}

TEST(LabValue, what_stands_behind_the_number) {
  EXPECT_EQ(lab_value("12 mg/L", kPoint).rest, "mg/l");
  EXPECT_EQ(lab_value("12.5 µg/L as N", kPoint).rest, "ug/l as n");
  EXPECT_EQ(lab_value("1.2e-3 mg/L", kPoint).rest, "mg/l");
  EXPECT_EQ(lab_value("7.4 ± 0.1 (20 °C)", kPoint).rest, "(20 °c)");
  const LabValue field = lab_value("5 - 10 mg/L", kPoint);
  EXPECT_TRUE(field.field);
  EXPECT_DOUBLE_EQ(field.number, 7.5);
  EXPECT_EQ(field.rest, "mg/l");
}

TEST(LabValue, the_decimal_mark_that_a_number_shows) {
  EXPECT_EQ(mark_shown("1,5"), kComma);
  EXPECT_EQ(mark_shown("< 0,02"), kComma);
  EXPECT_EQ(mark_shown("1.5"), kPoint);
  EXPECT_EQ(mark_shown("1.234.567"), kComma);
  EXPECT_EQ(mark_shown("1,234"), std::nullopt);
  EXPECT_EQ(mark_shown("115"), std::nullopt);
  EXPECT_EQ(mark_shown("ND"), std::nullopt);
}

TEST(LabText, old_spreadsheets) {
  EXPECT_EQ(utf8_text("H\xe4rte \xb0"
                      "dH \xb5S"),
            "Härte °dH µS");
  EXPECT_EQ(utf8_text("\xef\xbb\xbfpH"), "pH");
  EXPECT_EQ(plain_text(" HÄRTE (°dH) "), "harte (°dh)");
  EXPECT_EQ(words_of("nitrate-n, total"), "nitrate n total");
}

}  // namespace
}  // namespace drawoff::water
