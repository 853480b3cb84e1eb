// What a technician knows of a water without a laboratory: a meter, a pH, drop tests and strips.
//
//   {"temperature_C": 18, "meter": {"value": 410, "unit": "ppm"}, "pH": {"value": 7.4},
//    "hardness": {"value_mg_L": 240}, "nitrate": {"low_mg_L": 10, "high_mg_L": 25}}
//
// A drop test gives a value, a strip the field between two colours. Accuracies that are left out
// are the usual ones (common practice, no source). A strip past its date is trusted half as far.
// One that is read before or after its time shows another colour; that cannot be seen from the
// entry.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "visit/reading.h"
#include "water/half_known.h"

namespace drawoff::visit {

enum class MeterUnit { kPpm, kMicrosiemens };

struct MeterEntry {
  double value = 0;
  MeterUnit unit = MeterUnit::kPpm;
  water::MeterScale scale = water::MeterScale::kHalf;
  double calibrated_factor = 0.5;
  double accuracy = 0.04;  // share of the reading that it is good for, at most
};

struct PhEntry {
  double value = 7;
  double accuracy = 0.3;  // at most
};

struct TestEntry {
  std::optional<units::Density> value;  // of a drop test
  std::optional<double> accuracy;       // share of it, at most
  std::optional<units::Time> wait;      // before a strip's colour is read, as its tube says
  std::optional<units::Density> low;    // of a strip's field
  std::optional<units::Density> high;
  std::string lot;
  std::string expires;  // "2027-03" or "2027-03-15"
};

struct KnownWaterEntry {
  units::Temperature temperature = units::celsius(15);
  std::string on;  // the day of the readings, "2026-11-27"
  std::optional<MeterEntry> meter;
  std::optional<PhEntry> ph;
  std::optional<TestEntry> hardness;  // as CaCO3
  std::optional<TestEntry> alkalinity;
  std::optional<TestEntry> chloride;
  std::optional<TestEntry> sulfate;
  std::optional<TestEntry> nitrate;  // as NO3
  std::optional<TestEntry> fluoride;
  std::optional<TestEntry> iron;
  fields::Json unknown;
};

// Past its date on the day of the readings; never where either is not given.
bool expired(const TestEntry& test, const KnownWaterEntry& entry);

// The readings for water::likely_waters(), in the order of the entry.
water::HalfKnown half_known(const KnownWaterEntry& entry);

}  // namespace drawoff::visit

namespace drawoff::fields {

template <>
struct EnumTable<visit::MeterUnit> {
  static constexpr std::string_view name = "meter_unit";
  static constexpr std::array list = {choice(visit::MeterUnit::kPpm, "ppm"),
                                      choice(visit::MeterUnit::kMicrosiemens, "uS_cm")};
};

template <>
struct Table<visit::MeterEntry> {
  using T = visit::MeterEntry;
  static constexpr std::string_view name = "meter";
  static constexpr auto list =
      std::make_tuple(field("value", &T::value, Range{0.1, 1e5}, kRequired),
                      field("unit", &T::unit),
                      field("scale", &T::scale),
                      field("calibrated_factor", &T::calibrated_factor, Range{0.3, 1}),
                      field("accuracy_pct", &T::accuracy, Range{0.2, 30}));
};
template <>
struct Table<visit::PhEntry> {
  using T = visit::PhEntry;
  static constexpr std::string_view name = "ph_reading";
  static constexpr auto list = std::make_tuple(field("value", &T::value, Range{2, 12}, kRequired),
                                               field("accuracy", &T::accuracy, Range{0.01, 2}));
};
template <>
struct Table<visit::TestEntry> {
  using T = visit::TestEntry;
  static constexpr std::string_view name = "test";
  static constexpr auto list = std::make_tuple(field("value_mg_L", &T::value, Range{0, 1e5}),
                                               field("accuracy_pct", &T::accuracy, Range{0.5, 60}),
                                               field("wait_s", &T::wait, Range{0, 1800}),
                                               field("low_mg_L", &T::low, Range{0, 1e5}),
                                               field("high_mg_L", &T::high, Range{1e-4, 1e5}),
                                               field("lot", &T::lot, Range{0, 40}),
                                               field("expires", &T::expires, Range{0, 10}));
  // A value or a field, the right way round, and a date that is one.
  static base::Result<base::Done> check(const T& test, const Path& path);
};
template <>
struct Table<visit::KnownWaterEntry> {
  using T = visit::KnownWaterEntry;
  static constexpr std::string_view name = "known_water";
  static constexpr auto list =
      std::make_tuple(field("temperature_C", &T::temperature, Range{0, 60}, kRequired),
                      field("on", &T::on, Range{0, 10}),
                      field("meter", &T::meter),
                      field("pH", &T::ph),
                      field("hardness", &T::hardness),
                      field("alkalinity", &T::alkalinity),
                      field("chloride", &T::chloride),
                      field("sulfate", &T::sulfate),
                      field("nitrate", &T::nitrate),
                      field("fluoride", &T::fluoride),
                      field("iron", &T::iron));
  static constexpr auto unknown = &T::unknown;
  // At least one reading.
  static base::Result<base::Done> check(const T& entry, const Path& path);
};

}  // namespace drawoff::fields
