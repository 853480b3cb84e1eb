#include "book/stamp.h"

#include <algorithm>
#include <cstddef>

#include "fields/errors.h"
#include "fields/json.h"
#include "fields/quote.h"

namespace drawoff::book {

namespace {

constexpr std::size_t kMillisecondTime = 24;           // "2025-03-09T08:15:00.000Z"
constexpr std::size_t kBeforeDevice = 24 + 1 + 4 + 1;  // and "-0000-"
constexpr std::size_t kLongestFraction = 9;

bool is_digit(char c) { return c >= '0' && c <= '9'; }
bool is_hex(char c) { return is_digit(c) || (c >= 'a' && c <= 'f'); }
bool is_letter(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); }

// '0' stands for a digit, 'x' for a hexadecimal one, all else for itself.
bool matches(std::string_view text, std::string_view shape) {
  if (text.size() != shape.size()) return false;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char wanted = shape[i];
    const bool good = wanted == '0'   ? is_digit(text[i])
                      : wanted == 'x' ? is_hex(text[i])
                                      : text[i] == wanted;
    if (!good) return false;
  }
  return true;
}

int number(std::string_view digits) {
  int out = 0;
  for (const char c : digits) out = out * 10 + (c - '0');
  return out;
}

int days_in(int year, int month) {
  if (month == 2) return (year % 4 == 0 && year % 100 != 0) || year % 400 == 0 ? 29 : 28;
  return month == 4 || month == 6 || month == 9 || month == 11 ? 30 : 31;
}

}  // namespace

std::string_view Clock::time() const { return std::string_view(text).substr(0, kMillisecondTime); }

std::string_view Clock::device() const {
  return text.size() > kBeforeDevice ? std::string_view(text).substr(kBeforeDevice)
                                     : std::string_view();
}

bool is_uuid_v7(std::string_view text) {
  if (!matches(text, "xxxxxxxx-xxxx-7xxx-xxxx-xxxxxxxxxxxx")) return false;
  const char variant = text[19];
  return variant == '8' || variant == '9' || variant == 'a' || variant == 'b';
}

bool is_utc_time(std::string_view text) {
  constexpr std::string_view kSeconds = "0000-00-00T00:00:00";
  if (text.size() <= kSeconds.size() || text.back() != 'Z') return false;
  if (!matches(text.substr(0, kSeconds.size()), kSeconds)) return false;
  const std::string_view fraction = text.substr(kSeconds.size(), text.size() - kSeconds.size() - 1);
  if (!fraction.empty()) {
    const std::size_t digits = fraction.size() - 1;
    if (fraction[0] != '.' || digits < 1 || digits > kLongestFraction) return false;
    if (!std::all_of(fraction.begin() + 1, fraction.end(), is_digit)) return false;
  }
  const int year = number(text.substr(0, 4));
  const int month = number(text.substr(5, 2));
  const int day = number(text.substr(8, 2));
  const int hour = number(text.substr(11, 2));
  const int minute = number(text.substr(14, 2));
  const int second = number(text.substr(17, 2));
  if (month < 1 || month > 12 || day < 1 || day > days_in(year, month)) return false;
  if (hour > 23 || minute > 59) return false;
  // Leap seconds stand at the end of a month, in UTC.
  const bool may_leap = hour == 23 && minute == 59 && day == days_in(year, month);
  return second <= (may_leap ? 60 : 59);
}

bool is_device(std::string_view text) {
  constexpr std::size_t kLongest = 40;
  if (text.empty() || text.size() > kLongest) return false;
  const auto plain = [](char c) { return is_letter(c) || is_digit(c); };
  if (!plain(text.front()) || !plain(text.back())) return false;
  return std::all_of(text.begin(), text.end(), [plain](char c) {
    return plain(c) || c == '.' || c == '_' || c == '-';
  });
}

bool is_clock(std::string_view text) {
  return text.size() > kBeforeDevice && is_utc_time(text.substr(0, kMillisecondTime)) &&
         matches(text.substr(kMillisecondTime, kBeforeDevice - kMillisecondTime), "-xxxx-") &&
         is_device(text.substr(kBeforeDevice));
}

long long seconds_of(const UtcTime& time) {
  const std::string_view t = time.text;
  // Days from the civil calendar: a year counted from March ends with its leap day.
  const int month = number(t.substr(5, 2));
  const int year = number(t.substr(0, 4)) - (month <= 2 ? 1 : 0);
  const int day_of_year =
      (153 * (month + (month > 2 ? -3 : 9)) + 2) / 5 + number(t.substr(8, 2)) - 1;
  const long long days = 365LL * year + year / 4 - year / 100 + year / 400 + day_of_year - 719468;
  return days * 86400 + number(t.substr(11, 2)) * 3600LL + number(t.substr(14, 2)) * 60LL +
         number(t.substr(17, 2));
}

std::string to_millisecond(const UtcTime& time) {
  std::string out = time.text;
  if (!out.empty()) out.pop_back();  // the Z
  if (out.find('.') == std::string::npos) out += '.';
  out.resize(kMillisecondTime - 1, '0');
  return out + 'Z';
}

}  // namespace drawoff::book

namespace drawoff::fields {

namespace {

using base::Error;
using base::ErrorKind;

template <class Stamp>
base::Result<Stamp> read_stamp(const Json& json,
                               const Place& place,
                               bool (*good)(std::string_view),
                               const char* form) {
  const auto* text = json.get_ptr<const std::string*>();
  if (text == nullptr) return wrong_type(place, json, Wanted::kText);
  if (good(*text)) return Stamp{*text};
  return Error{ErrorKind::kData,
               {"error.book.stamp",
                {{"path", path_argument(place.path)},
                 {"value", quote_text(*text)},
                 {"form", form},
                 {"meaning", base::Ref{place.meaning}}}}};
}

Json text_schema(const char* pattern) { return {{"type", "string"}, {"pattern", pattern}}; }

}  // namespace

base::Result<book::Uuid> Codec<book::Uuid>::read(const Json& json,
                                                 const Place& place,
                                                 ReadContext& /*context*/) {
  return read_stamp<book::Uuid>(json, place, book::is_uuid_v7, "uuid");
}
Json Codec<book::Uuid>::write(const book::Uuid& id, const units::Unit* /*unit*/) { return id.text; }
Json Codec<book::Uuid>::schema(const units::Unit* /*unit*/) {
  return text_schema("^[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$");
}

base::Result<book::UtcTime> Codec<book::UtcTime>::read(const Json& json,
                                                       const Place& place,
                                                       ReadContext& /*context*/) {
  return read_stamp<book::UtcTime>(json, place, book::is_utc_time, "time");
}
Json Codec<book::UtcTime>::write(const book::UtcTime& time, const units::Unit* /*unit*/) {
  return time.text;
}
Json Codec<book::UtcTime>::schema(const units::Unit* /*unit*/) {
  Json out = text_schema("Z$");
  out["format"] = "date-time";
  return out;
}

base::Result<book::Clock> Codec<book::Clock>::read(const Json& json,
                                                   const Place& place,
                                                   ReadContext& /*context*/) {
  return read_stamp<book::Clock>(json, place, book::is_clock, "clock");
}
Json Codec<book::Clock>::write(const book::Clock& clock, const units::Unit* /*unit*/) {
  return clock.text;
}
Json Codec<book::Clock>::schema(const units::Unit* /*unit*/) {
  return text_schema("^.{23}Z-[0-9a-f]{4}-[A-Za-z0-9._-]+$");
}

}  // namespace drawoff::fields
