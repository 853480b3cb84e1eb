#include "layout.h"

#include <algorithm>

#include "fields/quote.h"

namespace drawoff::cli {

namespace {

constexpr std::size_t kGap = 2;             // between columns
constexpr std::size_t kNarrowestLast = 24;  // less is no column of text

std::string spaces(std::size_t n) { return std::string(n, ' '); }

// The text in lines of at most `width` characters, without their ends.
std::vector<std::string> lines_of(std::string_view text, std::size_t first, std::size_t rest) {
  std::vector<std::string> lines(1);
  std::size_t used = 0;
  while (!text.empty()) {
    const std::size_t end = text.find_first_of(" \n");
    const std::string_view word = text.substr(0, end);
    const std::size_t length = width_of(word);
    const std::size_t limit = lines.size() == 1 ? first : rest;
    if (!word.empty()) {
      if (used > 0 && used + 1 + length > limit) {
        lines.emplace_back(word);
        used = length;
      } else {
        if (used > 0) lines.back() += ' ';
        lines.back() += word;
        used += length + (used > 0 ? 1 : 0);
      }
    }
    if (end == std::string_view::npos) break;
    if (text[end] == '\n') {
      lines.emplace_back();
      used = 0;
    }
    text.remove_prefix(end + 1);
  }
  return lines;
}

std::size_t left_of(std::size_t width, std::size_t taken) {
  return width > taken ? width - taken : 1;
}

std::string coloured(const char* code, std::string_view text) {
  std::string out = "\x1b[";
  return out.append(code).append("m").append(text).append("\x1b[0m");
}

}  // namespace

std::size_t width_of(std::string_view text) { return fields::utf8_count(text); }

std::string Layout::wrap(std::string_view text, Indent indent) const {
  std::string out;
  std::size_t margin = indent.first;
  for (const std::string& line :
       lines_of(text, left_of(width, indent.first), left_of(width, indent.rest))) {
    if (!line.empty()) out += spaces(margin) + line;
    out += '\n';
    margin = indent.rest;
  }
  return out;
}

std::string Layout::rows(const std::vector<std::vector<std::string>>& rows,
                         std::size_t indent) const {
  std::vector<std::size_t> widths;
  for (const auto& row : rows) {
    widths.resize(std::max(widths.size(), row.size()));
    for (std::size_t i = 0; i < row.size(); ++i) widths[i] = std::max(widths[i], width_of(row[i]));
  }
  std::size_t before_last = indent;
  for (std::size_t i = 0; i + 1 < widths.size(); ++i) before_last += widths[i] + kGap;
  const bool fits =
      widths.empty() || before_last + std::min(widths.back(), kNarrowestLast) <= width;

  std::string out;
  for (const auto& row : rows) {
    if (!fits) {
      for (std::size_t i = 0; i < row.size(); ++i) {
        const std::size_t margin = indent + (i == 0 ? 0 : kGap);
        if (!row[i].empty()) out += wrap(row[i], {.first = margin, .rest = margin + kGap});
      }
      continue;
    }
    std::string line = spaces(indent);
    for (std::size_t i = 0; i < row.size(); ++i) {
      if (i + 1 == widths.size()) {
        const std::size_t room = left_of(width, before_last);
        const auto last = lines_of(row[i], room, room);
        for (std::size_t k = 0; k < last.size(); ++k) {
          line += k == 0 ? last[k] : '\n' + spaces(before_last) + last[k];
        }
      } else {
        line += row[i] + spaces(widths[i] - width_of(row[i]) + kGap);
      }
    }
    line.erase(line.find_last_not_of(' ') + 1);
    out += line + '\n';
  }
  return out;
}

std::string Layout::bold(std::string_view text) const {
  return colour ? coloured("1", text) : std::string(text);
}

std::string Layout::yellow(std::string_view text) const {
  return colour ? coloured("33", text) : std::string(text);
}

}  // namespace drawoff::cli
