// A reading as it was taken: the number that the instrument showed, where, with what, in which
// state of the machine.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "fields/errors.h"
#include "fields/field.h"
#include "inference/instrument.h"
#include "machine/plates_fields.h"
#include "machine/readings.h"
#include "visit/pours.h"
#include "water/meter.h"

namespace drawoff::visit {

enum class ReadingUnit {
  kBar,
  kKpa,
  kPsi,
  kLh,
  kLmin,
  kMlMin,
  kGpd,
  kMicrosiemens,
  kPpm,
  kCelsius,
  kFahrenheit
};

struct InstrumentEntry {
  std::string name;
  water::MeterScale scale = water::MeterScale::kHalf;  // what its ppm means
  double calibrated_factor = 0.5;                      // ppm per µS/cm, for a calibrated scale
  // As bought, in the unit of the reading. All nothing: the usual accuracy for the kind of reading.
  double share_of_reading = 0;
  double full_scale = 0;
  double share_of_full_scale = 0;
  double last_digit = 0;
  double digits = 0;
};

// The band that a person saw before taking the reading: kept with it, never computed again.
struct ShownBand {
  double low = 0;
  double high = 0;
  ReadingUnit unit = ReadingUnit::kPpm;
  std::string engine;  // version
};

struct ReadingEntry {
  machine::Point point = machine::Point::kProductQuality;
  double value = 0;
  ReadingUnit unit = ReadingUnit::kPpm;
  InstrumentEntry instrument;
  machine::Condition condition;
  std::optional<ShownBand> shown;
  // Jug and stopwatch: what a flow was worked out from. Its uncertainty is then theirs.
  std::optional<std::vector<Pour>> pours;
  std::optional<units::Volume> jug_mark;  // between the jug's marks; usual ones if absent
  fields::Json unknown;
};

// Why a reading was not taken.
enum class Because { kNotFitted, kNoAccess, kNoTool, kNotRunning, kOther };

struct NotPossibleEntry {
  machine::Point point = machine::Point::kProductQuality;
  Because because = Because::kOther;
  std::string note;
  fields::Json unknown;
};

const units::Unit& unit_of(ReadingUnit unit);

// What the instrument was bought for, in the unit of the reading; nothing where its entry leaves it
// open.
std::optional<inference::Accuracy> as_bought(const InstrumentEntry& instrument, double reading);

// An ordinary conductivity pen, in µS/cm or ppm (common practice, no source).
inline constexpr inference::Accuracy kUsualPen{
    .share_of_reading = 0.02, .last_digit = 1, .digits = 2};

// The reading in SI (a quality as conductivity at 25 °C), and its standard uncertainty there. Of
// pours it is that of the normal distribution with their 90 % interval.
struct Measured {
  double value = 0;
  double sigma = 0;
};
Measured measured(const ReadingEntry& reading);

// Whether it lies outside the band that was shown before it was taken; not where none was.
bool outside_shown(const ReadingEntry& reading);

// The catalogue's id of a point's name.
std::string point_id(machine::Point point);

// An SI value of a point as the reading's instrument would show it.
double as_shown(double si, const ReadingEntry& reading);

}  // namespace drawoff::visit

namespace drawoff::fields {

template <>
struct EnumTable<machine::Point> {
  static constexpr std::string_view name = "point";
  static constexpr std::array list = {
      choice(machine::Point::kInletPressure, "inlet_pressure"),
      choice(machine::Point::kFilteredPressure, "filtered_pressure"),
      choice(machine::Point::kMembranePressure, "membrane_pressure"),
      choice(machine::Point::kRejectPressure, "reject_pressure"),
      choice(machine::Point::kProductFlow, "product_flow"),
      choice(machine::Point::kRejectFlow, "reject_flow"),
      choice(machine::Point::kRawQuality, "raw_quality"),
      choice(machine::Point::kPermeateQuality, "permeate_quality"),
      choice(machine::Point::kProductQuality, "product_quality"),
      choice(machine::Point::kRejectQuality, "reject_quality"),
      choice(machine::Point::kTemperature, "temperature")};
};
template <>
struct EnumTable<machine::BlendState> {
  static constexpr std::string_view name = "blend_state";
  static constexpr std::array list = {choice(machine::BlendState::kAsSet, "as_set"),
                                      choice(machine::BlendState::kShut, "shut")};
};
template <>
struct EnumTable<machine::PumpState> {
  static constexpr std::string_view name = "pump_state";
  static constexpr std::array list = {choice(machine::PumpState::kOn, "on"),
                                      choice(machine::PumpState::kOff, "off")};
};
template <>
struct EnumTable<machine::FlushState> {
  static constexpr std::string_view name = "flush_state";
  static constexpr std::array list = {choice(machine::FlushState::kShut, "shut"),
                                      choice(machine::FlushState::kOpen, "open")};
};
template <>
struct EnumTable<visit::ReadingUnit> {
  static constexpr std::string_view name = "reading_unit";
  static constexpr std::array list = {choice(visit::ReadingUnit::kBar, "bar"),
                                      choice(visit::ReadingUnit::kKpa, "kPa"),
                                      choice(visit::ReadingUnit::kPsi, "psi"),
                                      choice(visit::ReadingUnit::kLh, "L_h"),
                                      choice(visit::ReadingUnit::kLmin, "L_min"),
                                      choice(visit::ReadingUnit::kMlMin, "mL_min"),
                                      choice(visit::ReadingUnit::kGpd, "gpd"),
                                      choice(visit::ReadingUnit::kMicrosiemens, "uS_cm"),
                                      choice(visit::ReadingUnit::kPpm, "ppm"),
                                      choice(visit::ReadingUnit::kCelsius, "C"),
                                      choice(visit::ReadingUnit::kFahrenheit, "F")};
};
template <>
struct EnumTable<water::MeterScale> {
  static constexpr std::string_view name = "meter_scale";
  static constexpr std::array list = {choice(water::MeterScale::kHalf, "half"),
                                      choice(water::MeterScale::kSevenTenths, "seven_tenths"),
                                      choice(water::MeterScale::kCalibrated, "calibrated")};
};

template <>
struct Table<visit::InstrumentEntry> {
  using T = visit::InstrumentEntry;
  static constexpr std::string_view name = "instrument";
  static constexpr auto list =
      std::make_tuple(field("name", &T::name, Range{0, 80}),
                      field("scale", &T::scale),
                      field("calibrated_factor", &T::calibrated_factor, Range{0.3, 1}),
                      field("of_reading_pct", &T::share_of_reading, Range{0, 50}),
                      field("full_scale", &T::full_scale, Range{0, 1e6}),
                      field("of_full_scale_pct", &T::share_of_full_scale, Range{0, 50}),
                      field("last_digit", &T::last_digit, Range{0, 1000}),
                      field("digits", &T::digits, Range{0, 100}));
};

template <>
struct Table<machine::Condition> {
  using T = machine::Condition;
  static constexpr std::string_view name = "condition";
  static constexpr auto list =
      std::make_tuple(field("product_to", &T::product_to),
                      field("height_m", &T::height, Range{-10, 30}),
                      field("vessel_pressure_bar", &T::vessel_pressure, Range{0, 6}),
                      field("blend", &T::blend),
                      field("pump", &T::pump),
                      field("flush_valve", &T::flush_valve),
                      field("since_start_min", &T::since_start, Range{0, 1e5}),
                      field("rest_before_h", &T::rest_before, Range{0, 1e4}));
};

template <>
struct Table<visit::ShownBand> {
  using T = visit::ShownBand;
  static constexpr std::string_view name = "shown_band";
  static constexpr auto list = std::make_tuple(field("low", &T::low, kRequired),
                                               field("high", &T::high, kRequired),
                                               field("unit", &T::unit, kRequired),
                                               field("engine", &T::engine, Range{1, 40}));
};

template <>
struct EnumTable<visit::Because> {
  static constexpr std::string_view name = "because";
  static constexpr std::array list = {choice(visit::Because::kNotFitted, "not_fitted"),
                                      choice(visit::Because::kNoAccess, "no_access"),
                                      choice(visit::Because::kNoTool, "no_tool"),
                                      choice(visit::Because::kNotRunning, "not_running"),
                                      choice(visit::Because::kOther, "other")};
};

template <>
struct Table<visit::NotPossibleEntry> {
  using T = visit::NotPossibleEntry;
  static constexpr std::string_view name = "not_possible";
  static constexpr auto list = std::make_tuple(field("point", &T::point, kRequired),
                                               field("because", &T::because, kRequired),
                                               field("note", &T::note, Range{0, 400}));
  static constexpr auto unknown = &T::unknown;
};

template <>
struct Table<visit::ReadingEntry> {
  using T = visit::ReadingEntry;
  static constexpr std::string_view name = "reading";
  static constexpr auto list =
      std::make_tuple(field("point", &T::point, kRequired),
                      field("value", &T::value, Range{-1e6, 1e6}, kRequired),
                      field("unit", &T::unit, kRequired),
                      field("instrument", &T::instrument),
                      field("condition", &T::condition),
                      field("shown", &T::shown, kNotAsked),
                      field("pours", &T::pours, Range{1, visit::kMostPours}, kNotAsked),
                      field("jug_mark_mL", &T::jug_mark, Range{0.01, 1e5}, kNotAsked));
  static constexpr auto unknown = &T::unknown;
  static base::Result<base::Done> check(const T& reading, const Path& path);
};

}  // namespace drawoff::fields
