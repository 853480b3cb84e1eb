#include "fields/json.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <string>

#include "fields/errors.h"
#include "fields/quote.h"
#include "messages/catalogue.h"

namespace drawoff::fields {
namespace {

std::string fault(std::string_view text) {
  const auto json = parse_json(text);
  return json ? "" : messages::render(messages::catalogue("en"), json.error().message);
}

std::string echo(std::string_view text) {
  const auto json = parse_json(text);
  return json ? dump(*json) : fault(text);
}

TEST(Json, keeps_order_and_numbers) {
  EXPECT_EQ(echo(R"({"b":1,"a":[true,null,"é\n"],"c":{}})"),
            R"({"b":1,"a":[true,null,"é\n"],"c":{}})");
  EXPECT_EQ(echo("[0.1,1e-7,123456789012345678,-5,2.5e300]"),
            "[0.1,1e-07,123456789012345678,-5,2.5e+300]");
  EXPECT_EQ(echo(" 5 "), "5");
}

TEST(Json, says_where_and_what_is_wrong) {
  EXPECT_EQ(fault(""), "The input is empty; it must be one JSON object.");
  EXPECT_EQ(fault(" \n"), "The input is empty; it must be one JSON object.");
  EXPECT_EQ(
      fault("{\"a\":1,}"),
      "The input is not JSON: \"}\" at line 1, column 8 (byte 7) was not expected; correct it "
      "there.");
  EXPECT_EQ(fault("{\"é\":1,\n  \"b\": x}"),
            "The input is not JSON: \"x\" at line 2, column 8 (byte 16) was not expected; correct "
            "it there.");
  EXPECT_EQ(
      fault("{\"a\":1"),
      "The input ends too early, at line 1, column 7 (byte 6): a bracket, a quotation mark or "
      "a value is missing; complete it.");
  EXPECT_EQ(
      fault("{\"a\":1,\n\"a\":2}"),
      "The input gives \"a\" twice in one object at line 2, column 3 (byte 10); remove one of "
      "the two.");
  EXPECT_EQ(
      fault("{\"a\": -1e999}"),
      "The input has -1e999 at line 1, column 7 (byte 6), a number too large to keep; correct "
      "it there.");
  EXPECT_EQ(fault("{\"a\":\"\xC3\x28\"}"),
            "The input is not UTF-8 text at line 1, column 7 (byte 6); save it as UTF-8.");
}

TEST(Json, refuses_what_is_not_in_the_standard) {
  for (std::string_view text : {"NaN",
                                "[Infinity]",
                                "{a:1}",
                                "{'a':1}",
                                "[1,]",
                                "01",
                                "1.",
                                ".5",
                                "+1",
                                "[1] 2",
                                "/*x*/1",
                                "\"\t\"",
                                "\"\\x\"",
                                "\"\\ud800\"",
                                "tru",
                                "\xED\xA0\x80",
                                "\xF5\x80\x80\x80",
                                "\"\xC0\xAF\""}) {
    EXPECT_FALSE(parse_json(text)) << text;
  }
}

TEST(Json, limits_depth_and_size) {
  const auto nested = [](int n) {
    return std::string(static_cast<std::size_t>(n), '[') +
           std::string(static_cast<std::size_t>(n), ']');
  };
  EXPECT_TRUE(parse_json(nested(kDeepestJson)));
  EXPECT_EQ(fault(nested(kDeepestJson + 1)),
            "The input is nested more than 64 levels deep at line 1, column 65 (byte 64); write it "
            "with fewer levels.");
  EXPECT_TRUE(parse_json('"' + std::string(kLargestJson - 2, 'x') + '"'));
  EXPECT_EQ(fault('"' + std::string(kLargestJson - 1, 'x') + '"'),
            "The input is 16.1\u00A0MiB; at most 16.0\u00A0MiB can be read. Split it.");
}

// An object of a hundred thousand keys takes a moment, not the hours of a comparison of all pairs.
TEST(Json, large_objects_are_read) {
  std::string text = "{";
  for (int i = 0; i < 100000; ++i) text += '"' + std::to_string(i) + "\":1,";
  text += "\"end\":2}";
  const auto json = parse_json(text);
  ASSERT_TRUE(json);
  EXPECT_EQ(json->size(), 100001U);
}

TEST(Json, numbers_are_written_short) {
  EXPECT_EQ(dump(json_number(5)), "5");
  EXPECT_EQ(dump(json_number(-0.0)), "0");
  EXPECT_EQ(dump(json_number(0.1)), "0.1");
  EXPECT_EQ(dump(json_number(1e300)), "1e+300");
  EXPECT_EQ(dump(json_number(std::nan(""))), "null");
  EXPECT_EQ(dump(json_number(std::numeric_limits<double>::infinity())), "null");
}

TEST(Quote, stays_on_one_line_and_short) {
  EXPECT_EQ(quote_text("a\nb\x1B[31m"), "\"a\\u000ab\\u001b[31m\"");
  EXPECT_EQ(quote_text("\u2028\u202Ex\u0085"), "\"\\u2028\\u202ex\\u0085\"");
  EXPECT_EQ(one_line(std::string(100, 'x')), std::string(kLongestQuote, 'x') + "…");
  EXPECT_EQ(one_line("\xFF"), "\uFFFD");
  // Cut between characters, never within one.
  std::string accents;
  for (int i = 0; i < 70; ++i) accents += "é";
  EXPECT_EQ(utf8_count(one_line(accents)), kLongestQuote + 1);
  EXPECT_EQ(quote_json({{"a", {1, "b\n"}}}), R"({"a":[1,"b\n"]})");
}

TEST(Nearest, finds_slips_and_other_units) {
  const std::vector<std::string_view> known = {"flow_mL_min", "pressure_bar", "kind", "pH"};
  EXPECT_EQ(nearest("flow_ml_min", known), "flow_mL_min");
  EXPECT_EQ(nearest("presure_bar", known), "pressure_bar");
  EXPECT_EQ(nearest("pressure_psi", known), "pressure_bar");
  EXPECT_EQ(nearest("knid", known), "kind");
  EXPECT_EQ(nearest("colour", known), "");
  EXPECT_EQ(nearest(std::string(100000, 'x'), known), "");
}

TEST(Catalogue, has_every_error) {
  for (std::string_view id : kErrorIds) {
    EXPECT_NE(messages::catalogue("en").find(id), nullptr) << id;
  }
}

}  // namespace
}  // namespace drawoff::fields
