#include "paper/text.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <string>
#include <vector>

#include "paper/script_fonts.h"
#include "paper/utf8.h"

namespace drawoff::paper {
namespace {

const Fonts& all_fonts() {
  static const Fonts fonts = *Fonts::create(script_fonts());
  return fonts;
}

std::vector<std::uint32_t> glyphs_of(const Line& line) {
  std::vector<std::uint32_t> ids;
  for (const Run& run : line.runs) {
    for (const Cluster& cluster : run.clusters) {
      for (const Glyph& glyph : cluster.glyphs) ids.push_back(glyph.id);
    }
  }
  return ids;
}

// Characters from left to right, cluster by cluster.
std::u32string seen(const Line& line) {
  std::u32string text;
  for (const Run& run : line.runs) {
    for (const Cluster& cluster : run.clusters) text += cluster.text;
  }
  return text;
}

// The figures of hb-shape 6.0.0 on NotoSans-Regular of fonts-noto-core 20201225-1, in thousandths
// of an em: A 599 (kerned), V 600, space 260, T 486 (kerned), o 605, 4 572, 2 572, L 524, / 372, h
// 618.
TEST(text, is_as_wide_as_the_shaper_s_own_tool_says) {
  const Fonts fonts;
  EXPECT_NEAR(width_of(fonts, "AV To 42 L/h", {.size = 1000}),
              599 + 600 + 260 + 486 + 605 + 260 + 572 + 572 + 260 + 524 + 372 + 618,
              1e-6);
  EXPECT_EQ(width_of(fonts, "", {.size = 1000}), 0);
  EXPECT_GT(width_of(fonts, "Product", {.size = 10, .bold = true}),
            width_of(fonts, "Product", {.size = 10}));
}

TEST(text, digits_are_of_one_width) {
  const Fonts fonts;
  for (const bool bold : {false, true}) {
    const double zero = width_of(fonts, "0", {.size = 1, .bold = bold});
    for (char digit = '1'; digit <= '9'; ++digit) {
      EXPECT_EQ(width_of(fonts, std::string(1, digit), {.size = 1, .bold = bold}), zero);
    }
  }
}

TEST(text, signs_of_measurement_have_glyphs_in_both_weights) {
  const Fonts fonts;
  for (const bool bold : {false, true}) {
    const Line line =
        set_line(fonts,
                 "µ μ ° ± × ÷ ≤ ≥ ≠ ≈ − → ← – — … · ‰ ² ³ ⁻¹ ₂ ½ Δ Ω π √ ∞ € £ ¥ ₹ “” ‘’ ℃",
                 {.bold = bold});
    EXPECT_TRUE(line.missing.empty());
    for (const std::uint32_t id : glyphs_of(line)) EXPECT_NE(id, 0u);
  }
}

// hb-shape 6.0.0 on NotoSansDevanagari-Regular of the same package gives
// [ivowelsign06deva=0+259|kassadeva=0+712], glyphs 610 and 179: one conjunct for KA, VIRAMA, SSA,
// and the vowel sign in front of it although it is written behind.
TEST(text, devanagari_forms_its_conjunct_and_puts_its_vowel_in_front) {
  const Line line = set_line(all_fonts(), "क्षि", {});
  EXPECT_EQ(glyphs_of(line), (std::vector<std::uint32_t>{610, 179}));
  EXPECT_NEAR(line.width, 0.259 + 0.712, 1e-9);
  ASSERT_EQ(line.runs.size(), 1u);
  ASSERT_EQ(line.runs[0].clusters.size(), 1u);
  EXPECT_EQ(line.runs[0].clusters[0].text, U"क्षि");
}

// The same tool on NotoSansArabic-Regular: [uni0645=3+484|uniFEFC=1+599|uniFEB3=0+784].
TEST(text, arabic_is_joined_and_runs_from_right_to_left) {
  const Line line = set_line(all_fonts(), "سلام", {});
  EXPECT_EQ(seen(line), U"ملاس");  // meem, the ligature of lam and alef, seen
  EXPECT_NEAR(line.width, 0.484 + 0.599 + 0.784, 1e-9);
  ASSERT_EQ(line.runs[0].clusters.size(), 3u);
  EXPECT_EQ(line.runs[0].clusters[1].text, U"لا");
}

// Visual order by UAX 9, worked by hand: the Arabic word is turned round, the number within it is
// not, and Latin keeps its place.
TEST(text, directions_are_mixed_by_the_standard) {
  const Line left = set_line(all_fonts(), "flow من 42 ok", {});
  EXPECT_EQ(seen(left), U"flow 42 نم ok");
  const Line right = set_line(all_fonts(), "من 42 ok", {.right_to_left = true});
  EXPECT_EQ(seen(right), U"ok 42 نم");
  // A quantity in an isolate stays whole.
  const Line isolated = set_line(all_fonts(), "من \u206642 L/h\u2069 لا", {});
  EXPECT_NE(seen(isolated).find(U"42 L/h"), std::u32string::npos);
}

TEST(text, a_mark_stays_in_the_font_of_its_letter) {
  const Line line = set_line(all_fonts(), "e\u0323 x\u0301", {});
  EXPECT_EQ(line.runs.size(), 1u);
  EXPECT_TRUE(line.missing.empty());
}

TEST(text, a_script_without_a_font_is_told_and_keeps_its_text) {
  const Line line = set_line(Fonts(), "ok 😀 क 汉", {});
  EXPECT_EQ(line.missing, (std::set<std::string>{"Deva", "Hani", "Zyyy"}));
  EXPECT_EQ(seen(line), U"ok 😀 क 汉");
  EXPECT_EQ(set_line(Fonts(), "है।", {}).missing, std::set<std::string>{"Deva"});  // danda too
  EXPECT_TRUE(set_line(all_fonts(), "है। ok", {}).missing.empty());
}

// "It is 50 mg/L.": the danda behind the unit is set in the font of the words, not in that of any
// script that has one.
TEST(text, a_danda_behind_a_latin_word_stays_with_the_paragraph) {
  const Line line = set_line(all_fonts(), "यह 50 mg/L।", {});
  ASSERT_FALSE(line.runs.empty());
  EXPECT_EQ(line.runs.back().face, line.runs.front().face);
}

TEST(text, breaks_where_the_standard_allows) {
  const Fonts fonts;
  const auto lines = [&](const std::string& text, double width) {
    return wrapped(fonts, text, {.size = 1}, width);
  };
  using Lines = std::vector<std::string>;
  EXPECT_EQ(lines("one two three", 4.5), (Lines{"one two", "three"}));
  EXPECT_EQ(lines("one two  three", 4.5), (Lines{"one two", "three"}));  // spaces at a line's end
  EXPECT_EQ(lines("42\u00A0L/h of it", 3.2), (Lines{"42\u00A0L/h", "of it"}));  // a no-break space
  EXPECT_EQ(lines("a 42\u00A0L/h", 3.2), (Lines{"a", "42\u00A0L/h"}));
  EXPECT_EQ(lines("a of L/h", 3.2), (Lines{"a of", "L/h"}));  // a unit stays whole
  EXPECT_EQ(lines("well-known", 3.5), (Lines{"well-", "known"}));
  EXPECT_EQ(lines("(one) two", 3.6), (Lines{"(one)", "two"}));
  EXPECT_EQ(lines("one\ntwo", 100), (Lines{"one", "two"}));
  EXPECT_EQ(lines("one\n\ntwo", 100), (Lines{"one", "", "two"}));
  EXPECT_EQ(lines("", 100), (Lines{""}));
  EXPECT_EQ(lines("mmmmm", 2), (Lines{"mm", "mm", "m"})) << "a word too wide is broken within";
}

TEST(text, breaks_before_a_word_that_is_isolated_or_turned) {
  const auto lines = [](std::string_view text) {
    std::vector<std::string> out;
    for (const Line& line : set_text(all_fonts(), text, {.width = 6})) {
      std::string plain;
      for (const char32_t c : line.text) {
        if (c < 0x80) plain += static_cast<char>(c);
      }
      out.push_back(plain);
    }
    return out;
  };
  using Lines = std::vector<std::string>;
  EXPECT_EQ(lines("signed by \u2068Tamsin\u2069"), (Lines{"signed by", "Tamsin"}));
  EXPECT_EQ(lines("\u2068signed\u2069 by \u2068Tamsin\u2069"), (Lines{"signed by", "Tamsin"}));
  EXPECT_EQ(lines("\u200F\u202Esigned\u202C\u200F \u200F\u202Eby\u202C\u200F "
                  "\u200F\u202ETamsin\u202C\u200F"),
            (Lines{"signed by", "Tamsin"}));
}

TEST(text, lines_are_not_wider_than_asked_for) {
  const std::string words =
      "Das Gerät entfernt 95 % der gelösten Stoffe. क्षारीय जल को झिल्ली से छाना जाता है। تنتج الوحدة "
      "42 L/h "
      "من الماء. น้ำดื่มสะอาด Питьевая вода";
  for (double width = 3; width < 40; width += 1.7) {
    std::string together;
    for (const Line& line : set_text(all_fonts(), words, {.width = width})) {
      EXPECT_LE(line.width, width + 1e-5);
      together += encoded(line.text);
    }
    std::string without = words;
    std::erase(without, ' ');
    std::erase(together, ' ');
    EXPECT_EQ(together, without) << "at " << width;
  }
}

TEST(text, lines_of_high_scripts_stand_further_apart) {
  EXPECT_DOUBLE_EQ(leading(set_line(all_fonts(), "Water", {})), 1.42);
  EXPECT_GT(leading(set_line(all_fonts(), "ماء", {})), 1.6);
}

TEST(text, long_texts_do_not_take_long) {
  std::string text;
  for (int i = 0; i < 5000; ++i) text += "membrane غشاء झिल्ली ";
  EXPECT_GT(set_text(all_fonts(), text, {.width = 40}).size(), 500u);
}

RC_GTEST_PROP(text, any_bytes_are_set, (const std::string& bytes, bool bold, bool right_to_left)) {
  const auto lines =
      set_text(all_fonts(), bytes, {.width = 5, .bold = bold, .right_to_left = right_to_left});
  RC_ASSERT(!lines.empty());
  for (const Line& line : lines) RC_ASSERT(line.width >= 0);
}

RC_GTEST_PROP(text, any_code_points_are_set, ()) {
  const auto points = *rc::gen::container<std::vector<char32_t>>(
      rc::gen::oneOf(rc::gen::inRange<char32_t>(0x20, 0x250),
                     rc::gen::inRange<char32_t>(0x300, 0x370),
                     rc::gen::inRange<char32_t>(0x590, 0x780),
                     rc::gen::inRange<char32_t>(0x900, 0xE80),
                     rc::gen::inRange<char32_t>(0x1780, 0x1800),
                     rc::gen::inRange<char32_t>(0x2000, 0x2070),
                     rc::gen::inRange<char32_t>(0xFE00, 0xFFFE),
                     rc::gen::inRange<char32_t>(0x1F300, 0x1F700)));
  const std::u32string text(points.begin(), points.end());
  std::size_t characters = 0;
  for (const Line& line : set_text(all_fonts(), encoded(text), {.width = 8})) {
    characters += line.text.size();
    for (const Run& run : line.runs) RC_ASSERT(run.face != nullptr);
  }
  RC_ASSERT(characters <= text.size());
}

}  // namespace
}  // namespace drawoff::paper
