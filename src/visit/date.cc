#include "visit/date.h"

#include <chrono>

namespace drawoff::visit {
namespace {

std::optional<std::chrono::sys_days> day_of(const std::string& text) {
  if (text.size() != 7 && text.size() != 10) return std::nullopt;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const bool dash = i == 4 || i == 7;
    if (dash ? text[i] != '-' : text[i] < '0' || text[i] > '9') return std::nullopt;
  }
  const auto number = [&](std::size_t at, std::size_t n) {
    int value = 0;
    for (std::size_t i = at; i < at + n; ++i) value = 10 * value + (text[i] - '0');
    return value;
  };
  const std::chrono::year_month_day date{
      std::chrono::year(number(0, 4)),
      std::chrono::month(static_cast<unsigned>(number(5, 2))),
      std::chrono::day(text.size() == 10 ? static_cast<unsigned>(number(8, 2)) : 1U)};
  if (!date.ok()) return std::nullopt;
  return std::chrono::sys_days(date);
}

}  // namespace

bool is_date(const std::string& text) { return day_of(text).has_value(); }

std::optional<int> days_between(const std::string& first, const std::string& second) {
  const auto a = day_of(first);
  const auto b = day_of(second);
  if (!a || !b) return std::nullopt;
  return static_cast<int>((*b - *a).count());
}

}  // namespace drawoff::visit
