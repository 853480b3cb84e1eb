// What a person writes of the place: its own limits, what its waters usually hold, how often
// microbes are looked for, when scale counts as such. It stands before the shared tables.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "fields/field.h"
#include "visit/limits.h"
#include "visit/scaling.h"

namespace drawoff::visit {

struct LocalLimit {
  std::string substance;  // "NO3", "As", "TDS", "hardness"
  units::Density value;
  LimitKind kind = LimitKind::kHealth;
  std::string edition;  // where it stands
};

// What a source of the place may hold where nobody analysed it.
struct UsualAmount {
  std::string substance;
  units::Density high;
};

struct LocalProfile {
  std::string name;
  std::vector<LocalLimit> limits;
  std::vector<UsualAmount> usual;
  int microbe_days = 365;  // how long a clear sample counts
  std::vector<ScaleGrades> scale;
  // What a blended product holds there; both or neither [ppm, half scale].
  std::optional<double> blend_low;
  std::optional<double> blend_high;
};

}  // namespace drawoff::visit

namespace drawoff::fields {

template <>
struct EnumTable<visit::LimitKind> {
  static constexpr std::string_view name = "limit_kind";
  static constexpr std::array list = {choice(visit::LimitKind::kHealth, "health"),
                                      choice(visit::LimitKind::kTaste, "taste")};
};
template <>
struct Table<visit::LocalLimit> {
  using T = visit::LocalLimit;
  static constexpr std::string_view name = "local_limit";
  static constexpr auto list =
      std::make_tuple(field("substance", &T::substance, Range{1, 10}, kRequired),
                      field("limit_mg_L", &T::value, Range{1e-6, 1e5}, kRequired),
                      field("kind", &T::kind),
                      field("edition", &T::edition, Range{0, 80}));
  // A substance that is known.
  static base::Result<base::Done> check(const T& limit, const Path& path);
};
template <>
struct Table<visit::UsualAmount> {
  using T = visit::UsualAmount;
  static constexpr std::string_view name = "usual_amount";
  static constexpr auto list =
      std::make_tuple(field("substance", &T::substance, Range{1, 10}, kRequired),
                      field("high_mg_L", &T::high, Range{0, 1e4}, kRequired));
  static base::Result<base::Done> check(const T& usual, const Path& path);
};
template <>
struct Table<visit::LocalProfile> {
  using T = visit::LocalProfile;
  static constexpr std::string_view name = "local_profile";
  static constexpr auto list =
      std::make_tuple(field("name", &T::name, Range{1, 80}, kRequired),
                      field("limits", &T::limits, Range{0, 60}),
                      field("usual", &T::usual, Range{0, 60}),
                      field("microbe_days", &T::microbe_days, Range{1, 3650}),
                      field("scale", &T::scale, Range{0, 20}),
                      field("blend_low_ppm", &T::blend_low, Range{50, 500}),
                      field("blend_high_ppm", &T::blend_high, Range{52, 600}));
  // Both ends of the blend's window or neither, and one that a meter can hit.
  static base::Result<base::Done> check(const T& profile, const Path& path);
};

}  // namespace drawoff::fields
