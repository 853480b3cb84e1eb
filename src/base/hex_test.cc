#include "base/hex.h"

#include <gtest/gtest.h>
#include <rapidcheck.h>

namespace drawoff::base {
namespace {

TEST(Hex, writes_two_small_digits_a_byte) {
  EXPECT_EQ(to_hex(std::string_view("\x00\x7f\xff Z", 5)), "007fff205a");
  EXPECT_EQ(from_hex("007fff205a"), std::string("\x00\x7f\xff Z", 5));
}

TEST(Hex, gives_back_any_bytes) {
  EXPECT_TRUE(
      rc::check([](const std::string& bytes) { RC_ASSERT(from_hex(to_hex(bytes)) == bytes); }));
}

TEST(Hex, refuses_what_it_would_not_write) {
  for (const char* text : {"0", "0A", "0g", " 00", "00 ", "0x"}) {
    EXPECT_EQ(from_hex(text), std::nullopt) << text;
  }
}

}  // namespace
}  // namespace drawoff::base
