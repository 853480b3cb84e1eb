// A site with more than one source: mains, borehole and tanker take turns, by season.
//
// Each further source says between which shares it stands in the dry season, in the wet one and
// after rain; the first source is the rest. What holds of the site holds of every mix between: for
// a concentration it is enough to look at the corners, where each share is at an end.
#pragma once

#include <string>
#include <vector>

#include "fields/field.h"
#include "water/analysis_entry.h"
#include "water/composition.h"

namespace drawoff::visit {

enum class SourceKind { kMains, kBorehole, kWell, kSurface, kTanker, kRain, kUnknown };
enum class Season { kDry, kWet, kAfterRain };

// Of the water at the tap.
struct Share {
  double low = 0;
  double high = 0;
};

struct FurtherSource {
  std::string name;
  SourceKind source = SourceKind::kBorehole;
  water::AnalysisEntry water;
  Share dry, wet, after_rain;
};

struct Mix {
  Season season = Season::kDry;
  double first = 1;         // share of the site's first source
  water::Composition rest;  // of the others, each by its share
};

// The corners; one whole mix of the first source where there is no other.
base::Result<std::vector<Mix>> mixes_of(const std::vector<FurtherSource>& further);

}  // namespace drawoff::visit

namespace drawoff::fields {

template <>
struct EnumTable<visit::SourceKind> {
  static constexpr std::string_view name = "source_kind";
  static constexpr std::array list = {choice(visit::SourceKind::kMains, "mains"),
                                      choice(visit::SourceKind::kBorehole, "borehole"),
                                      choice(visit::SourceKind::kWell, "well"),
                                      choice(visit::SourceKind::kSurface, "surface"),
                                      choice(visit::SourceKind::kTanker, "tanker"),
                                      choice(visit::SourceKind::kRain, "rain"),
                                      choice(visit::SourceKind::kUnknown, "unknown")};
};
template <>
struct Table<visit::Share> {
  using T = visit::Share;
  static constexpr std::string_view name = "share";
  static constexpr auto list = std::make_tuple(field("low_pct", &T::low, Range{0, 100}),
                                               field("high_pct", &T::high, Range{0, 100}));
  // The right way round.
  static base::Result<base::Done> check(const T& share, const Path& path);
};
template <>
struct Table<visit::FurtherSource> {
  using T = visit::FurtherSource;
  static constexpr std::string_view name = "further_source";
  static constexpr auto list = std::make_tuple(field("name", &T::name, Range{1, 60}, kRequired),
                                               field("source", &T::source),
                                               field("water", &T::water, kRequired),
                                               field("dry", &T::dry),
                                               field("wet", &T::wet),
                                               field("after_rain", &T::after_rain));
};

}  // namespace drawoff::fields
