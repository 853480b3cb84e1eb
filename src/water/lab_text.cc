#include "water/lab_text.h"

#include <array>
#include <cctype>
#include <utility>

namespace drawoff::water {
namespace {

// Of a code point, the plain text that stands for it; empty: itself.
using Pair = std::pair<std::string_view, std::string_view>;
constexpr std::array kPlain{
    Pair{"\u00a0", " "}, Pair{"\u2009", " "}, Pair{"\u202f", " "},   Pair{"\u2007", " "},
    Pair{"\u2212", "-"}, Pair{"\u2013", "-"}, Pair{"\u2014", "-"},   Pair{"\u2011", "-"},
    Pair{"\u207b", "-"}, Pair{"\u207a", "+"}, Pair{"\u00b5", "u"},   Pair{"\u03bc", "u"},
    Pair{"\u00d7", "x"}, Pair{"\u00b7", "*"}, Pair{"\u22c5", "*"},   Pair{"\u00ba", "°"},
    Pair{"\u2264", "<"}, Pair{"\u2265", ">"}, Pair{"\u00b1", "+/-"}, Pair{"\u2019", "'"},
    Pair{"\u2070", "0"}, Pair{"\u00b9", "1"}, Pair{"\u00b2", "2"},   Pair{"\u00b3", "3"},
    Pair{"\u2074", "4"}, Pair{"\u2075", "5"}, Pair{"\u2076", "6"},   Pair{"\u2077", "7"},
    Pair{"\u2078", "8"}, Pair{"\u2079", "9"}, Pair{"\u2080", "0"},   Pair{"\u2081", "1"},
    Pair{"\u2082", "2"}, Pair{"\u2083", "3"}, Pair{"\u2084", "4"},   Pair{"\u2085", "5"},
    Pair{"\u00e1", "a"}, Pair{"\u00e0", "a"}, Pair{"\u00e2", "a"},   Pair{"\u00e3", "a"},
    Pair{"\u00e4", "a"}, Pair{"\u00c1", "a"}, Pair{"\u00c4", "a"},   Pair{"\u00e9", "e"},
    Pair{"\u00e8", "e"}, Pair{"\u00ea", "e"}, Pair{"\u00c9", "e"},   Pair{"\u00ed", "i"},
    Pair{"\u00cd", "i"}, Pair{"\u00f3", "o"}, Pair{"\u00f4", "o"},   Pair{"\u00f6", "o"},
    Pair{"\u00d3", "o"}, Pair{"\u00d6", "o"}, Pair{"\u00fa", "u"},   Pair{"\u00fc", "u"},
    Pair{"\u00da", "u"}, Pair{"\u00dc", "u"}, Pair{"\u00f1", "n"},   Pair{"\u00d1", "n"},
    Pair{"\u00e7", "c"}, Pair{"\u00c7", "c"}, Pair{"&lt;", "<"},     Pair{"&gt;", ">"}};

bool is_utf8(std::string_view s) {
  for (std::size_t i = 0; i < s.size();) {
    const auto c = static_cast<unsigned char>(s[i]);
    const std::size_t n = c < 0x80                ? 1
                          : c >= 0xc2 && c < 0xe0 ? 2
                          : c >= 0xe0 && c < 0xf0 ? 3
                          : c >= 0xf0 && c < 0xf5 ? 4
                                                  : 0;
    if (n == 0 || i + n > s.size()) return false;
    for (std::size_t k = 1; k < n; ++k) {
      if ((static_cast<unsigned char>(s[i + k]) & 0xc0U) != 0x80) return false;
    }
    i += n;
  }
  return true;
}

// Windows-1252 at 0x80 … 0x9f where it is not Latin-1: only what a report may hold.
std::string_view windows_letter(unsigned char c) {
  switch (c) {
    case 0x80:
      return "€";
    case 0x91:
    case 0x92:
      return "’";
    case 0x93:
    case 0x94:
      return "\"";
    case 0x96:
      return "–";
    case 0x97:
      return "—";
    default:
      return "?";
  }
}

}  // namespace

std::string trimmed(std::string_view text) {
  const auto blank = [](char c) { return c == ' ' || c == '\t' || c == '\r' || c == '\n'; };
  while (!text.empty() && blank(text.front())) text.remove_prefix(1);
  while (!text.empty() && blank(text.back())) text.remove_suffix(1);
  return std::string(text);
}

std::string utf8_text(std::string_view bytes) {
  constexpr std::string_view kMark = "\xef\xbb\xbf";
  if (bytes.substr(0, kMark.size()) == kMark) bytes.remove_prefix(kMark.size());
  if (is_utf8(bytes)) return std::string(bytes);
  std::string out;
  for (const char raw : bytes) {
    const auto c = static_cast<unsigned char>(raw);
    if (c < 0x80) {
      out += raw;
    } else if (c < 0xa0) {
      out += windows_letter(c);
    } else {
      out += static_cast<char>(0xc0U | (c >> 6U));
      out += static_cast<char>(0x80U | (c & 0x3fU));
    }
  }
  return out;
}

std::string plain_text(std::string_view utf8) {
  std::string out;
  for (std::size_t i = 0; i < utf8.size();) {
    bool found = false;
    const auto c = static_cast<unsigned char>(utf8[i]);
    if (c >= 0x80 || c == '&') {
      for (const auto& [from, to] : kPlain) {
        if (utf8.substr(i, from.size()) != from) continue;
        out += to;
        i += from.size();
        found = true;
        break;
      }
    }
    if (found) continue;
    out += c < 0x80 ? static_cast<char>(std::tolower(c)) : utf8[i];
    ++i;
  }
  return trimmed(out);
}

std::string words_of(std::string_view plain) {
  std::string out;
  for (const char raw : plain) {
    const auto c = static_cast<unsigned char>(raw);
    if (std::isalnum(c) != 0 || c >= 0x80) {
      out += raw;
    } else if (!out.empty() && out.back() != ' ') {
      out += ' ';
    }
  }
  return trimmed(out);
}

}  // namespace drawoff::water
