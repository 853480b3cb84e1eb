#include "paper/estimate.h"

#include <algorithm>

namespace drawoff::paper {

namespace {

// Characters of UTF-8 text; near enough for an estimate of its width.
std::size_t characters(std::string_view text) {
  std::size_t count = 0;
  for (const char c : text) count += (static_cast<unsigned char>(c) & 0xC0U) != 0x80U;
  return count;
}

}  // namespace

std::vector<std::string> estimated_lines(std::string_view text, const EstimatedType& type) {
  constexpr double kMeanWidth = 0.54;  // of a letter, in sizes, of a usual sans serif
  if (type.width <= 0) return {std::string(text)};
  const auto most = static_cast<std::size_t>(type.width / (kMeanWidth * type.size));
  std::vector<std::string> lines(1);
  while (!text.empty()) {
    const std::size_t end = std::min(text.find(' '), text.size());
    const std::string_view word = text.substr(0, end);
    text.remove_prefix(std::min(end + 1, text.size()));
    if (!lines.back().empty() && characters(lines.back()) + 1 + characters(word) > most) {
      lines.emplace_back();
    }
    if (!lines.back().empty()) lines.back() += ' ';
    lines.back() += word;
  }
  return lines;
}

}  // namespace drawoff::paper
