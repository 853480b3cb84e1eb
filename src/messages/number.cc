#include "messages/number.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>

#include "messages/catalogue.h"

namespace drawoff::messages {

namespace {

struct Marks {
  std::string_view language;
  std::string_view decimal;
  std::string_view group;
  int smallest_leading_group = 1;  // 2: four-digit numbers are not grouped
  bool indian = false;             // groups of two above the thousands
  std::string_view percent_space = "\u00A0";
};

constexpr Marks kMarks[] = {
    {"en", ".", ",", 1, false, ""},
    {"en-IN", ".", ",", 1, true, ""},
    {"hi", ".", ",", 1, true, ""},
    {"de", ",", "."},
    {"es", ",", ".", 2},
    {"pt", ",", ".", 1, false, ""},
    {"fr", ",", "\u202F", 1, false, "\u202F"},
};

// Of the symbols in units/unit.h, those that are words.
struct UnitWord {
  std::string_view language;
  std::string_view symbol;
  std::string_view word;
};
constexpr UnitWord kUnitWords[] = {
    {"es", "US gal", "gal (EE.\u00A0UU.)"},
    {"es", "US gal/min", "gal/min (EE.\u00A0UU.)"},
    {"es", "US gal/day", "gal/día (EE.\u00A0UU.)"},
    {"es", "US gal/(ft²·day)", "gal/(ft²·día) (EE.\u00A0UU.)"},
    {"es", "L/day", "L/día"},
    {"es", "1/day", "1/día"},
    {"es", "days", "días"},
    {"es", "years", "años"},
    {"es", "mg/L as CaCO3", "mg/L como CaCO3"},
    {"hi", "US gal", "US गैलन"},
    {"hi", "US gal/min", "US गैलन/मिनट"},
    {"hi", "US gal/day", "US गैलन/दिन"},
    {"hi", "US gal/(ft²·day)", "US गैलन/(ft²·दिन)"},
    {"hi", "L/day", "L/दिन"},
    {"hi", "1/day", "1/दिन"},
    {"hi", "s", "सेकंड"},
    {"hi", "min", "मिनट"},
    {"hi", "h", "घंटे"},
    {"hi", "days", "दिन"},
    {"hi", "years", "साल"},
    {"hi", "mg/L as CaCO3", "mg/L, CaCO3 के रूप में"},
};

// The longest entry that begins the language tag: "de-AT" is written as "de".
const Marks& marks_of(std::string_view language) {
  const Marks* best = &kMarks[0];
  std::size_t length = 0;
  for (const Marks& m : kMarks) {
    const bool begins =
        language.substr(0, m.language.size()) == m.language &&
        (language.size() == m.language.size() || language[m.language.size()] == '-');
    if (begins && m.language.size() > length) {
      best = &m;
      length = m.language.size();
    }
  }
  return *best;
}

std::string grouped(std::string_view digits, const Marks& marks) {
  const int n = static_cast<int>(digits.size());
  std::string out;
  const bool groups = n >= 3 + marks.smallest_leading_group;
  for (int i = 0; i < n; ++i) {
    const int left = n - i;  // digits from here on
    const bool boundary =
        marks.indian ? (left == 3 || (left > 3 && (left - 3) % 2 == 0)) : left % 3 == 0;
    if (groups && i > 0 && boundary) out += marks.group;
    out += digits[static_cast<std::size_t>(i)];
  }
  return out;
}

std::string superscript(int n) {
  static constexpr std::string_view kDigits[] = {"⁰", "¹", "²", "³", "⁴", "⁵", "⁶", "⁷", "⁸", "⁹"};
  std::string out = n < 0 ? "⁻" : "";
  for (char c : fmt::format("{}", std::abs(n))) out += kDigits[c - '0'];
  return out;
}

}  // namespace

std::string format_number(double value, int digits, std::string_view language) {
  const Marks& marks = marks_of(language);
  if (std::isnan(value)) return "–";
  const std::string sign = value < 0 ? "-" : "";
  if (std::isinf(value)) return sign + "∞";
  if (value == 0) return "0";

  // "d.ddde±xx": the digits and the power of ten of the first, correctly rounded.
  digits = std::clamp(digits, 1, 17);
  const std::string text = fmt::format("{:.{}e}", std::abs(value), digits - 1);
  const auto e = text.find('e');
  std::string mantissa = text.substr(0, 1);
  if (digits > 1) mantissa += text.substr(2, e - 2);
  const int power = std::atoi(text.c_str() + e + 1);

  const auto decimal = [&marks](std::string_view whole, std::string_view fraction) {
    std::string out = grouped(whole, marks);
    if (!fraction.empty()) out.append(marks.decimal).append(fraction);
    return out;
  };
  const std::string_view all = mantissa;
  if (power < -6 || power >= 15) {
    return sign + decimal(all.substr(0, 1), all.substr(1)) + "×10" + superscript(power);
  }
  if (power < 0) {
    return sign + decimal("0", std::string(static_cast<std::size_t>(-power - 1), '0') + mantissa);
  }
  const std::size_t whole = static_cast<std::size_t>(power) + 1;
  if (whole >= all.size()) {
    return sign + decimal(mantissa + std::string(whole - all.size(), '0'), "");
  }
  return sign + decimal(all.substr(0, whole), all.substr(whole));
}

std::string format_quantity(const base::Number& number, std::string_view language) {
  std::string out = format_number(number.value, number.digits, language);
  if (!number.unit.empty()) {
    out += number.unit == "%" ? marks_of(language).percent_space : std::string_view("\u00A0");
    out += unit_in(number.unit, language);
  }
  return right_to_left(language) ? "\u2066" + out + "\u2069" : out;
}

std::string unit_in(std::string_view symbol, std::string_view language) {
  const std::string_view known = marks_of(language).language;
  for (const UnitWord& w : kUnitWords) {
    if (w.language == known && w.symbol == symbol) return std::string(w.word);
  }
  return std::string(symbol);
}

std::string with_decimal_mark(std::string plain, std::string_view language) {
  const auto point = plain.find('.');
  if (point != std::string::npos) plain.replace(point, 1, marks_of(language).decimal);
  return plain;
}

double rounded(double value, int digits) {
  if (value == 0 || !std::isfinite(value)) return value;
  const double scale = std::pow(10.0, digits - 1 - std::floor(std::log10(std::fabs(value))));
  return std::round(value * scale) / scale;
}

int digits_of(double value) {
  if (value == 0 || !std::isfinite(value)) return 1;
  for (int digits = 1; digits < 17; ++digits) {
    if (std::strtod(fmt::format("{:.{}e}", value, digits - 1).c_str(), nullptr) == value) {
      return digits;
    }
  }
  return 17;
}

}  // namespace drawoff::messages
