#include "layout.h"

#include <gtest/gtest.h>

#include <string>

namespace drawoff::cli {
namespace {

TEST(Layout, breaks_between_words) {
  const Layout narrow{.width = 12};
  EXPECT_EQ(narrow.wrap("one two three four"), "one two\nthree four\n");
  EXPECT_EQ(narrow.wrap("one two three", {.first = 2, .rest = 4}), "  one two\n    three\n");
  EXPECT_EQ(narrow.wrap("incomprehensibilities a"), "incomprehensibilities\na\n");
  EXPECT_EQ(narrow.wrap("a\n\nb"), "a\n\nb\n");
  EXPECT_EQ(narrow.wrap(""), "\n");
}

TEST(Layout, counts_characters_and_keeps_no_break_spaces) {
  const Layout narrow{.width = 8};
  EXPECT_EQ(narrow.wrap("µµµ ≈≈≈≈"), "µµµ ≈≈≈≈\n");
  EXPECT_EQ(narrow.wrap("flow 14.0\u00A0L/h"), "flow\n14.0\u00A0L/h\n");
}

TEST(Layout, sets_rows_in_columns) {
  const Layout layout{.width = 40};
  EXPECT_EQ(layout.rows({{"pH", "7.3", "as it came"}, {"µS/cm", "512", ""}}, 2),
            "  pH     7.3  as it came\n"
            "  µS/cm  512\n");
  EXPECT_EQ(layout.rows({{"a", "eleven words that are far too long for one line of it"}}, 0),
            "a  eleven words that are far too long\n"
            "   for one line of it\n");
  EXPECT_EQ(layout.rows({}, 2), "");
}

TEST(Layout, a_narrow_terminal_gets_blocks) {
  const Layout narrow{.width = 24};
  EXPECT_EQ(narrow.rows({{"Product flow", "14.0 L/h", "within what is expected"}}, 0),
            "Product flow\n"
            "  14.0 L/h\n"
            "  within what is\n"
            "    expected\n");
}

TEST(Layout, colour_only_where_there_is) {
  EXPECT_EQ(Layout{}.bold("x"), "x");
  EXPECT_EQ(Layout{}.yellow("x"), "x");
  EXPECT_EQ((Layout{.width = 80, .colour = true}.bold("x")), "\x1b[1mx\x1b[0m");
}

}  // namespace
}  // namespace drawoff::cli
