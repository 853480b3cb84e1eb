// What is known of a site's water before anything is chosen.
#pragma once

#include <optional>

#include "visit/building.h"
#include "visit/known_water.h"
#include "visit/local_profile.h"
#include "visit/sources.h"
#include "water/analysis_entry.h"

namespace drawoff::visit {

// Whose limits apply: the keys of data/limits.csv.
enum class Authority { kWho, kEpa, kEu, kIndia };
enum class FaecalIndicators { kNotTested, kAbsent, kPresent };

// Where the make-up of the water comes from. A meter reading alone tells its strength; the rest is
// then the usual make-up, good enough for pressures and flows and for no judgement of a substance.
// Readings (a meter, drop tests, strips) tell as much as they tell: see visit/known_water.h.
enum class SurveyBasis { kAnalysis, kMeter, kReadings };
// Who analysed it: a laboratory this very source, or the supplier's published report its network.
enum class AnalysedBy { kLaboratory, kSupplier };

struct SurveyEntry {
  SourceKind source = SourceKind::kMains;
  Authority authority = Authority::kWho;
  SurveyBasis basis = SurveyBasis::kAnalysis;
  water::AnalysisEntry water;
  std::optional<KnownWaterEntry> known;  // in place of the analysis, or read beside it
  std::string on;                        // the day of the survey, "2026-11-27"
  AnalysedBy analysed_by = AnalysedBy::kLaboratory;
  std::string analysed_on;  // the day of the sample
  FaecalIndicators faecal_indicators = FaecalIndicators::kNotTested;
  std::string faecal_on;                        // the day of that sample
  std::optional<units::Density> free_chlorine;  // at the tap on that day
  std::optional<TapEntry> tap;
  std::optional<BuildingEntry> building;
  std::optional<PlanEntry> plan;
  std::optional<LocalProfile> local;
  std::vector<FurtherSource> further;
  double strength_spread = 0.10;  // ln, of the salts together between analysis and any later day
  fields::Json unknown;
};

// "WHO": the name of the authority in data/limits.csv.
std::string_view authority_key(Authority authority);

}  // namespace drawoff::visit

namespace drawoff::fields {

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
struct EnumTable<visit::AnalysedBy> {
  static constexpr std::string_view name = "analysed_by";
  static constexpr std::array list = {choice(visit::AnalysedBy::kLaboratory, "laboratory"),
                                      choice(visit::AnalysedBy::kSupplier, "supplier")};
};

template <>
struct Table<visit::SurveyEntry> {
  using T = visit::SurveyEntry;
  static constexpr std::string_view name = "survey";
  static constexpr auto list =
      std::make_tuple(field("source", &T::source, kRequired),
                      field("authority", &T::authority),
                      field("basis", &T::basis),
                      field("water", &T::water, kMayLack),
                      field("known", &T::known, kNotAsked),
                      field("on", &T::on, Range{0, 10}),
                      field("analysed_by", &T::analysed_by),
                      field("analysed_on", &T::analysed_on, Range{0, 10}),
                      field("faecal_indicators", &T::faecal_indicators),
                      field("faecal_on", &T::faecal_on, Range{0, 10}),
                      field("free_chlorine_mg_L", &T::free_chlorine, Range{0, 10}),
                      field("strength_spread_pct", &T::strength_spread, Range{0, 60}),
                      field("tap", &T::tap),
                      field("building", &T::building),
                      field("plan", &T::plan),
                      field("local", &T::local),
                      field("further", &T::further, Range{0, 4}));
  static constexpr auto unknown = &T::unknown;
  // What the basis names is there; days are days; shares leave nothing below zero.
  static base::Result<base::Done> check(const T& survey, const Path& path);
};

}  // namespace drawoff::fields
