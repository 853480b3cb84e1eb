// The stamps of an entry: who it is (Uuid), when it was made (UtcTime) and where it stands among
// all others (Clock). Each is kept as the text of the file; reading checks it.
//
// None is ever made here: ids, times and clocks come from the shell, which has a clock.
//
//   Uuid     "01957a2e-4c00-7abc-8def-0123456789ab"   version 7, lower case [rfc9562]
//   UtcTime  "2025-03-09T08:15:00Z"                    UTC, fraction allowed [rfc3339]
//   Clock    "2025-03-09T08:15:00.000Z-0000-van1"      hybrid logical clock [kulkarni2014]
//
// A hybrid logical clock is the latest time that its device has seen, on its own clock or in an
// entry of another, with a counter for what happens within one millisecond. So whatever knows of
// an entry has a later clock than it, though the devices' clocks differ. Of fixed width before the
// device, and always of four lower-case hexadecimal digits, clocks sort as text.
#pragma once

#include <string>
#include <string_view>

#include "base/result.h"
#include "fields/field.h"

namespace drawoff::book {

struct Uuid {
  std::string text;
  bool operator==(const Uuid&) const = default;
};

struct UtcTime {
  std::string text;
  bool operator==(const UtcTime&) const = default;
};

struct Clock {
  std::string text;
  bool operator==(const Clock&) const = default;

  std::string_view time() const;    // "2025-03-09T08:15:00.000Z"
  std::string_view device() const;  // "van1"
};

bool is_uuid_v7(std::string_view text);
bool is_utc_time(std::string_view text);
bool is_clock(std::string_view text);
// 1 to 40 letters without accents, digits, and . _ - within: it is a part of the clock's text.
bool is_device(std::string_view text);

// Seconds since 1970 without leap seconds, whole; of a time that is_utc_time().
long long seconds_of(const UtcTime& time);

// The time to the millisecond, cut, in the form that sorts as text: "2025-03-09T08:15:00.000Z".
std::string to_millisecond(const UtcTime& time);

}  // namespace drawoff::book

namespace drawoff::fields {

template <>
struct Codec<book::Uuid> {
  static base::Result<book::Uuid> read(const Json& json, const Place& place, ReadContext& context);
  static Json write(const book::Uuid& id, const units::Unit* unit);
  static Json schema(const units::Unit* unit);
};
template <>
struct Codec<book::UtcTime> {
  static base::Result<book::UtcTime> read(const Json& json,
                                          const Place& place,
                                          ReadContext& context);
  static Json write(const book::UtcTime& time, const units::Unit* unit);
  static Json schema(const units::Unit* unit);
};
template <>
struct Codec<book::Clock> {
  static base::Result<book::Clock> read(const Json& json, const Place& place, ReadContext& context);
  static Json write(const book::Clock& clock, const units::Unit* unit);
  static Json schema(const units::Unit* unit);
};

}  // namespace drawoff::fields
