#include "paper/utf8.h"

#include <cstddef>

#include "base/check.h"

namespace drawoff::paper {
namespace {

struct Lead {
  unsigned length;
  char32_t bits;
  char32_t least;  // a smaller value would be an overlong form
};

Lead lead(unsigned char byte) {
  if (byte < 0x80) return {1, byte, 0};
  if (byte >= 0xC2 && byte < 0xE0) return {2, char32_t{byte} & 0x1F, 0x80};
  if (byte >= 0xE0 && byte < 0xF0) return {3, char32_t{byte} & 0x0F, 0x800};
  if (byte >= 0xF0 && byte < 0xF5) return {4, char32_t{byte} & 0x07, 0x10000};
  return {0, 0, 0};
}

bool is_scalar(char32_t c) { return c < 0xD800 || (c > 0xDFFF && c <= 0x10FFFF); }

}  // namespace

std::u32string decoded(std::string_view utf8) {
  std::u32string text;
  text.reserve(utf8.size());
  for (std::size_t at = 0; at < utf8.size();) {
    const Lead first = lead(static_cast<unsigned char>(utf8[at]));
    char32_t value = first.bits;
    bool good = first.length > 0 && at + first.length <= utf8.size();
    for (unsigned i = 1; good && i < first.length; ++i) {
      const auto next = static_cast<unsigned char>(utf8[at + i]);
      good = (next & 0xC0) == 0x80;
      value = value << 6 | (next & 0x3Fu);
    }
    good = good && value >= first.least && is_scalar(value);
    text += good ? value : U'\uFFFD';
    at += good ? first.length : 1;
  }
  return text;
}

std::string encoded(std::u32string_view text) {
  std::string utf8;
  for (const char32_t c : text) {
    CHECK(is_scalar(c));
    const auto put = [&](char32_t byte) { utf8 += static_cast<char>(byte); };
    if (c < 0x80) {
      put(c);
    } else if (c < 0x800) {
      put(0xC0 | c >> 6);
      put(0x80 | (c & 0x3F));
    } else if (c < 0x10000) {
      put(0xE0 | c >> 12);
      put(0x80 | (c >> 6 & 0x3F));
      put(0x80 | (c & 0x3F));
    } else {
      put(0xF0 | c >> 18);
      put(0x80 | (c >> 12 & 0x3F));
      put(0x80 | (c >> 6 & 0x3F));
      put(0x80 | (c & 0x3F));
    }
  }
  return utf8;
}

}  // namespace drawoff::paper
