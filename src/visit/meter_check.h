// The technician's own meter, checked on standards: how far off is it, what puts it right, and is
// it good enough for the raw water and for the product?
//
// A conductivity standard is potassium chloride and is worth its value at 25 °C. At another
// temperature its true conductivity is known (water/conductivity.h); a meter that compensates does
// so along a straight line of 2 %/K, one that does not shows it as it is. So a sound meter shows
//
//   R_s = f κ_25 (κ(T)/κ(25 °C))_KCl/(1 + α (T − 25 °C))      α = 0.02 1/K, or 0
//
// and a sound pH pen the buffer's value, or 7 + (pH − 7) T/298.15 K where it takes every water to
// be at 25 °C (Nernst's slope; zero point at pH 7). Around R_s lie the standard's tolerance (1 %;
// 0.02 of pH), the thermometer (0.5 K) and the maker's α (0.1 %/K); the display rounds to its last
// digit. All bounds, added up by inference/bounded_sum.h, common practice without a source. The
// meter's own thermometer is part of its error.
//
// Check: KCl of 1413 µS/cm at 15 °C, compensated: 1.3 % above 1413.
//
// A pressure gauge has checks of its own (visit/gauge_check.h): open to the air it shows nothing,
// else what stands on it. Its class is the share of full scale that it is good for (EN 837-1, from
// memory), its last digit the smallest mark.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "base/message.h"
#include "inference/predict.h"
#include "visit/gauge_check.h"
#include "visit/reading.h"

namespace drawoff::visit {

enum class MeterReads { kPpm, kMicrosiemens, kPh, kBar, kKpa, kPsi };

struct MeterAsBought {
  MeterReads reads = MeterReads::kPpm;
  InstrumentEntry instrument;
  bool compensates = true;  // brings its reading to 25 °C
};

struct StandardCheck {
  std::optional<units::Conductivity> standard;  // at 25 °C
  std::optional<double> buffer;                 // pH at its temperature
  units::Temperature temperature = units::celsius(25);
  double shown = 0;  // in the meter's unit, as all that follows
  std::string on;    // "2026-11-27"
};

struct CheckedMeter {
  MeterAsBought meter;
  std::vector<StandardCheck> checks;
  std::string on;                 // today
  std::optional<double> raw;      // what it is to read there;
  std::optional<double> product;  // nothing: usual values
  std::vector<GaugeCheck> gauge_checks;
  // Of a gauge the same: what it is to read at the inlet, at the membrane and in a pressure hold.
  std::optional<double> inlet;
  std::optional<double> membrane;
  std::optional<double> hold;
};

enum class AsBought { kWithin, kCannotTell, kBeyond };

struct CheckResult {
  double should_show = 0;
  inference::Interval error;                       // 90 %
  std::optional<inference::Interval> error_share;  // of a conductivity meter
  std::optional<inference::Interval> factor;       // puts it right; none where it shows nothing
  std::optional<inference::Interval> shift;        // the same of a pH pen, to be added
  double bought_for = 0;                           // the bound of the error there
  AsBought as_bought = AsBought::kCannotTell;      // by the interval of the error
  int age = 0;                                     // [d]
  bool vouches = true;                             // young enough
};

// For so many days a check vouches for its meter. Common practice, no source.
inline constexpr int kVouchesFor = 90;

CheckResult result_of(const CheckedMeter& meter, const StandardCheck& check);
CheckResult result_of(const CheckedMeter& meter, const GaugeCheck& check);

// 90 % interval of what was seen, less errors within these bounds.
inference::Interval error_within(std::span<const double> bounds, double seen);
AsBought against(const inference::Interval& error, double bound);

bool reads_pressure(const MeterAsBought& meter);
// What it is good for at a reading, as bought or, where nobody said, as usual.
double bound_of(const MeterAsBought& meter, double reading);
bool reads_ph(const MeterAsBought& meter);
// Half the last digit: what the display's rounding may take away.
double half_digit_of(const MeterAsBought& meter, double reading);
// Whether the entry says how accurate it is; where it does not, the usual is taken.
bool accuracy_stated(const MeterAsBought& meter, double reading);
// ppm or µS/cm per µS/cm at 25 °C, of a conductivity meter.
double factor_of(const MeterAsBought& meter);
// Where its scale ends; that of an ordinary gauge where nobody said.
double gauge_scale(const MeterAsBought& meter);
// Key of the unit that it reads in: "ppm", "uS_cm", "bar", "" for pH.
std::string unit_key(const MeterAsBought& meter);

}  // namespace drawoff::visit

namespace drawoff::fields {

template <>
struct EnumTable<visit::MeterReads> {
  static constexpr std::string_view name = "meter_reads";
  static constexpr std::array list = {choice(visit::MeterReads::kPpm, "ppm"),
                                      choice(visit::MeterReads::kMicrosiemens, "uS_cm"),
                                      choice(visit::MeterReads::kPh, "pH"),
                                      choice(visit::MeterReads::kBar, "bar"),
                                      choice(visit::MeterReads::kKpa, "kPa"),
                                      choice(visit::MeterReads::kPsi, "psi")};
};
template <>
struct Table<visit::MeterAsBought> {
  using T = visit::MeterAsBought;
  static constexpr std::string_view name = "meter_as_bought";
  static constexpr auto list = std::make_tuple(field("reads", &T::reads, kRequired),
                                               field("instrument", &T::instrument),
                                               field("compensates", &T::compensates));
};
template <>
struct Table<visit::StandardCheck> {
  using T = visit::StandardCheck;
  static constexpr std::string_view name = "standard_check";
  static constexpr auto list =
      std::make_tuple(field("standard_uS_cm", &T::standard, Range{10, 20000}),
                      field("buffer_pH", &T::buffer, Range{1, 13}),
                      field("temperature_C", &T::temperature, Range{5, 45}, kRequired),
                      field("shown", &T::shown, Range{0, 1e5}, kRequired),
                      field("on", &T::on, Range{10, 10}, kRequired));
};
template <>
struct Table<visit::CheckedMeter> {
  using T = visit::CheckedMeter;
  static constexpr std::string_view name = "checked_meter";
  static constexpr auto list =
      std::make_tuple(field("meter", &T::meter, kRequired),
                      field("checks", &T::checks, Range{0, 40}),
                      field("on", &T::on, Range{10, 10}, kRequired),
                      field("raw", &T::raw, Range{0.1, 1e5}),
                      field("product", &T::product, Range{0.1, 1e5}),
                      field("gauge_checks", &T::gauge_checks, Range{0, 40}),
                      field("inlet", &T::inlet, Range{0.1, 1e5}),
                      field("membrane", &T::membrane, Range{0.1, 1e5}),
                      field("hold", &T::hold, Range{0.1, 1e5}));
  // Standards, buffers or pressures as the meter reads, days in their order, nothing beyond its
  // full scale.
  static base::Result<base::Done> check(const T& meter, const Path& path);
};

}  // namespace drawoff::fields
