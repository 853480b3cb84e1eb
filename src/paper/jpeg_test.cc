#include "paper/jpeg.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <string>

#include "paper/jpeg_test.h"

namespace drawoff::paper {
namespace {

TEST(jpeg, baseline_and_progressive_are_read) {
  for (const char frame : {'\xC0', '\xC1', '\xC2'}) {
    const auto jpeg = read_jpeg(small_jpeg({.frame = frame}));
    ASSERT_TRUE(jpeg.has_value());
    EXPECT_EQ(jpeg->width, 640);
    EXPECT_EQ(jpeg->height, 258);
    EXPECT_EQ(jpeg->components, 3);
  }
  EXPECT_EQ(read_jpeg(small_jpeg({.components = '\1'}))->components, 1);
}

TEST(jpeg, other_kinds_are_refused) {
  EXPECT_FALSE(read_jpeg(small_jpeg({.frame = '\xC3'})));     // lossless
  EXPECT_FALSE(read_jpeg(small_jpeg({.frame = '\xC9'})));     // arithmetic coding
  EXPECT_FALSE(read_jpeg(small_jpeg({.bits = '\x0C'})));      // 12 bits
  EXPECT_FALSE(read_jpeg(small_jpeg({.components = '\4'})));  // inks
  EXPECT_FALSE(read_jpeg("\x89PNG\r\n\x1a\n"));
  EXPECT_FALSE(read_jpeg(""));
}

TEST(jpeg, a_file_cut_short_anywhere_is_refused) {
  const std::string whole = small_jpeg({});
  for (std::size_t size = 0; size < whole.size(); ++size) {
    EXPECT_FALSE(read_jpeg(whole.substr(0, size))) << size;
  }
  EXPECT_TRUE(read_jpeg(whole + std::string(3, '\0')));  // cameras pad
}

TEST(jpeg, no_picture_before_its_frame) {
  const std::string whole = small_jpeg({});
  const std::string scan_only = whole.substr(0, 2) + whole.substr(whole.find("\xFF\xDA"));
  EXPECT_FALSE(read_jpeg(scan_only));
}

RC_GTEST_PROP(jpeg, damage_never_harms, (unsigned place, char byte)) {
  std::string bytes = small_jpeg({});
  bytes[place % bytes.size()] = byte;
  const auto jpeg = read_jpeg(bytes);
  RC_ASSERT(!jpeg || (jpeg->width > 0 && jpeg->height > 0 && jpeg->bytes == bytes));
}

}  // namespace
}  // namespace drawoff::paper
