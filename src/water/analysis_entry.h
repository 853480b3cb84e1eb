// An analysis as it is typed: the input of `calc water`, and the water of a survey.
//
//   {"temperature_C": 12, "pH": 7.3, "ions_mg_L": {"Ca": 115, "Fe": {"lt": 0.02}},
//    "trace_ug_L": {"As5": 4}, "alkalinity_mg_L_CaCO3": 246}
//
// An absent ion was not analysed; 0 was looked for and absent; {"lt": x} is below x.
#pragma once

#include <array>
#include <optional>

#include "fields/errors.h"
#include "fields/field.h"
#include "fields/read.h"
#include "water/analysis.h"

namespace drawoff::water {

// The constituents that may stand under one key. Ions in mg/L, traces in µg/L.
struct Ions {
  std::array<Constituent, kSpeciesCount> constituents{};
  bool operator==(const Ions&) const = default;
};
struct Traces {
  std::array<Constituent, kSpeciesCount> constituents{};
  bool operator==(const Traces&) const = default;
};

struct AnalysisEntry {
  units::Temperature temperature = units::celsius(25);
  double ph = 7;
  std::optional<units::Temperature> ph_temperature;  // absent: that of the water
  Ions ions;
  Traces traces;
  std::optional<units::Density> alkalinity;  // as CaCO3, in place of HCO3 and CO3
  fields::Json unknown;
  bool operator==(const AnalysisEntry&) const = default;
};

Analysis analysis_of(const AnalysisEntry& entry);

}  // namespace drawoff::water

namespace drawoff::fields {

template <>
struct Codec<water::Ions> {
  static base::Result<water::Ions> read(const Json& json, const Place& place, ReadContext& context);
  static Json write(const water::Ions& ions, const units::Unit* unit);
  static Json schema(const units::Unit* unit);
};
template <>
struct Codec<water::Traces> {
  static base::Result<water::Traces> read(const Json& json,
                                          const Place& place,
                                          ReadContext& context);
  static Json write(const water::Traces& traces, const units::Unit* unit);
  static Json schema(const units::Unit* unit);
};

template <>
struct Table<water::AnalysisEntry> {
  using T = water::AnalysisEntry;
  static constexpr std::string_view name = "analysis";
  static constexpr auto list =
      std::make_tuple(field("temperature_C", &T::temperature, Range{0, 60}, kRequired),
                      field("pH", &T::ph, Range{0, 14}, kRequired),
                      field("pH_at_C", &T::ph_temperature, Range{0, 60}),
                      field("ions_mg_L", &T::ions, kRequired),
                      field("trace_ug_L", &T::traces),
                      field("alkalinity_mg_L_CaCO3", &T::alkalinity, Range{0, 5000}));
  static constexpr auto unknown = &T::unknown;
  static base::Result<base::Done> check(const T& entry, const Path& path);
};

}  // namespace drawoff::fields
