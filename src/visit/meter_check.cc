#include "visit/meter_check.h"

#include <array>
#include <cmath>

#include "base/check.h"
#include "inference/bounded_sum.h"
#include "numerics/bracket.h"
#include "visit/date.h"
#include "water/conductivity.h"
#include "water/properties.h"

namespace drawoff {
namespace visit {
namespace {

using inference::Interval;

// Common practice, no source, unless said otherwise.
constexpr double kTolerance = 0.01;      // of a conductivity standard
constexpr double kTolerancePh = 0.02;    // of a buffer
constexpr double kThermometer = 0.5;     // [K]
constexpr double kCompensation = 0.02;   // α [1/K]
constexpr double kMakersDiffer = 0.001;  // α is 1.9 to 2.1 %/K
constexpr double kPhZero = 7;            // where a pH electrode gives no voltage

// An ordinary pH pen; and the dial of an ordinary gauge: class 2.5 of 10 bar, fifty marks.
constexpr inference::Accuracy kUsualPhPen{.last_digit = 0.01, .digits = 10};
constexpr units::Pressure kUsualScale = units::bar(10);
constexpr double kUsualClass = 0.025;
constexpr double kUsualMarks = 50;

water::Composition potassium_chloride(units::Conductivity at_25) {
  constexpr int kRounds = 12;  // each leaves less than a tenth of the error
  water::Composition c;
  c[water::Species::K] = c[water::Species::Cl] = 1;
  for (int i = 0; i < kRounds; ++i) {
    c = water::scaled(c, at_25 / water::conductivity_25(c));
  }
  return c;
}

// The number that a sound meter of the kind shows.
double sound(const MeterAsBought& m, const StandardCheck& c, units::Temperature temperature) {
  if (reads_ph(m)) {
    return m.compensates ? *c.buffer
                         : kPhZero + (*c.buffer - kPhZero) * (temperature / units::celsius(25));
  }
  // By volume a solution is the weaker, the more it has swollen.
  const auto salt = water::scaled(potassium_chloride(*c.standard),
                                  water::density(temperature) / water::density(units::celsius(25)));
  const double here = water::conductivity(salt, temperature) / units::microsiemens_per_cm(1);
  const double warmer = temperature.si() - units::celsius(25).si();
  return factor_of(m) * here / (m.compensates ? 1 + kCompensation * warmer : 1);
}

struct Sound {
  double shown = 0;
  std::array<double, 3> bounds{};  // of the standard, the thermometer, the maker's α
  double half_digit = 0;

  std::array<double, 4> all(double scale) const {
    return {scale * bounds[0], scale * bounds[1], scale * bounds[2], half_digit};
  }
};

// What the meter is good for there, and whether anybody said so.
struct Bought {
  inference::Accuracy accuracy;
  bool stated = true;
  double half_digit = 0;
};

inference::Accuracy usual_of(const MeterAsBought& m) {
  if (!reads_pressure(m)) return reads_ph(m) ? kUsualPhPen : kUsualPen;
  const double full = gauge_scale(m);
  return {.full_scale = full, .share_of_full_scale = kUsualClass, .last_digit = full / kUsualMarks};
}

Bought bought(const MeterAsBought& m, double reading) {
  const inference::Accuracy usual = usual_of(m);
  Bought b{.accuracy = as_bought(m.instrument, reading).value_or(usual)};
  b.stated = as_bought(m.instrument, reading) && inference::error_bound(b.accuracy, reading) > 0;
  b.half_digit = 0.5 * (b.accuracy.last_digit > 0 ? b.accuracy.last_digit : usual.last_digit);
  if (!b.stated) b.accuracy = usual;
  return b;
}

Sound sound_with_bounds(const MeterAsBought& m, const StandardCheck& c) {
  const auto at = [&](double kelvin) {
    return sound(m, c, units::Temperature(c.temperature.si() + kelvin));
  };
  Sound s{.shown = at(0)};
  s.bounds[0] = reads_ph(m) ? kTolerancePh : kTolerance * s.shown;
  s.bounds[1] = 0.5 * std::fabs(at(kThermometer) - at(-kThermometer));
  if (!reads_ph(m) && m.compensates) {
    const double warmer = c.temperature.si() - units::celsius(25).si();
    s.bounds[2] = s.shown * kMakersDiffer * std::fabs(warmer) / (1 + kCompensation * warmer);
  }
  s.half_digit = bought(m, s.shown).half_digit;
  return s;
}

double root(const auto& f, double low, double high) {
  const auto found =
      numerics::find_root(f, {.low = low, .high = high, .scale = std::fabs(high - low)});
  CHECK(found.status != numerics::BracketStatus::kNoSignChange);
  return found.root;
}

constexpr double kTail = (1 - inference::kExpectedLevel) / 2;

// The same as a share of it. P(e <= y) = P(r − (1 + y) Σ E <= (1 + y) R_s − R): exact for each y.
Interval error_share_of(const Sound& s, double shown) {
  const double most = (s.bounds[0] + s.bounds[1] + s.bounds[2]) / s.shown;
  const double least = std::fmax(0, shown - s.half_digit) / (s.shown * (1 + most)) - 1;
  const double highest = (shown + s.half_digit) / (s.shown * (1 - most)) - 1;
  const auto quantile = [&](double p) {
    const auto off = [&](double y) {
      return inference::probability_of_sum_below(s.all(1 + y), (1 + y) * s.shown - shown) - p;
    };
    // A display shows no less than nothing.
    return off(least) >= 0 ? least : root(off, least, highest);
  };
  return {quantile(kTail), quantile(0.5), quantile(1 - kTail)};
}

}  // namespace

Interval error_within(std::span<const double> bounds, double seen) {
  double most = 0;
  for (const double b : bounds) most += b;
  const double half =
      root([&](double x) { return inference::probability_of_sum_below(bounds, x) - (1 - kTail); },
           0,
           most);
  return {seen - half, seen, seen + half};
}

AsBought against(const Interval& error, double bound) {
  if (error.low >= -bound && error.high <= bound) return AsBought::kWithin;
  if (error.low > bound || error.high < -bound) return AsBought::kBeyond;
  return AsBought::kCannotTell;
}

CheckResult result_of(const CheckedMeter& m, const StandardCheck& c) {
  const Sound s = sound_with_bounds(m.meter, c);
  const auto age = days_between(c.on, m.on);
  CHECK(age);  // the check of the table
  CheckResult r{
      .should_show = s.shown, .error = error_within(s.all(1), c.shown - s.shown), .age = *age};
  r.vouches = r.age <= kVouchesFor;
  if (reads_ph(m.meter)) {
    r.shift = Interval{-r.error.high, -r.error.middle, -r.error.low};
  } else {
    const Interval e = error_share_of(s, c.shown);
    r.error_share = e;
    if (e.low > -1) r.factor = Interval{1 / (1 + e.high), 1 / (1 + e.middle), 1 / (1 + e.low)};
  }
  const Bought b = bought(m.meter, s.shown);
  r.bought_for = std::fmax(inference::error_bound(b.accuracy, s.shown), b.half_digit);
  r.as_bought = against(r.error, r.bought_for);
  return r;
}

bool reads_ph(const MeterAsBought& m) { return m.reads == MeterReads::kPh; }

bool reads_pressure(const MeterAsBought& m) {
  return m.reads == MeterReads::kBar || m.reads == MeterReads::kKpa || m.reads == MeterReads::kPsi;
}

double bound_of(const MeterAsBought& m, double reading) {
  return inference::error_bound(bought(m, reading).accuracy, reading);
}

double gauge_scale(const MeterAsBought& m) {
  if (m.instrument.full_scale > 0) return m.instrument.full_scale;
  return units::from_si(*units::unit_of_key(unit_key(m)), kUsualScale.si());
}

double half_digit_of(const MeterAsBought& m, double reading) {
  return bought(m, reading).half_digit;
}

bool accuracy_stated(const MeterAsBought& m, double reading) { return bought(m, reading).stated; }

double factor_of(const MeterAsBought& m) {
  if (m.reads == MeterReads::kMicrosiemens) return 1;
  return water::meter_factor({m.instrument.scale, m.instrument.calibrated_factor});
}

std::string unit_key(const MeterAsBought& m) {
  return reads_ph(m) ? std::string() : std::string(fields::name_of(m.reads));
}

}  // namespace visit

namespace fields {
namespace {

using visit::StandardCheck;

base::Error refused(const char* id,
                    const Path& path,
                    std::vector<std::pair<std::string, base::Argument>> more) {
  base::Message message{id, {{"path", path_argument(path)}}};
  for (auto& argument : more) message.arguments.push_back(std::move(argument));
  return {base::ErrorKind::kData, std::move(message)};
}

base::Result<base::Done> day(const std::string& text, const Path& path) {
  if (visit::is_date(text)) return base::Done{};
  return refused("error.meter.date", path, {{"value", text}});
}

// A pH, where the field alone would take any number of a display.
base::Result<base::Done> ph_scale(double value, const Path& path, const char* meaning) {
  const Range range{0, 14};
  if (value >= range.low && value <= range.high) return base::Done{};
  return out_of_range({.path = path, .meaning = meaning, .range = range}, value);
}

base::Result<base::Done> kind_fits(const StandardCheck& c,
                                   bool ph,
                                   const Path& path,
                                   const Path& reads) {
  const char* wanted = ph ? "buffer_pH" : "standard_uS_cm";
  const char* other = ph ? "standard_uS_cm" : "buffer_pH";
  if (ph ? c.standard.has_value() : c.buffer.has_value()) {
    return refused("error.meter.other_kind",
                   path / other,
                   {{"kind", ph ? "pH" : "conductivity"},
                    {"wanted", path_argument(path / wanted)},
                    {"reads", path_argument(reads)}});
  }
  if (ph ? !c.buffer : !c.standard) {
    return missing(
        {.path = path / wanted, .meaning = std::string("field.standard_check.") + wanted});
  }
  return base::Done{};
}

// The day of a check, and that its number is on the scale.
base::Result<base::Done> could_be_shown(const visit::CheckedMeter& m,
                                        const std::string& on,
                                        double shown,
                                        const Path& at,
                                        const Path& path) {
  TRY([[maybe_unused]] const auto then, day(on, at / "on"));
  if (*visit::days_between(on, m.on) < 0) {
    return refused("error.meter.later", at / "on", {{"value", on}, {"today", m.on}});
  }
  const double full = m.meter.instrument.full_scale;
  if (full > 0 && shown > full) {
    return refused("error.meter.beyond_scale",
                   at / "shown",
                   {{"value", given_number(shown, nullptr)},
                    {"full", given_number(full, nullptr)},
                    {"full_scale", path_argument(path / "meter" / "instrument" / "full_scale")}});
  }
  return base::Done{};
}

// What is entered of a meter of the other kind, "" if nothing.
std::string_view of_the_other_kind(const visit::CheckedMeter& m) {
  if (visit::reads_pressure(m.meter)) {
    return !m.checks.empty() ? "checks" : m.raw ? "raw" : m.product ? "product" : "";
  }
  return !m.gauge_checks.empty() ? "gauge_checks"
         : m.inlet               ? "inlet"
         : m.membrane            ? "membrane"
         : m.hold                ? "hold"
                                 : "";
}

}  // namespace

base::Result<base::Done> Table<visit::CheckedMeter>::check(const T& m, const Path& path) {
  const bool ph = m.meter.reads == visit::MeterReads::kPh;
  const Path reads = path / "meter" / "reads";
  TRY([[maybe_unused]] const auto today, day(m.on, path / "on"));
  if (const auto key = of_the_other_kind(m); !key.empty()) {
    return refused("error.meter.not_of_kind",
                   path / key,
                   {{"kind", visit::reads_pressure(m.meter) ? "pressure" : "other"},
                    {"reads", path_argument(reads)}});
  }
  for (std::size_t i = 0; i < m.gauge_checks.size(); ++i) {
    const visit::GaugeCheck& c = m.gauge_checks[i];
    TRY([[maybe_unused]] const auto shown,
        could_be_shown(m, c.on, c.shown, (path / "gauge_checks")[i], path));
  }
  for (std::size_t i = 0; i < m.checks.size(); ++i) {
    const StandardCheck& c = m.checks[i];
    const Path at = (path / "checks")[i];
    TRY([[maybe_unused]] const auto kind, kind_fits(c, ph, at, reads));
    if (ph) {
      TRY([[maybe_unused]] const auto scale,
          ph_scale(c.shown, at / "shown", "field.standard_check.shown"));
    }
    TRY([[maybe_unused]] const auto shown, could_be_shown(m, c.on, c.shown, at, path));
  }
  const std::pair<const char*, const std::optional<double>&> readings[] = {{"raw", m.raw},
                                                                           {"product", m.product}};
  for (const auto& [key, value] : readings) {
    if (!ph || !value) continue;
    TRY([[maybe_unused]] const auto fits,
        ph_scale(*value, path / key, ("field.checked_meter." + std::string(key)).c_str()));
  }
  return base::Done{};
}

}  // namespace fields
}  // namespace drawoff
