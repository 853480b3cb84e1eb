#include "visit/local_profile.h"

#include "fields/errors.h"
#include "fields/quote.h"

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

}  // namespace drawoff::fields
