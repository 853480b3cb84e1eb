// A laboratory's report, read: what each line says, what it makes of the water, and every doubt.
//
//   TRY(LabReport r, read_lab_report(text));
//   r.water          // the analysis, as far as the report gives it
//   r.doubts         // sentences: a line that was left out, a basis that is not said, …
//
// Layouts: a line a substance (name, result, unit, limit of detection), with further columns for
// further samples; a line a sample, substances across; JSON of either kind; the exchange schema of
// [wqx2024]; words pasted from a page. docs/formats/report.md. Nothing is guessed in silence: what
// could be read two ways is taken one way and doubted, what cannot be read is left out and named.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "water/analysis_entry.h"

namespace drawoff::water {

enum class RowUse {
  kUsed,
  kLeftOut,   // a doubt says why
  kNotNeeded  // a name that nothing here needs
};

struct LabRow {
  int line = 0;
  std::string name;    // as written
  std::string value;   // as written
  std::string unit;    // as written, by whichever cell says it
  std::string of;      // what it was taken for: "NO3", "hardness"; empty: not known
  Constituent amount;  // kg/m³; hardness and alkalinity as CaCO3
  RowUse use = RowUse::kNotNeeded;
};

// What a report says beside the ions.
struct LabFacts {
  std::optional<double> ph;
  std::optional<units::Temperature> temperature;
  std::optional<units::Conductivity> conductivity;  // as reported, taken as one at 25 °C
  std::optional<units::Density> tds, hardness, alkalinity;
  std::optional<units::Density> free_chlorine, total_chlorine, sulfide, iron_total;
  std::optional<double> turbidity;        // NTU
  std::optional<bool> faecal_indicators;  // whether E. coli or enterococci were found
  std::string date;                       // "2026-03-14", if a line says one
};

struct LabReport {
  std::vector<LabRow> rows;
  std::vector<std::string> samples;  // more than one: their names
  AnalysisEntry water;               // pH 7 and 25 °C where the report has none: see facts
  LabFacts facts;
  std::vector<base::Message> doubts;
};

// `sample`: which of several, from 0. Refuses, beside lab_table(): a text without a substance that
// is known here; a sample that is not there; JSON that is not.
base::Result<LabReport> read_lab_report(std::string_view text, std::size_t sample = 0);

// What the report says against itself: ion balance and the measured against the calculated
// [apha2005, 1030 E, limits from memory]. `water` must be a whole one: checks whose parts were not
// analysed are said to be impossible, not passed.
std::vector<base::Message> cross_checks(const AnalysisEntry& water, const LabFacts& facts);

}  // namespace drawoff::water
