#include "paper/utf8.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <string>

namespace drawoff::paper {
namespace {

TEST(utf8, reads_every_length) {
  EXPECT_EQ(decoded("aµक😀"), U"aµक😀");
  EXPECT_EQ(encoded(U"aµक😀"), "aµक😀");
}

TEST(utf8, what_is_no_utf8_becomes_the_replacement_character) {
  EXPECT_EQ(decoded("a\x80z"), U"a\uFFFDz");                            // no lead byte
  EXPECT_EQ(decoded("\xC3"), U"\uFFFD");                                // cut short
  EXPECT_EQ(decoded("\xC0\xAF"), U"\uFFFD\uFFFD");                      // overlong
  EXPECT_EQ(decoded("\xED\xA0\x80"), U"\uFFFD\uFFFD\uFFFD");            // a surrogate
  EXPECT_EQ(decoded("\xF4\x90\x80\x80"), U"\uFFFD\uFFFD\uFFFD\uFFFD");  // beyond Unicode
}

RC_GTEST_PROP(utf8, any_bytes_become_text_that_can_be_written, (const std::string& bytes)) {
  const std::string written = encoded(decoded(bytes));
  RC_ASSERT(encoded(decoded(written)) == written);
}

}  // namespace
}  // namespace drawoff::paper
