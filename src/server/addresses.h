// Addresses of the Internet Protocol as text: what they reach, and those of this computer.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace drawoff::server {

// Whether the text is a numeric address, such as 192.0.2.7 or 2001:db8::7.
bool is_address(std::string_view text);
// Whether it is one that only this computer itself reaches: 127.0.0.0/8 or ::1.
bool is_loopback(std::string_view text);

// At which addresses others reach what listens at this one: itself or, if it stands for all of its
// family (0.0.0.0, ::), each that the computer has, but those of one cable only and loopback.
std::vector<std::string> reached_at(const std::string& address);

struct Place {
  std::string scheme;  // "http" or "https"
  std::string address;
  std::uint16_t port = 0;
};
// "https://192.0.2.7:8420/"
std::string url_of(const Place& place);

}  // namespace drawoff::server
