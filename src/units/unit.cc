#include "units/unit.h"

#include <fmt/format.h>

#include <cstdlib>
#include <string>

namespace drawoff::units {

namespace {

bool is_digit(char c) { return c >= '0' && c <= '9'; }

// The value of x when written with this many significant digits.
double rounded(double x, int digits) {
  return std::strtod(fmt::format("{:.{}e}", x, digits - 1).c_str(), nullptr);
}

// Takes the spaces out of a number, also the no-break (U+00A0), thin (U+2009) and narrow no-break
// (U+202F) ones, which group digits in many languages; those at the ends mean nothing.
std::string without_spaces(std::string_view typed) {
  static constexpr std::string_view kSpaces[] = {" ", "\u00A0", "\u2009", "\u202F"};
  std::string out;
  while (!typed.empty()) {
    bool space = false;
    for (std::string_view s : kSpaces) {
      if (typed.substr(0, s.size()) != s) continue;
      typed.remove_prefix(s.size());
      // Between digits a space groups, and is kept as one until the groups have been checked.
      if (!out.empty() && !typed.empty()) out += ' ';
      space = true;
      break;
    }
    if (space) continue;
    out += typed.front();
    typed.remove_prefix(1);
  }
  while (!out.empty() && out.back() == ' ') out.pop_back();
  return out;
}

// Digits in groups: "1,234,567" with ',' gives "1234567"; none if a group is not of three.
std::optional<std::string> ungrouped(std::string_view text, char mark) {
  std::string out;
  std::size_t group = 0;
  bool first = true;
  for (char c : text) {
    if (c == mark) {
      if (first ? group < 1 || group > 3 : group != 3) return std::nullopt;
      first = false;
      group = 0;
    } else if (is_digit(c)) {
      out += c;
      ++group;
    } else {
      return std::nullopt;
    }
  }
  if (!first && group != 3) return std::nullopt;
  return out;
}

}  // namespace

double from_si_shortest(const Unit& unit, double si) {
  const double plain = from_si(unit, si);
  if (!std::isfinite(plain)) return plain;
  // Whole numbers are the common case; adding 0 turns -0 into 0.
  if (const double whole = std::round(plain) + 0.0; to_si(unit, whole) == si) return whole;
  // Without an offset only the last digits can differ; with one, cancellation can spoil many.
  for (int digits = unit.offset == 0 ? 15 : 1; digits <= 17; ++digits) {
    const double shorter = rounded(plain, digits);
    if (to_si(unit, shorter) == si) return shorter;
  }
  for (double away : {-HUGE_VAL, HUGE_VAL}) {
    const double neighbour = std::nextafter(plain, away);
    if (to_si(unit, neighbour) == si) return neighbour;
  }
  return plain;
}

std::optional<double> parse_number(std::string_view typed) {
  const std::string text = without_spaces(typed);
  std::string_view rest = text;
  std::string number;
  if (rest.substr(0, 1) == "+") {
    rest.remove_prefix(1);
  } else if (rest.substr(0, 1) == "-") {
    number = "-";
    rest.remove_prefix(1);
  } else if (rest.substr(0, 3) == "\u2212") {  // the minus sign of print
    number = "-";
    rest.remove_prefix(3);
  }

  std::string_view exponent;
  if (const auto e = rest.find_first_of("eE"); e != std::string_view::npos) {
    exponent = rest.substr(e + 1);
    rest = rest.substr(0, e);
    std::string_view digits = exponent;
    if (!digits.empty() && (digits[0] == '+' || digits[0] == '-')) digits.remove_prefix(1);
    if (digits.empty() || digits.find_first_not_of("0123456789") != std::string_view::npos) {
      return std::nullopt;
    }
  }

  // The last mark is the decimal one, unless it is repeated: then it groups.
  const auto last = rest.find_last_of(".,");
  std::string_view whole = rest;
  std::string_view fraction;
  if (last != std::string_view::npos && rest.find(rest[last]) == last) {
    whole = rest.substr(0, last);
    fraction = rest.substr(last + 1);
  }
  const auto mark = whole.find_first_of("., ");
  const auto digits = ungrouped(whole, mark == std::string_view::npos ? ',' : whole[mark]);
  if (!digits || (digits->empty() && fraction.empty())) return std::nullopt;
  if (fraction.find_first_not_of("0123456789") != std::string_view::npos) return std::nullopt;

  number += *digits;
  number += '.';
  number += fraction;
  if (!exponent.empty()) number += "e" + std::string(exponent);
  const double value = std::strtod(number.c_str(), nullptr);
  if (!std::isfinite(value)) return std::nullopt;
  return value == 0 ? 0 : value;
}

}  // namespace drawoff::units
