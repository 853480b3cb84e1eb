#include "visit/local_profile.h"

#include "fields/errors.h"
#include "fields/quote.h"
#include "visit/blend_valve.h"

namespace drawoff::fields {
namespace {

base::Result<base::Done> known(const std::string& substance, const Path& path) {
  if (visit::is_limit_substance(substance)) return base::Done{};
  return base::Error{
      base::ErrorKind::kData,
      {"error.local_profile.substance",
       {{"path", path_argument(path / "substance")}, {"value", quote_text(substance)}}}};
}

}  // namespace

base::Result<base::Done> Table<visit::LocalLimit>::check(const T& limit, const Path& path) {
  return known(limit.substance, path);
}
base::Result<base::Done> Table<visit::UsualAmount>::check(const T& usual, const Path& path) {
  return known(usual.substance, path);
}
base::Result<base::Done> Table<visit::LocalProfile>::check(const T& profile, const Path& path) {
  const auto lacks = [&](const char* key, const char* meaning) {
    return missing({.path = path / key, .meaning = meaning});
  };
  if (profile.blend_low && !profile.blend_high) {
    return lacks("blend_high_ppm", "field.local_profile.blend_high_ppm");
  }
  if (profile.blend_high && !profile.blend_low) {
    return lacks("blend_low_ppm", "field.local_profile.blend_low_ppm");
  }
  if (!profile.blend_low) return base::Done{};
  return check_blend_window(
      *profile.blend_low, *profile.blend_high, path / "blend_low_ppm", path / "blend_high_ppm");
}

}  // namespace drawoff::fields
