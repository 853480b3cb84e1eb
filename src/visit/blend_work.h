// What is done at the blend of a site: what is wanted, each turn with its reading, and how the
// valve was left. Entries of the site file (docs/formats/site-file.md).
//
// The first goes with the visit: another visit begins another setting. What was shown beside a
// number is kept with it and never computed again.
#pragma once

#include <array>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "visit/blend_guide.h"

namespace drawoff::visit {

// How water is wanted, in words; by the place's own numbers, or the customer's.
enum class Taste { kLight, kFresh, kFull, kLocal, kOwn };
// Where the product is read: before a tank and a cooler, or at the tap that people drink from.
enum class SampledAt { kTee, kTap };

// What may come until the next visit, where a person knows it; else the usual (blend_limits.h).
struct UntilEntry {
  std::optional<units::Temperature> coldest;  // of the water
  std::optional<units::Temperature> hottest;
  std::optional<units::Pressure> lowest_supply;
  std::optional<units::Pressure> highest_supply;
};

// That a setting begins.
struct BlendWorkEntry {
  Taste taste = Taste::kFresh;
  double low = 55;  // [ppm, half scale]
  double high = 75;
  SampledAt sampled_at = SampledAt::kTee;
  double turns_open = 5;  // from shut to full open, where nobody counted
  UntilEntry until;
  fields::Json unknown;
};

// One turn of the handle, the wait, the reading.
struct BlendTurnEntry {
  double turns = 0;  // of the handle, from shut
  double value = 0;  // that the meter showed
  ReadingUnit unit = ReadingUnit::kPpm;
  InstrumentEntry instrument;
  TurnedBy turned = TurnedBy::kOpening;
  // Since that turn, or since the reading before where nothing was turned between.
  std::optional<units::Time> waited;
  std::optional<ShownBand> shown;
  fields::Json unknown;
};

// How the valve was left.
struct BlendLeftEntry {
  double turns = 0;
  std::optional<double> value;  // that the meter showed last
  ReadingUnit unit = ReadingUnit::kPpm;
  InstrumentEntry instrument;
  std::optional<BlendStanding> standing;  // what was advised then; none: nothing
  std::optional<double> share;            // of raw water in the product, as shown
  std::optional<double> permitted;        // the most of it until the next visit, as shown
  bool seal = false;                      // a tamper seal is fitted
  std::string seal_number;
  std::string reason;  // why it was set though nothing advised it, or beyond what is permitted
  fields::Json unknown;
};

// A small window: common practice, no source.
struct TasteWindow {
  Taste taste;
  double low;  // [ppm, half scale]
  double high;
};
inline constexpr std::array<TasteWindow, 3> kTasteWindows = {
    {{Taste::kLight, 50, 65}, {Taste::kFresh, 55, 75}, {Taste::kFull, 75, 100}}};

// The same as a reading of the product.
ReadingEntry reading_of(const BlendTurnEntry& turn);

// What the guide (blend_guide.h) is asked: raw water and permeate as they were read, and the turns,
// all brought to the meter of the last turn, or of `raw` where none was made yet.
BlendSetting blend_setting(const BlendWorkEntry& work,
                           const ReadingEntry& raw,
                           const ReadingEntry& permeate,
                           std::span<const BlendTurnEntry> turns);

// Whether it was left with no more raw water than was permitted then; not where nobody knows.
bool within_permitted(const BlendLeftEntry& left);
// Whether a setting is left as the guide would leave it: shut, or done within what is permitted.
bool left_as_advised(const BlendLeftEntry& left);

}  // namespace drawoff::visit

namespace drawoff::fields {

template <>
struct EnumTable<visit::BlendStanding> {
  static constexpr std::string_view name = "blend_standing";
  static constexpr std::array list = {
      choice(visit::BlendStanding::kTurn, "turn"),
      choice(visit::BlendStanding::kWait, "wait"),
      choice(visit::BlendStanding::kDone, "done"),
      choice(visit::BlendStanding::kNearest, "nearest"),
      choice(visit::BlendStanding::kNoneNeeded, "none_needed"),
      choice(visit::BlendStanding::kOverWithout, "over_without"),
      choice(visit::BlendStanding::kRawTooWeak, "raw_too_weak"),
      choice(visit::BlendStanding::kNotPermitted, "not_permitted"),
      choice(visit::BlendStanding::kTooCoarse, "too_coarse"),
      choice(visit::BlendStanding::kTooSmall, "too_small"),
      choice(visit::BlendStanding::kDoesNotFollow, "does_not_follow"),
      choice(visit::BlendStanding::kNotHeld, "not_held")};
};
template <>
struct EnumTable<visit::Taste> {
  static constexpr std::string_view name = "taste";
  static constexpr std::array list = {choice(visit::Taste::kLight, "light"),
                                      choice(visit::Taste::kFresh, "fresh"),
                                      choice(visit::Taste::kFull, "full"),
                                      choice(visit::Taste::kLocal, "local"),
                                      choice(visit::Taste::kOwn, "own")};
};
template <>
struct EnumTable<visit::SampledAt> {
  static constexpr std::string_view name = "sampled_at";
  static constexpr std::array list = {choice(visit::SampledAt::kTee, "tee"),
                                      choice(visit::SampledAt::kTap, "tap")};
};

template <>
struct Table<visit::UntilEntry> {
  using T = visit::UntilEntry;
  static constexpr std::string_view name = "until";
  static constexpr auto list =
      std::make_tuple(field("coldest_C", &T::coldest, Range{0, 60}),
                      field("hottest_C", &T::hottest, Range{0, 60}),
                      field("lowest_supply_bar", &T::lowest_supply, Range{0.01, 16}),
                      field("highest_supply_bar", &T::highest_supply, Range{0.01, 16}));
  // No colder than hot, no lower than high.
  static base::Result<base::Done> check(const T& until, const Path& path);
};
template <>
struct Table<visit::BlendWorkEntry> {
  using T = visit::BlendWorkEntry;
  static constexpr std::string_view name = "blend_work";
  static constexpr auto list = std::make_tuple(field("taste", &T::taste),
                                               field("low_ppm", &T::low, Range{50, 500}),
                                               field("high_ppm", &T::high, Range{52, 600}),
                                               field("sampled_at", &T::sampled_at),
                                               field("turns_open", &T::turns_open, Range{0.5, 40}),
                                               field("until", &T::until));
  static constexpr auto unknown = &T::unknown;
  // A window that a meter can hit.
  static base::Result<base::Done> check(const T& work, const Path& path);
};
template <>
struct Table<visit::BlendTurnEntry> {
  using T = visit::BlendTurnEntry;
  static constexpr std::string_view name = "blend_turn";
  static constexpr auto list = std::make_tuple(field("turns", &T::turns, Range{0, 40}, kRequired),
                                               field("value", &T::value, Range{0, 1e5}, kRequired),
                                               field("unit", &T::unit, kRequired),
                                               field("instrument", &T::instrument),
                                               field("turned", &T::turned),
                                               field("waited_min", &T::waited, Range{0, 600}),
                                               field("shown", &T::shown, kNotAsked));
  static constexpr auto unknown = &T::unknown;
  // A quality, that its instrument can show.
  static base::Result<base::Done> check(const T& turn, const Path& path);
};
template <>
struct Table<visit::BlendLeftEntry> {
  using T = visit::BlendLeftEntry;
  static constexpr std::string_view name = "blend_left";
  static constexpr auto list =
      std::make_tuple(field("turns", &T::turns, Range{0, 40}, kRequired),
                      field("value", &T::value, Range{0, 1e5}),
                      field("unit", &T::unit),
                      field("instrument", &T::instrument),
                      field("standing", &T::standing, kNotAsked),
                      field("share_pct", &T::share, Range{0, 100}, kNotAsked),
                      field("permitted_pct", &T::permitted, Range{0, 100}, kNotAsked),
                      field("seal", &T::seal),
                      field("seal_number", &T::seal_number, Range{0, 40}),
                      field("reason", &T::reason, Range{0, 400}));
  static constexpr auto unknown = &T::unknown;
  // What nothing advised has a reason.
  static base::Result<base::Done> check(const T& left, const Path& path);
};

}  // namespace drawoff::fields
