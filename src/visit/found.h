// A number that a step of the start-up shows and that is no reading of the running machine: what a
// strip shows, how long a filling takes, at which pressure the unit stops, what the first half
// litre after a rest holds.
//
// Kept as it was shown, with the band that the person saw: whether it fits is told from the entry
// alone, and never computed again.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "fields/errors.h"
#include "fields/field.h"
#include "inference/predict.h"
#include "visit/course.h"
#include "visit/reading.h"

namespace drawoff::visit {

enum class Sign {
  kFreeChlorine,   // behind the last pre-filter
  kTotalChlorine,  // there too
  kSanitiserLeft,  // at the outlets, after the rinse
  kFillTime,       // of tank or cooler, until the unit stops
  kStopPressure,   // of the product, when it stops
  kFirstHalfLitre  // after the rest
};

enum class SignUnit { kMilligramLitre, kMinute, kBar, kKpa, kPsi, kMicrosiemens, kPpm };

struct SignBand {  // in the unit of the number
  double low = 0;
  double high = 0;
};

struct FoundEntry {
  Sign sign = Sign::kFreeChlorine;
  double value = 0;
  SignUnit unit = SignUnit::kMilligramLitre;
  water::MeterScale scale = water::MeterScale::kHalf;  // what its ppm means
  double calibrated_factor = 0.5;                      // ppm per µS/cm, for a calibrated scale
  std::optional<SignBand> expected;                    // as the person saw it
  fields::Json unknown;
};

inline constexpr std::size_t kMostFound = 12;

// What may be left of chlorine or sanitiser, and what strips and drop tests call none: common
// practice, no source.
inline constexpr units::Density kNoChlorine = units::milligram_per_litre(0.05);

// What a step asks for, in the order in which it is read.
std::vector<Sign> signs_of(const CourseStep& step,
                           const machine::MachineEntry& machine,
                           const SurveyEntry& survey);

// The units that a sign may be read in, the usual ones first.
std::vector<SignUnit> units_of(Sign sign, bool us);
const units::Unit& unit_of(SignUnit unit);

// An SI value (a quality as conductivity at 25 °C) as it would be shown there.
double as_shown(double si, const FoundEntry& like);

// A predicted interval [SI] widened by what an ordinary instrument of the kind is good for: a 10
// bar gauge of class 2.5, a pen of 2 % and a digit, a watch of 2 % (common practice, no source).
inference::Interval as_read(Sign sign, inference::Interval predicted);

enum class SignFit { kFits, kAbove, kBelow };
// Nothing where no band was shown with it.
std::optional<SignFit> fit_of(const FoundEntry& found);

}  // namespace drawoff::visit

namespace drawoff::fields {

template <>
struct EnumTable<visit::Sign> {
  static constexpr std::string_view name = "sign";
  static constexpr std::array list = {choice(visit::Sign::kFreeChlorine, "free_chlorine"),
                                      choice(visit::Sign::kTotalChlorine, "total_chlorine"),
                                      choice(visit::Sign::kSanitiserLeft, "sanitiser_left"),
                                      choice(visit::Sign::kFillTime, "fill_time"),
                                      choice(visit::Sign::kStopPressure, "stop_pressure"),
                                      choice(visit::Sign::kFirstHalfLitre, "first_half_litre")};
};
template <>
struct EnumTable<visit::SignUnit> {
  static constexpr std::string_view name = "sign_unit";
  static constexpr std::array list = {choice(visit::SignUnit::kMilligramLitre, "mg_L"),
                                      choice(visit::SignUnit::kMinute, "min"),
                                      choice(visit::SignUnit::kBar, "bar"),
                                      choice(visit::SignUnit::kKpa, "kPa"),
                                      choice(visit::SignUnit::kPsi, "psi"),
                                      choice(visit::SignUnit::kMicrosiemens, "uS_cm"),
                                      choice(visit::SignUnit::kPpm, "ppm")};
};
template <>
struct EnumTable<visit::SignFit> {
  static constexpr std::string_view name = "sign_fit";
  static constexpr std::array list = {choice(visit::SignFit::kFits, "fits"),
                                      choice(visit::SignFit::kAbove, "above"),
                                      choice(visit::SignFit::kBelow, "below")};
};
template <>
struct Table<visit::SignBand> {
  using T = visit::SignBand;
  static constexpr std::string_view name = "sign_band";
  static constexpr auto list =
      std::make_tuple(field("low", &T::low, Range{-1e6, 1e6}, kRequired),
                      field("high", &T::high, Range{-1e6, 1e6}, kRequired));
  static base::Result<base::Done> check(const T& band, const Path& path);
};
template <>
struct Table<visit::FoundEntry> {
  using T = visit::FoundEntry;
  static constexpr std::string_view name = "found";
  static constexpr auto list =
      std::make_tuple(field("sign", &T::sign, kRequired),
                      field("value", &T::value, Range{-1e6, 1e6}, kRequired),
                      field("unit", &T::unit, kRequired),
                      field("scale", &T::scale),
                      field("calibrated_factor", &T::calibrated_factor, Range{0.3, 1}),
                      field("expected", &T::expected, kNotAsked));
  static constexpr auto unknown = &T::unknown;
  static base::Result<base::Done> check(const T& found, const Path& path);
};

}  // namespace drawoff::fields
