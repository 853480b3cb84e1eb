#include "api/found_screen.h"

#include <cmath>

#include "api/course_screen.h"

namespace drawoff::api {
namespace {

// As a band is said.
double two_digits(double value) {
  if (value == 0) return 0;
  const double step = std::pow(10.0, std::floor(std::log10(std::fabs(value))) - 1);
  return std::round(value / step) * step;
}

// What is left of chlorine and sanitiser needs no machine to be foretold.
std::optional<Band> band_for(const FoundInput& in) {
  if (in.expected) return in.expected;
  switch (in.found.sign) {
    case visit::Sign::kFreeChlorine:
    case visit::Sign::kTotalChlorine:
    case visit::Sign::kSanitiserLeft:
      return Band{0, 0, visit::kNoChlorine / units::milligram_per_litre(1), "mg_L"};
    default:
      return std::nullopt;
  }
}

}  // namespace

base::Result<FoundOutput> ask_found(const FoundInput& in,
                                    Working& /*working*/,
                                    const messages::Catalogue& words) {
  visit::FoundEntry found = in.found;
  if (const auto band = band_for(in)) {
    const auto* unit = units::unit_of_key(band->unit);
    // As it is said, so that nothing is outside of what was read there.
    const auto shown = [&](double end) {
      return two_digits(visit::as_shown(units::to_si(*unit, end), found));
    };
    found.expected = {shown(band->low), shown(band->high)};
  }
  return FoundOutput{.expected = found.expected,
                     .text = found_in_words(found, words),
                     .fit = visit::fit_of(found),
                     .look = look_at(found, words)};
}

}  // namespace drawoff::api

namespace drawoff::fields {

base::Result<base::Done> Table<api::FoundInput>::check(const T& in, const Path& path) {
  if (!in.expected) return base::Done{};
  const auto* unit = units::unit_of_key(in.expected->unit);
  for (const visit::SignUnit one : visit::units_of(in.found.sign, false)) {
    // The first that is not a pen's ppm, which has no dimension of its own.
    if (one == visit::SignUnit::kPpm) continue;
    if (unit != nullptr && unit->dimension == visit::unit_of(one).dimension) return base::Done{};
  }
  return base::Error{base::ErrorKind::kData,
                     {"error.reading.unit",
                      {{"path", path_argument(path / "expected" / "unit")},
                       {"unit", in.expected->unit},
                       {"point", base::Ref{"sign." + std::string(name_of(in.found.sign))}}}}};
}

}  // namespace drawoff::fields
