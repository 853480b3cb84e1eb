#include "water/lab_value.h"

#include <array>
#include <cctype>
#include <cmath>
#include <cstdlib>

#include "water/lab_text.h"

namespace drawoff::water {
namespace {

bool is_figure(char c) { return std::isdigit(static_cast<unsigned char>(c)) != 0; }

constexpr std::array<std::string_view, 20> kNothingWords{
    "",     "-",       "--",         "---",          "n/a",          "na",
    "n.a.", "n a",     "not tested", "nt",           "not analysed", "not analyzed",
    "n.b.", ".",       "*",          "not reported", "not measured", "not required",
    "null", "not done"};
constexpr std::array<std::string_view, 6> kNoneWords{
    "nil", "none", "absent", "zero", "not present", "negative"};
// Longest first: "bdl" is not "b".
constexpr std::array<std::string_view, 20> kNotDetectedWords{"below detection limit",
                                                             "below reporting limit",
                                                             "not detectable",
                                                             "none detected",
                                                             "not detected",
                                                             "no detectado",
                                                             "undetected",
                                                             "<lod",
                                                             "< lod",
                                                             "<loq",
                                                             "< loq",
                                                             "<mdl",
                                                             "n.d.",
                                                             "n.n.",
                                                             "bdl",
                                                             "bql",
                                                             "blq",
                                                             "lod",
                                                             "nd",
                                                             "nn"};
constexpr std::array<std::string_view, 6> kBelowWords{
    "<=", "<", "less than", "below", "under", "menor que"};
constexpr std::array<std::string_view, 5> kAboveWords{">=", ">", "more than", "above", "over"};
constexpr std::array<std::string_view, 6> kAboutWords{"~", "ca.", "ca ", "approx.", "about", "="};

template <std::size_t kCount>
bool is_one_of(std::string_view text, const std::array<std::string_view, kCount>& words) {
  for (const auto w : words) {
    if (text == w) return true;
  }
  return false;
}

// Takes a beginning off, if the text has one of them; a word must end where the text's word does.
template <std::size_t kCount>
bool take(std::string_view& text, const std::array<std::string_view, kCount>& beginnings) {
  for (const auto b : beginnings) {
    if (text.substr(0, b.size()) != b) continue;
    const bool letters = std::isalpha(static_cast<unsigned char>(b.back())) != 0;
    if (letters && text.size() > b.size() &&
        std::isalpha(static_cast<unsigned char>(text[b.size()])) != 0) {
      continue;
    }
    text.remove_prefix(b.size());
    while (!text.empty() && (text.front() == ' ' || text.front() == ':')) text.remove_prefix(1);
    return true;
  }
  return false;
}

// The figures of one number and the marks between them.
struct Figures {
  std::string text;        // with its marks
  std::size_t length = 0;  // of what was taken
};

Figures figures_of(std::string_view s) {
  Figures out;
  std::size_t i = 0;
  if (i < s.size() && (s[i] == '+' || s[i] == '-')) out.text += s[i++];
  const std::size_t first = i;
  while (i < s.size()) {
    const char c = s[i];
    const bool next = i + 1 < s.size() && is_figure(s[i + 1]);
    if (is_figure(c)) {
      out.text += c;
    } else if ((c == '.' || c == ',') && (next || i > first)) {
      // "12." at the end of a sentence is 12.
      if (!next) break;
      out.text += c;
    } else if ((c == ' ' || c == '\'') && next && i > first) {
      // A blank parts thousands only: three figures, then no more.
      std::size_t n = 0;
      while (i + 1 + n < s.size() && is_figure(s[i + 1 + n])) ++n;
      if (n != 3 || !is_figure(s[i - 1])) break;
      out.text += ' ';
    } else {
      break;
    }
    ++i;
  }
  out.length = i;
  if (out.text.empty() || !is_figure(out.text.back())) return {};
  return out;
}

std::size_t count_of(const std::string& s, char c) {
  std::size_t n = 0;
  for (const char x : s) n += x == c ? 1 : 0;
  return n;
}

// Groups of three behind every mark of this kind, one to three before the first.
bool grouped(const std::string& s, char mark) {
  std::size_t run = 0;
  bool first = true;
  for (const char c : s) {
    if (is_figure(c)) {
      ++run;
    } else if (c == mark) {
      if (first ? run < 1 || run > 3 : run != 3) return false;
      first = false;
      run = 0;
    } else if (c == '.' || c == ',') {
      break;  // the decimal mark ends the groups
    }
  }
  return first || run == 3;
}

struct Read {
  std::optional<double> value;
  bool two = false;
  std::optional<DecimalMark> shown;
};

Read read_figures(const std::string& text, DecimalMark mark) {
  const std::size_t points = count_of(text, '.');
  const std::size_t commas = count_of(text, ',');
  char decimal = 0;
  char thousand = 0;
  Read out;
  if (points > 0 && commas > 0) {
    decimal = text.rfind('.') > text.rfind(',') ? '.' : ',';
    thousand = decimal == '.' ? ',' : '.';
    if (count_of(text, decimal) != 1) return {};
    out.shown = decimal == '.' ? DecimalMark::kPoint : DecimalMark::kComma;
  } else if (points > 1 || commas > 1) {
    thousand = points > 1 ? '.' : ',';
    out.shown = points > 1 ? DecimalMark::kComma : DecimalMark::kPoint;
  } else if (points + commas == 1) {
    const char only = points == 1 ? '.' : ',';
    const std::size_t at = text.find(only);
    const std::size_t begin = is_figure(text.front()) || text.front() == only ? 0 : 1;
    const std::size_t before = at - begin;
    const bool may_group = text.size() - at - 1 == 3 && before >= 1 && before <= 3 &&
                           text[begin] != '0' && text.find(' ') == std::string::npos;
    const auto as_decimal = only == '.' ? DecimalMark::kPoint : DecimalMark::kComma;
    if (!may_group) {
      decimal = only;
      out.shown = as_decimal;
    } else {
      (mark == as_decimal ? decimal : thousand) = only;
      // A point before three figures is a decimal one where points are: nobody doubts it.
      out.two = !(only == '.' && mark == DecimalMark::kPoint);
    }
  }
  if (thousand != 0 && !grouped(text, thousand)) return {};
  std::string clean;
  for (const char c : text) {
    if (c == thousand || c == ' ') continue;
    clean += c == decimal ? '.' : c;
  }
  out.value = std::strtod(clean.c_str(), nullptr);
  return out;
}

// "e-3", "x10^-3", "*10-3": the power of ten behind a number; takes it off.
double take_power(std::string_view& s) {
  std::string_view rest = s;
  bool any = false;
  if (!rest.empty() && rest.front() == 'e' && rest.size() > 1 &&
      (is_figure(rest[1]) || ((rest[1] == '-' || rest[1] == '+') && rest.size() > 2))) {
    rest.remove_prefix(1);
    any = true;
  } else {
    while (!rest.empty() && rest.front() == ' ') rest.remove_prefix(1);
    if (rest.substr(0, 3) == "x10" || rest.substr(0, 3) == "*10") {
      rest.remove_prefix(3);
      any = true;
    } else if (rest.substr(0, 4) == "x 10") {
      rest.remove_prefix(4);
      any = true;
    }
    if (any && !rest.empty() && rest.front() == '^') rest.remove_prefix(1);
  }
  if (!any) return 1;
  const std::string text(rest.substr(0, 4));
  char* end = nullptr;
  const long power = std::strtol(text.c_str(), &end, 10);
  if (end == text.c_str() || power < -12 || power > 12) return 1;
  rest.remove_prefix(static_cast<std::size_t>(end - text.c_str()));
  s = rest;
  return std::pow(10.0, static_cast<double>(power));
}

}  // namespace

std::optional<DecimalMark> mark_shown(std::string_view text) {
  const std::string plain = plain_text(text);
  std::string_view s = plain;
  take(s, kBelowWords);
  take(s, kAboveWords);
  const Figures f = figures_of(s);
  if (f.length == 0) return std::nullopt;
  return read_figures(f.text, DecimalMark::kPoint).shown;
}

LabValue lab_value(std::string_view text, DecimalMark mark) {
  const std::string plain = plain_text(text);
  std::string_view s = plain;
  LabValue out;
  if (is_one_of(s, kNothingWords)) return out;
  if (is_one_of(s, kNoneWords)) return {.said = Said::kValue};
  bool undetected = take(s, kNotDetectedWords);
  while (!s.empty() && (s.front() == '(' || s.front() == '[' || s.front() == ' ')) {
    s.remove_prefix(1);
  }
  take(s, kAboutWords);
  const bool below = take(s, kBelowWords);
  const bool above = !below && take(s, kAboveWords);
  const Figures first = figures_of(s);
  const Read number = first.length > 0 ? read_figures(first.text, mark) : Read{};
  if (!number.value) {
    out.said = undetected ? Said::kNotDetected : Said::kText;
    return out;
  }
  s.remove_prefix(first.length);
  out.number = *number.value * take_power(s);
  out.two_readings = number.two;
  out.said = undetected || below ? Said::kBelow : above ? Said::kAbove : Said::kValue;
  const auto blanks = [&] {
    while (!s.empty() && (s.front() == ' ' || s.front() == '*' || s.front() == ')')) {
      s.remove_prefix(1);
    }
  };
  blanks();
  if (s.substr(0, 3) == "+/-") {
    s.remove_prefix(3);
    blanks();
    const Figures spread = figures_of(s);
    s.remove_prefix(spread.length);
    blanks();
    if (!s.empty() && s.front() == '%') s.remove_prefix(1);
    blanks();
  } else if (s.substr(0, 1) == "-" || s.substr(0, 3) == "to ") {
    std::string_view second = s;
    second.remove_prefix(s.front() == '-' ? 1 : 3);
    while (!second.empty() && second.front() == ' ') second.remove_prefix(1);
    const Figures end = figures_of(second);
    const Read other = end.length > 0 ? read_figures(end.text, mark) : Read{};
    if (other.value && *other.value > out.number && out.said == Said::kValue) {
      out.field = true;
      out.number = (out.number + *other.value) / 2;
      s = second.substr(end.length);
      blanks();
    }
  }
  out.rest = trimmed(s);
  if (!std::isfinite(out.number)) return {.said = Said::kText};
  return out;
}

}  // namespace drawoff::water
