// calc report: a laboratory's report, as it came, read into an analysis.
//
//   {"text": "Parameter;Ergebnis;Einheit\nCalcium;115,2;mg/l\n…"}
//
// Layouts, names, units and bases: docs/formats/report.md. `water` is an analysis for `calc water`
// and for a survey; null where the report has no pH and none is given here, or where its numbers
// cannot all be true. Nothing is dropped in silence: `rows` says what became of each line, `doubts`
// holds a sentence for each thing that was left out, taken one way of two, or contradicts another.
#pragma once

#include <optional>
#include <string>
#include <tuple>
#include <vector>

#include "api/question.h"
#include "visit/survey.h"
#include "water/lab_report.h"

namespace drawoff::api {

struct ReportInput {
  std::string text;
  int sample = 0;                                 // which of several, from 0
  std::optional<double> ph;                       // where the report has none
  std::optional<units::Temperature> temperature;  // of the water, where the report has none
};

struct ReportRow {
  int line = 0;
  std::string name, value, unit;
  std::string of;  // empty: not known here
  std::optional<units::Density> amount;
  bool below = false;  // the amount is a bound
  water::RowUse use = water::RowUse::kNotNeeded;
};

struct ReportOutput {
  std::optional<water::AnalysisEntry> water;
  std::vector<std::string> samples;
  std::vector<ReportRow> rows;
  std::optional<units::Conductivity> conductivity_25;
  std::optional<units::Density> tds, hardness, alkalinity;
  std::optional<units::Density> free_chlorine, total_chlorine, sulfide, iron_total;
  std::optional<double> turbidity;
  visit::FaecalIndicators faecal_indicators = visit::FaecalIndicators::kNotTested;
  std::string date;
  std::vector<std::string> doubts;  // sentences
};

base::Result<ReportOutput> ask_report(const ReportInput& in,
                                      Working& working,
                                      const messages::Catalogue& words);

}  // namespace drawoff::api

namespace drawoff::fields {

template <>
struct EnumTable<water::RowUse> {
  static constexpr std::string_view name = "row_use";
  static constexpr std::array list = {choice(water::RowUse::kUsed, "used"),
                                      choice(water::RowUse::kLeftOut, "left_out"),
                                      choice(water::RowUse::kNotNeeded, "not_needed")};
};
template <>
struct Table<api::ReportInput> {
  using T = api::ReportInput;
  static constexpr std::string_view name = "report_input";
  static constexpr auto list =
      std::make_tuple(field("text", &T::text, Range{1, 300000}, kRequired),
                      field("sample", &T::sample, Range{0, 4000}, kNotAsked),
                      field("pH", &T::ph, Range{0, 14}),
                      field("temperature_C", &T::temperature, Range{0, 60}));
};
template <>
struct Table<api::ReportRow> {
  using T = api::ReportRow;
  static constexpr std::string_view name = "report_row";
  static constexpr auto list = std::make_tuple(field("line", &T::line, kRequired),
                                               field("name", &T::name, kRequired),
                                               field("value", &T::value, kRequired),
                                               field("unit", &T::unit, kRequired),
                                               field("of", &T::of, kRequired),
                                               field("amount_mg_L", &T::amount, kNullWhenAbsent),
                                               field("below", &T::below, kRequired),
                                               field("use", &T::use, kRequired));
};
template <>
struct Table<api::ReportOutput> {
  using T = api::ReportOutput;
  static constexpr std::string_view name = "report_output";
  static constexpr auto list =
      std::make_tuple(field("water", &T::water, kNullWhenAbsent),
                      field("samples", &T::samples, kRequired),
                      field("rows", &T::rows, kRequired),
                      field("conductivity_25_uS_cm", &T::conductivity_25, kNullWhenAbsent),
                      field("tds_mg_L", &T::tds, kNullWhenAbsent),
                      field("hardness_mg_L_CaCO3", &T::hardness, kNullWhenAbsent),
                      field("alkalinity_mg_L_CaCO3", &T::alkalinity, kNullWhenAbsent),
                      field("free_chlorine_mg_L", &T::free_chlorine, kNullWhenAbsent),
                      field("total_chlorine_mg_L", &T::total_chlorine, kNullWhenAbsent),
                      field("sulfide_mg_L", &T::sulfide, kNullWhenAbsent),
                      field("iron_total_mg_L", &T::iron_total, kNullWhenAbsent),
                      field("turbidity_NTU", &T::turbidity, kNullWhenAbsent),
                      field("faecal_indicators", &T::faecal_indicators, kRequired),
                      field("date", &T::date, kRequired),
                      field("doubts", &T::doubts, kRequired));
};

}  // namespace drawoff::fields
