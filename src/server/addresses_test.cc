#include "server/addresses.h"

#include <gtest/gtest.h>

namespace drawoff::server {
namespace {

TEST(Addresses, are_told_from_names) {
  for (const char* good : {"127.0.0.1", "0.0.0.0", "192.0.2.7", "::", "::1", "2001:db8::7"}) {
    EXPECT_TRUE(is_address(good)) << good;
  }
  for (const char* bad : {"", "localhost", "127.1", "127.0.0.1:80", "[::1]", "256.0.0.1", " ::1"}) {
    EXPECT_FALSE(is_address(bad)) << bad;
    EXPECT_FALSE(is_loopback(bad)) << bad;
  }
}

TEST(Addresses, loopback_is_this_computer_alone) {
  for (const char* here : {"127.0.0.1", "127.255.0.9", "::1"}) {
    EXPECT_TRUE(is_loopback(here)) << here;
  }
  for (const char* beyond : {"0.0.0.0", "::", "192.0.2.7", "::ffff:127.0.0.1", "fe80::1"}) {
    EXPECT_FALSE(is_loopback(beyond)) << beyond;
  }
}

TEST(Addresses, one_is_reached_at_itself_and_all_at_those_of_the_computer) {
  EXPECT_EQ(reached_at("192.0.2.7"), std::vector<std::string>{"192.0.2.7"});
  EXPECT_EQ(reached_at("::1"), std::vector<std::string>{"::1"});
  for (const char* all : {"0.0.0.0", "::"}) {
    for (const std::string& address : reached_at(all)) {
      EXPECT_TRUE(is_address(address)) << address;
      EXPECT_FALSE(is_loopback(address)) << address;
      EXPECT_EQ(address.find(':') != std::string::npos, std::string(all) == "::") << address;
    }
  }
}

TEST(Addresses, make_urls) {
  EXPECT_EQ(url_of({.scheme = "http", .address = "127.0.0.1", .port = 8420}),
            "http://127.0.0.1:8420/");
  EXPECT_EQ(url_of({.scheme = "https", .address = "2001:db8::7", .port = 443}),
            "https://[2001:db8::7]:443/");
}

}  // namespace
}  // namespace drawoff::server
