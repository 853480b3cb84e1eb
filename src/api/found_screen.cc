#include "api/found_screen.h"

#include "api/course_screen.h"

namespace drawoff::api {

base::Result<FoundOutput> ask_found(const FoundInput& in,
                                    Working& /*working*/,
                                    const messages::Catalogue& words) {
  visit::FoundEntry found = in.found;
  if (in.expected) {
    const auto* unit = units::unit_of_key(in.expected->unit);
    const auto shown = [&](double end) { return visit::as_shown(units::to_si(*unit, end), found); };
    found.expected = {shown(in.expected->low), shown(in.expected->high)};
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
