#include "book/stamp.h"

#include <gtest/gtest.h>

#include <string_view>

namespace drawoff::book {
namespace {

TEST(Uuid, version_7_in_lower_case) {
  // The example of RFC 9562, appendix A.6.
  EXPECT_TRUE(is_uuid_v7("017f22e2-79b0-7cc3-98c4-dc0c0c07398f"));
  for (const std::string_view text : {"",
                                      "017F22E2-79B0-7CC3-98C4-DC0C0C07398F",
                                      "919108f7-52d1-4320-9bac-f847db4148a8",  // version 4, A.3
                                      "017f22e2-79b0-7cc3-c8c4-dc0c0c07398f",  // variant
                                      "017f22e279b07cc398c4dc0c0c07398f",
                                      "{017f22e2-79b0-7cc3-98c4-dc0c0c07398f}",
                                      "017f22e2-79b0-7cc3-98c4-dc0c0c07398",
                                      "017f22e2-79b0-7cc3-98c4-dc0c0c07398g",
                                      "00000000-0000-0000-0000-000000000000"}) {
    EXPECT_FALSE(is_uuid_v7(text)) << text;
  }
}

TEST(UtcTime, as_rfc_3339_in_utc) {
  // The first and, in UTC, third example of RFC 3339, section 5.8; leap years; a leap second.
  for (const std::string_view text : {"1985-04-12T23:20:50.52Z",
                                      "1990-12-31T23:59:60Z",
                                      "2024-02-29T00:00:00Z",
                                      "2000-02-29T00:00:00.123456789Z",
                                      "0000-01-01T00:00:00Z"}) {
    EXPECT_TRUE(is_utc_time(text)) << text;
  }
  for (const std::string_view text : {"",
                                      "Z",
                                      "2025-03-09",
                                      "2025-03-09T08:15Z",
                                      "2025-03-09T08:15:00",
                                      "2025-03-09 08:15:00Z",
                                      "2025-03-09t08:15:00z",
                                      "2025-03-09T08:15:00+01:00",
                                      "2025-03-09T08:15:00.Z",
                                      "2025-03-09T08:15:00.1234567890Z",
                                      "2025-03-09T08:15:00,5Z",
                                      "2025-03-09T08:15:00.5xZ",
                                      "2025-02-29T00:00:00Z",
                                      "1900-02-29T00:00:00Z",
                                      "2025-04-31T00:00:00Z",
                                      "2025-13-01T00:00:00Z",
                                      "2025-00-01T00:00:00Z",
                                      "2025-01-00T00:00:00Z",
                                      "2025-01-01T24:00:00Z",
                                      "2025-01-01T00:60:00Z",
                                      "2025-01-01T00:00:60Z",
                                      "2025-01-31T23:59:61Z"}) {
    EXPECT_FALSE(is_utc_time(text)) << text;
  }
}

TEST(UtcTime, to_the_millisecond_it_sorts_as_text) {
  EXPECT_EQ(to_millisecond({"2025-03-09T08:15:00Z"}), "2025-03-09T08:15:00.000Z");
  EXPECT_EQ(to_millisecond({"2025-03-09T08:15:00.5Z"}), "2025-03-09T08:15:00.500Z");
  EXPECT_EQ(to_millisecond({"2025-03-09T08:15:00.987654321Z"}), "2025-03-09T08:15:00.987Z");
}

TEST(Clock, time_counter_and_device) {
  const Clock clock{"2025-03-09T08:15:00.000Z-00af-van-1.b"};
  EXPECT_TRUE(is_clock(clock.text));
  EXPECT_EQ(clock.time(), "2025-03-09T08:15:00.000Z");
  EXPECT_EQ(clock.device(), "van-1.b");
  EXPECT_TRUE(is_clock("2025-03-09T08:15:00.000Z-0000-a"));
  for (const std::string_view text : {"",
                                      "2025-03-09T08:15:00.000Z",
                                      "2025-03-09T08:15:00.000Z-0000",
                                      "2025-03-09T08:15:00.000Z-0000-",
                                      "2025-03-09T08:15:00.000Z-00AF-van1",
                                      "2025-03-09T08:15:00.000Z-000-van1",
                                      "2025-03-09T08:15:00.00Z-0000-van1",
                                      "2025-03-09T08:15:00.0000-0000-van1",
                                      "2025-02-30T08:15:00.000Z-0000-van1",
                                      "2025-03-09T08:15:00.000Z-0000-van 1",
                                      "2025-03-09T08:15:00.000Z-0000--van1"}) {
    EXPECT_FALSE(is_clock(text)) << text;
  }
}

TEST(Device, plain_characters_only) {
  EXPECT_TRUE(is_device("a"));
  EXPECT_TRUE(is_device("Phone_2.old-one"));
  EXPECT_TRUE(is_device("1234567890123456789012345678901234567890"));
  for (const std::string_view text :
       {"", "-a", "a.", "a b", "é", "a/b", "a\n", "12345678901234567890123456789012345678901"}) {
    EXPECT_FALSE(is_device(text)) << text;
  }
}

}  // namespace
}  // namespace drawoff::book
