// What is known of a site's water before anything is chosen.
#pragma once

#include <optional>

#include "visit/known_water.h"
#include "water/analysis_entry.h"

namespace drawoff::visit {

enum class SourceKind { kMains, kBorehole, kWell, kSurface, kTanker, kRain, kUnknown };
// Whose limits apply: the keys of data/limits.csv.
enum class Authority { kWho, kEpa, kEu, kIndia };
enum class FaecalIndicators { kNotTested, kAbsent, kPresent };

// Where the make-up of the water comes from. A meter reading alone tells its strength; the rest is
// then the usual make-up, good enough for pressures and flows and for no judgement of a substance.
// Readings (a meter, drop tests, strips) tell as much as they tell: see visit/known_water.h.
enum class SurveyBasis { kAnalysis, kMeter, kReadings };

struct SurveyEntry {
  SourceKind source = SourceKind::kMains;
  Authority authority = Authority::kWho;
  SurveyBasis basis = SurveyBasis::kAnalysis;
  water::AnalysisEntry water;
  std::optional<KnownWaterEntry> known;  // in place of the analysis
  FaecalIndicators faecal_indicators = FaecalIndicators::kNotTested;
  std::optional<units::Density> free_chlorine;
  double strength_spread = 0.10;  // ln, of the salts together between analysis and any later day
  fields::Json unknown;
};

// "WHO": the name of the authority in data/limits.csv.
std::string_view authority_key(Authority authority);

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
struct EnumTable<visit::Authority> {
  static constexpr std::string_view name = "authority";
  static constexpr std::array list = {choice(visit::Authority::kWho, "WHO"),
                                      choice(visit::Authority::kEpa, "EPA"),
                                      choice(visit::Authority::kEu, "EU"),
                                      choice(visit::Authority::kIndia, "IN")};
};
template <>
struct EnumTable<visit::FaecalIndicators> {
  static constexpr std::string_view name = "faecal_indicators";
  static constexpr std::array list = {choice(visit::FaecalIndicators::kNotTested, "not_tested"),
                                      choice(visit::FaecalIndicators::kAbsent, "absent"),
                                      choice(visit::FaecalIndicators::kPresent, "present")};
};
template <>
struct EnumTable<visit::SurveyBasis> {
  static constexpr std::string_view name = "survey_basis";
  static constexpr std::array list = {choice(visit::SurveyBasis::kAnalysis, "analysis"),
                                      choice(visit::SurveyBasis::kMeter, "meter"),
                                      choice(visit::SurveyBasis::kReadings, "readings")};
};

template <>
struct Table<visit::SurveyEntry> {
  using T = visit::SurveyEntry;
  static constexpr std::string_view name = "survey";
  static constexpr auto list =
      std::make_tuple(field("source", &T::source, kRequired),
                      field("authority", &T::authority),
                      field("basis", &T::basis),
                      field("water", &T::water),
                      field("known", &T::known),
                      field("faecal_indicators", &T::faecal_indicators),
                      field("free_chlorine_mg_L", &T::free_chlorine, Range{0, 10}),
                      field("strength_spread_pct", &T::strength_spread, Range{0, 60}));
  static constexpr auto unknown = &T::unknown;
  // What the basis names is there.
  static base::Result<base::Done> check(const T& survey, const Path& path);
};

}  // namespace drawoff::fields
