#include "units/unit.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <set>
#include <string>

namespace drawoff::units {
namespace {

static_assert(unit_of_key("flow_mL_min")->symbol == "mL/min");
static_assert(unit_of_key("pressure_bar")->symbol == "bar");
static_assert(unit_of_key("L_h")->key == "L_h");
static_assert(unit_of_key("hardness_mg_L_CaCO3")->key == "mg_L_CaCO3");
static_assert(unit_of_key("resistance_bar_per_L_h")->key == "bar_per_L_h");
static_assert(unit_of_key("permeability_L_m2_h_bar")->key == "L_m2_h_bar");
static_assert(unit_of_key("conductivity_25_uS_cm")->key == "uS_cm");
static_assert(unit_of_key("name") == nullptr);
static_assert(unit_of_key("total") == nullptr);
static_assert(unit_of_key("") == nullptr);
static_assert(unit_of_key("mL_min")->dimension == kExponents<dim::VolumeFlow>);

const Unit& unit(std::string_view key) {
  const Unit* found = unit_of_key(key);
  EXPECT_NE(found, nullptr) << key;
  return found != nullptr ? *found : kUnits[0];
}

// One multiplication and one division each way, and for temperatures an addition whose rounding is
// absolute: 4 roundings of at most half an ulp.
constexpr double kRoundTrip = 4 * std::numeric_limits<double>::epsilon();

TEST(Unit, goes_to_si_and_back) {
  for (const Unit& u : kUnits) {
    for (double x : {0.0, 1e-9, 0.1, 1.0, 7.3, 25.1, 1234.5678, 1e9}) {
      const double scale = std::abs(x) + std::abs(u.offset);
      EXPECT_NEAR(from_si(u, to_si(u, x)), x, kRoundTrip * scale) << u.key << ' ' << x;
    }
  }
}

TEST(Unit, gives_back_the_number_that_was_typed) {
  for (const Unit& u : kUnits) {
    for (int i = -400; i <= 4000; ++i) {
      // Numbers of up to four digits with 0 to 4 decimals: what people and instruments write.
      for (double decimals : {1.0, 10.0, 100.0, 1e4}) {
        const double typed = i / decimals;
        ASSERT_EQ(from_si_shortest(u, to_si(u, typed)), typed) << u.key;
      }
    }
  }
}

TEST(Unit, agrees_with_the_makers_of_quantities) {
  EXPECT_EQ(to_si(unit("bar"), 6.1), bar(6.1).si());
  EXPECT_EQ(to_si(unit("L_h"), 14.3), litre_per_hour(14.3).si());
  EXPECT_EQ(to_si(unit("C"), 25.1), celsius(25.1).si());
  EXPECT_EQ(to_si(unit("L_m2_h_bar"), 3.7), litre_per_m2_h_bar(3.7).si());
  EXPECT_DOUBLE_EQ(to_si(unit("uS_cm"), 612), microsiemens_per_cm(612).si());
  EXPECT_DOUBLE_EQ(to_si(unit("mg_L"), 412), milligram_per_litre(412).si());
}

// NIST SP 811 (2008), appendix B.8, prints seven digits where a factor is not exact: 5e-7 relative.
TEST(Unit, agrees_with_published_factors) {
  constexpr double kPrinted = 5e-7;
  const auto expect = [](std::string_view key, double si, double relative) {
    EXPECT_NEAR(to_si(unit(key), 1), si, relative * std::abs(si)) << key;
  };
  expect("psi", 6.894757e3, kPrinted);
  expect("US_gal", 3.785412e-3, kPrinted);
  expect("US_gal_min", 6.309020e-5, kPrinted);
  expect("gpd", 4.381264e-8, kPrinted);
  EXPECT_EQ(to_si(unit("US_gal"), 1), 3.785411784e-3);  // exact: NIST Handbook 44, appendix C
  EXPECT_EQ(to_si(unit("in"), 1), 0.0254);              // exact
  EXPECT_EQ(to_si(unit("ft"), 1), 0.3048);              // exact
  EXPECT_EQ(to_si(unit("C"), 0), 273.15);               // exact
  // T/K = (t/°F + 459.67)/1.8: exact; the sum is rounded once.
  EXPECT_DOUBLE_EQ(to_si(unit("F"), 77), 298.15);
  EXPECT_DOUBLE_EQ(to_si(unit("F"), 32), 273.15);
  EXPECT_DOUBLE_EQ(to_si(unit("kWh"), 1), 3.6e6);  // exact
  // 1 US gal/(ft²·day) is 1.6977 L/(m²·h): from the exact gallon and foot, to five digits.
  EXPECT_NEAR(from_si(unit("L_m2_h"), to_si(unit("gfd"), 1)), 1.6977, 5e-5);
  // Whoever computes 1 bar per L/h by hand: 1e5 Pa / (1e-3 m³ / 3600 s).
  EXPECT_DOUBLE_EQ(to_si(unit("bar_per_L_h"), 1), 1e5 / (1e-3 / 3600));
}

TEST(Unit, every_suffix_and_symbol_is_there_once) {
  std::set<std::string_view> keys;
  for (const Unit& u : kUnits) {
    EXPECT_TRUE(keys.insert(u.key).second) << u.key;
    EXPECT_FALSE(u.symbol.empty()) << u.key;
    EXPECT_FALSE(u.ucum.empty()) << u.key;
    EXPECT_EQ(unit_of_key("x_" + std::string(u.key)), &u) << u.key;
    // UCUM codes are printable ASCII without spaces ([ucum2017], §3).
    for (char c : u.ucum) EXPECT_TRUE(c > ' ' && c < 127) << u.key;
  }
}

TEST(ParseNumber, takes_a_point_or_a_comma) {
  EXPECT_EQ(parse_number("14"), 14);
  EXPECT_EQ(parse_number("1.5"), 1.5);
  EXPECT_EQ(parse_number("1,5"), 1.5);
  EXPECT_EQ(parse_number(" -0,25 "), -0.25);
  EXPECT_EQ(parse_number("\u22125"), -5);
  EXPECT_EQ(parse_number("+7"), 7);
  EXPECT_EQ(parse_number(".5"), 0.5);
  EXPECT_EQ(parse_number("5,"), 5);
  EXPECT_EQ(parse_number("1,234"), 1.234);
  EXPECT_EQ(parse_number("1,234.5"), 1234.5);
  EXPECT_EQ(parse_number("1.234,5"), 1234.5);
  EXPECT_EQ(parse_number("1,234,567"), 1234567);
  EXPECT_EQ(parse_number("1 234,5"), 1234.5);
  EXPECT_EQ(parse_number("12\u202F345"), 12345);
  EXPECT_EQ(parse_number("1.5e-3"), 1.5e-3);
  EXPECT_FALSE(std::signbit(*parse_number("-0")));
}

TEST(ParseNumber, refuses_what_is_not_one_number) {
  for (std::string_view text :
       {"",      " ",        "-",    ".",         ",",          "abc",     "5 bar",
        "1,2,3", "1.23.456", "1 2",  "12,34.5,6", "1e",         "1e400",   "--1",
        "nan",   "inf",      "0x10", "1 2345",    "1234,567.8", "1,234,56"}) {
    EXPECT_FALSE(parse_number(text)) << text;
  }
}

}  // namespace
}  // namespace drawoff::units
