#include "paper/qr.h"

#include <gtest/gtest.h>

#include <string>
#include <variant>

namespace drawoff::paper {
namespace {

TEST(qr, has_a_quiet_zone_of_four_modules_and_its_three_finders) {
  const auto code = qr_code("HELLO", 29);  // version 1: 21 modules and twice four, 1 mm each
  ASSERT_TRUE(code);
  EXPECT_EQ(code->width, 29);
  EXPECT_EQ(code->height, 29);
  const auto& segments = std::get<Path>(code->items.front()).segments;
  double low = 29;
  double high = 0;
  for (const Segment& segment : segments) {
    if (segment.kind == Segment::Kind::kClose) continue;
    low = std::min({low, segment.to.x, segment.to.y});
    high = std::max({high, segment.to.x, segment.to.y});
  }
  EXPECT_NEAR(low, 4, 1e-9);
  EXPECT_NEAR(high, 25, 1e-9);
  // The first row of modules begins with the upper edge of a finder, seven modules long.
  EXPECT_NEAR(segments[0].to.x, 4, 1e-9);
  EXPECT_NEAR(segments[1].to.x, 11, 1e-9);
}

TEST(qr, holds_as_much_as_the_standard_says_and_no_more) {
  // [iso2015], version 40 at level M: 2331 bytes (from memory; the generator agrees).
  EXPECT_TRUE(qr_code(std::string(2331, 'a'), 60));
  const auto code = qr_code(std::string(2332, 'a'), 60);
  ASSERT_FALSE(code);
  EXPECT_EQ(code.error().message.id, "error.paper.code");
}

}  // namespace
}  // namespace drawoff::paper
