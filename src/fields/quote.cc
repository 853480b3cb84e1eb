#include "fields/quote.h"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <vector>

#include "fields/json.h"
#include "units/unit.h"

namespace drawoff::fields {

namespace {

// The number of a well-formed character of `length` bytes.
char32_t code_point(std::string_view c) {
  const auto byte = [&c](std::size_t i) {
    return static_cast<char32_t>(static_cast<unsigned char>(c[i]));
  };
  switch (c.size()) {
    case 1:
      return byte(0);
    case 2:
      return ((byte(0) & 0x1FU) << 6U) | (byte(1) & 0x3FU);
    case 3:
      return ((byte(0) & 0x0FU) << 12U) | ((byte(1) & 0x3FU) << 6U) | (byte(2) & 0x3FU);
    default:
      return ((byte(0) & 0x07U) << 18U) | ((byte(1) & 0x3FU) << 12U) | ((byte(2) & 0x3FU) << 6U) |
             (byte(3) & 0x3FU);
  }
}

bool is_harmful(char32_t c) {
  return c < 0x20 || (c >= 0x7F && c <= 0x9F) || c == 0x2028 || c == 0x2029 || c == 0x200E ||
         c == 0x200F || c == 0x061C || (c >= 0x202A && c <= 0x202E) || (c >= 0x2066 && c <= 0x2069);
}

std::string cut(std::string_view text, std::size_t longest) {
  std::string out;
  std::size_t characters = 0;
  while (!text.empty()) {
    if (characters++ == longest) return out + "…";
    const std::size_t length = utf8_length(text);
    if (length == 0) {
      out += "\uFFFD";
      text.remove_prefix(1);
      continue;
    }
    const std::string_view character = text.substr(0, length);
    const char32_t c = code_point(character);
    if (is_harmful(c)) {
      out += fmt::format("\\u{:04x}", static_cast<unsigned>(c));
    } else {
      out += character;
    }
    text.remove_prefix(length);
  }
  return out;
}

// Insertions, deletions, replacements and swaps of neighbours (optimal string alignment).
std::size_t slips(std::string_view a, std::string_view b) {
  std::vector<std::size_t> before(b.size() + 1);
  std::vector<std::size_t> previous(b.size() + 1);
  std::vector<std::size_t> current(b.size() + 1);
  for (std::size_t j = 0; j <= b.size(); ++j) previous[j] = j;
  for (std::size_t i = 1; i <= a.size(); ++i) {
    current[0] = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const std::size_t replaced = previous[j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1);
      current[j] = std::min({previous[j] + 1, current[j - 1] + 1, replaced});
      if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1]) {
        current[j] = std::min(current[j], before[j - 2] + 1);
      }
    }
    before.swap(previous);
    previous.swap(current);
  }
  return previous[b.size()];
}

std::string lower(std::string_view text) {
  std::string out(text);
  for (char& c : out) {
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  }
  return out;
}

// The key without its unit, empty if it has none.
std::string_view stem(std::string_view key) {
  const units::Unit* unit = units::unit_of_key(key);
  if (unit == nullptr || unit->key.size() >= key.size()) return {};
  return key.substr(0, key.size() - unit->key.size() - 1);
}

}  // namespace

std::size_t utf8_length(std::string_view text) {
  if (text.empty()) return 0;
  const auto byte = [&text](std::size_t i) { return static_cast<unsigned char>(text[i]); };
  const unsigned char first = byte(0);
  if (first < 0x80) return 1;
  const std::size_t length = first >= 0xF0 ? 4 : first >= 0xE0 ? 3 : 2;
  if (first < 0xC2 || first > 0xF4 || text.size() < length) return 0;
  for (std::size_t i = 1; i < length; ++i) {
    if ((byte(i) & 0xC0U) != 0x80) return 0;
  }
  // Overlong forms, surrogates and beyond U+10FFFF.
  const unsigned char second = byte(1);
  if ((first == 0xE0 && second < 0xA0) || (first == 0xED && second > 0x9F) ||
      (first == 0xF0 && second < 0x90) || (first == 0xF4 && second > 0x8F)) {
    return 0;
  }
  return length;
}

std::size_t utf8_count(std::string_view text) {
  return static_cast<std::size_t>(std::count_if(text.begin(), text.end(), [](char c) {
    return (static_cast<unsigned char>(c) & 0xC0U) != 0x80;
  }));
}

std::string one_line(std::string_view text) { return cut(text, kLongestQuote); }

std::string quote_text(std::string_view text) { return '"' + one_line(text) + '"'; }

std::string quote_json(const nlohmann::ordered_json& json) { return one_line(dump(json)); }

namespace detail {

double distance(std::string_view typed, std::string_view candidate) {
  // A key longer than any of ours is no slip; the comparison costs the product of the lengths.
  if (typed.size() > 80) return 2;
  if (!stem(typed).empty() && stem(typed) == stem(candidate)) return 0.5;
  const std::size_t n = slips(lower(typed), lower(candidate));
  const std::size_t allowed = std::min<std::size_t>(3, candidate.size() / 3);
  return n <= allowed && allowed > 0 ? static_cast<double>(n) / static_cast<double>(allowed + 1)
                                     : 2;
}

}  // namespace detail

}  // namespace drawoff::fields
