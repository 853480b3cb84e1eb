// For tests only: the segments of a JPEG file, around a picture that means nothing.
#pragma once

#include <string>

namespace drawoff::paper {

struct SmallJpeg {
  char frame = '\xC0';
  char bits = '\x08';
  char components = '\3';
};

// 640 × 258 points.
inline std::string small_jpeg(const SmallJpeg& kind) {
  using namespace std::string_literals;
  const auto count = static_cast<std::size_t>(kind.components);
  const std::string comment = "\xFF\xFE\0\5abc"s;
  std::string frame = "\xFF"s + kind.frame + '\0' + static_cast<char>(8 + 3 * count) + kind.bits +
                      "\x01\x02\x02\x80"s + kind.components;
  std::string scan = "\xFF\xDA\0"s + static_cast<char>(6 + 2 * count) + kind.components;
  for (std::size_t i = 1; i <= count; ++i) {
    frame += static_cast<char>(i) + "\x11\0"s;
    scan += static_cast<char>(i) + "\0"s;
  }
  scan += "\0\x3F\0"s;
  return "\xFF\xD8"s + comment + frame + scan + "coded" + "\xFF\xD9"s;
}

}  // namespace drawoff::paper
