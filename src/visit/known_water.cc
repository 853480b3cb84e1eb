#include "visit/known_water.h"

#include <array>
#include <cmath>
#include <numbers>

#include "visit/date.h"

namespace drawoff {
namespace visit {
namespace {

using water::Known;

struct TestOf {
  Known known;
  std::optional<TestEntry> KnownWaterEntry::*entry;
  double least_seen;  // [mg/L] what a drop test cannot see: common practice, no source
};
constexpr std::array kTests{TestOf{Known::kHardness, &KnownWaterEntry::hardness, 5},
                            TestOf{Known::kAlkalinity, &KnownWaterEntry::alkalinity, 5},
                            TestOf{Known::kChloride, &KnownWaterEntry::chloride, 5},
                            TestOf{Known::kSulfate, &KnownWaterEntry::sulfate, 5},
                            TestOf{Known::kNitrate, &KnownWaterEntry::nitrate, 1},
                            TestOf{Known::kFluoride, &KnownWaterEntry::fluoride, 0.05},
                            TestOf{Known::kIron, &KnownWaterEntry::iron, 0.05}};

// A drop test as sold, and the eye that judges a strip (common practice, no source).
constexpr double kUsualTestAccuracy = 0.15;
constexpr double kEye = 0.2;         // spread of ln
constexpr double kExpiredEye = 0.4;  // past its date

// A bound within which nothing is preferred. [jcgm2008, 4.3.7]
double sigma_of_bound(double bound) { return bound / std::numbers::sqrt3; }

std::optional<double> si(const std::optional<units::Density>& d) {
  return d ? std::optional(d->si()) : std::nullopt;
}

}  // namespace

bool expired(const TestEntry& test, const KnownWaterEntry& entry) {
  if (test.expires.empty() || entry.on.empty()) return false;
  // A month lasts to its end: only as much of the day is compared as the label says.
  return entry.on.substr(0, test.expires.size()) > test.expires;
}

water::HalfKnown half_known(const KnownWaterEntry& entry) {
  water::HalfKnown known{.temperature = entry.temperature};
  if (entry.meter) {
    const MeterEntry& m = *entry.meter;
    const water::Meter meter = m.unit == MeterUnit::kMicrosiemens
                                   ? water::Meter{water::MeterScale::kMicrosiemens, 1}
                                   : water::Meter{m.scale, m.calibrated_factor};
    known.readings.push_back({.of = Known::kConductivity,
                              .value = water::conductivity_25_from(m.value, meter).si(),
                              .sigma = sigma_of_bound(m.accuracy)});
  }
  if (entry.ph) {
    known.readings.push_back(
        {.of = Known::kPh, .value = entry.ph->value, .sigma = sigma_of_bound(entry.ph->accuracy)});
  }
  for (const TestOf& test : kTests) {
    const auto& t = entry.*test.entry;
    if (!t) continue;
    water::KnownReading r{.of = test.known,
                          .value = si(t->value),
                          .low = si(t->low),
                          .high = si(t->high),
                          .blur = expired(*t, entry) ? kExpiredEye : kEye};
    if (r.value) {
      const double share = t->accuracy.value_or(kUsualTestAccuracy) * (expired(*t, entry) ? 2 : 1);
      r.sigma = sigma_of_bound(std::hypot(share * *r.value, test.least_seen * 1e-3));
    }
    known.readings.push_back(r);
  }
  return known;
}

}  // namespace visit

namespace fields {
namespace {

// `test`: whose fields the sentence may name.
base::Error at(const Path& path, std::string id, const Path& test = {}) {
  return {base::ErrorKind::kData,
          {std::move(id),
           {{"path", path_argument(path)},
            {"value", path_argument(test / "value_mg_L")},
            {"low", path_argument(test / "low_mg_L")},
            {"high", path_argument(test / "high_mg_L")}}}};
}

}  // namespace

base::Result<base::Done> Table<visit::TestEntry>::check(const T& test, const Path& path) {
  const bool field = test.low || test.high;
  if (field == test.value.has_value()) {
    return at(path, "error.known_water.value_or_field", path);
  }
  if (test.low && test.high && !(*test.low < *test.high)) {
    return at(path / "high_mg_L", "error.known_water.field_order", path);
  }
  if (test.low && !test.high && !(test.low->si() > 0)) {
    return at(path / "low_mg_L", "error.known_water.field_of_all", path);
  }
  if (!test.expires.empty() && !visit::is_date(test.expires)) {
    return at(path / "expires", "error.known_water.date");
  }
  return base::Done{};
}

base::Result<base::Done> Table<visit::KnownWaterEntry>::check(const T& entry, const Path& path) {
  if (visit::half_known(entry).readings.empty()) return at(path, "error.known_water.nothing");
  if (!entry.on.empty() && (entry.on.size() != 10 || !visit::is_date(entry.on))) {
    return at(path / "on", "error.known_water.date");
  }
  return base::Done{};
}

}  // namespace fields
}  // namespace drawoff
