#include "base/base64.h"

#include <array>
#include <cstdint>

namespace drawoff::base {

namespace {

constexpr std::string_view kDigits =
    "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";

constexpr std::array<int, 256> kValues = [] {
  std::array<int, 256> values{};
  values.fill(-1);
  for (std::size_t i = 0; i < kDigits.size(); ++i) {
    values[static_cast<unsigned char>(kDigits[i])] = static_cast<int>(i);
  }
  return values;
}();

}  // namespace

std::string to_base64(std::string_view bytes) {
  std::string out;
  out.reserve((bytes.size() + 2) / 3 * 4);
  for (std::size_t i = 0; i < bytes.size(); i += 3) {
    std::uint32_t group = 0;
    for (std::size_t k = 0; k < 3; ++k) {
      group <<= 8U;
      if (i + k < bytes.size()) group |= static_cast<unsigned char>(bytes[i + k]);
    }
    const std::size_t left = bytes.size() - i;
    for (std::size_t k = 0; k < 4; ++k) {
      out += k <= left ? kDigits[(group >> (18U - 6U * k)) & 63U] : '=';
    }
  }
  return out;
}

std::optional<std::string> from_base64(std::string_view text) {
  if (text.size() % 4 != 0) return std::nullopt;
  std::string out;
  out.reserve(text.size() / 4 * 3);
  for (std::size_t i = 0; i < text.size(); i += 4) {
    const bool last = i + 4 == text.size();
    const std::size_t digits = last && text[i + 3] == '=' ? (text[i + 2] == '=' ? 2 : 3) : 4;
    std::uint32_t group = 0;
    for (std::size_t k = 0; k < 4; ++k) {
      const int value = k < digits ? kValues[static_cast<unsigned char>(text[i + k])] : 0;
      if (value < 0) return std::nullopt;
      group = group << 6U | static_cast<std::uint32_t>(value);
    }
    // What padding cuts off must have been nothing.
    const std::uint32_t cut = digits == 2 ? 0xFFFFU : digits == 3 ? 0xFFU : 0U;
    if ((group & cut) != 0) return std::nullopt;
    for (std::size_t k = 0; k + 1 < digits; ++k) {
      out += static_cast<char>(group >> (16U - 8U * k) & 0xFFU);
    }
  }
  return out;
}

}  // namespace drawoff::base
