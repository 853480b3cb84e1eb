#include "paper/fonts.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <string>

#include "paper/document.h"
#include "paper/latin_font.h"
#include "paper/script_fonts.h"

namespace drawoff::paper {
namespace {

TEST(fonts, a_file_that_is_no_font_is_refused) {
  for (const std::string& bytes :
       {std::string(), std::string("no font"), std::string(5000, '\1')}) {
    const auto fonts = Fonts::create({{.script = "Deva", .regular = bytes, .bold = latin_bold()}});
    ASSERT_FALSE(fonts);
    EXPECT_EQ(fonts.error().message.id, "error.paper.font");
  }
}

TEST(fonts, a_script_is_named_by_four_letters) {
  const auto named = [](const char* script) {
    return static_cast<bool>(
        Fonts::create({{.script = script, .regular = latin_regular(), .bold = latin_bold()}}));
  };
  EXPECT_TRUE(named("Deva"));
  EXPECT_FALSE(named("Devanagari"));
  EXPECT_FALSE(named("a b>"));
  EXPECT_FALSE(named(""));
}

// Prints a word in a font whose bytes are damaged: whatever comes, it is an answer.
bool survives(const std::string& bytes) {
  const auto fonts = Fonts::create({{.script = "Hebr", .regular = bytes, .bold = bytes}});
  if (!fonts) return fonts.error().message.id == "error.paper.font";
  const auto printed = print({.blocks = {Text{.text = "מים 42 שָׁלוֹם"}}}, *fonts);
  return printed ? printed->pages == 1 : printed.error().message.id == "error.paper.font";
}

std::string hebrew() {
  for (const ScriptFont& font : script_fonts()) {
    if (font.script == "Hebr") return std::string(font.regular);
  }
  return {};
}

TEST(fonts, a_file_cut_short_is_refused_or_printed) {
  const std::string whole = hebrew();
  ASSERT_GT(whole.size(), 10'000u);
  ASSERT_TRUE(survives(whole));
  for (std::size_t size = 0; size < whole.size(); size += 97) {
    EXPECT_TRUE(survives(whole.substr(0, size))) << size;
  }
}

RC_GTEST_PROP(fonts, damage_never_harms, ()) {
  std::string bytes = hebrew();
  const int changes = *rc::gen::inRange(1, 40);
  // Half of the damage falls on the tables' directory and first tables, where it matters most.
  for (int i = 0; i < changes; ++i) {
    const std::size_t place = *rc::gen::oneOf(rc::gen::inRange<std::size_t>(0, 400),
                                              rc::gen::inRange<std::size_t>(0, bytes.size()));
    bytes[place] = *rc::gen::arbitrary<char>();
  }
  RC_ASSERT(survives(bytes));
}

}  // namespace
}  // namespace drawoff::paper
