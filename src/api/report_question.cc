#include "api/report_question.h"

#include <fmt/format.h>

#include "fields/errors.h"
#include "fields/quote.h"

namespace drawoff::api {
namespace {

using water::Report;

// Where neither the report nor the person says: a water from the ground in most of the year.
constexpr units::Temperature kUsualTemperature = units::celsius(15);

double milligrams(units::Density d) { return d / units::milligram_per_litre(1); }

// Every number of the analysis and of the lines, by the value that was read.
void explain(const ReportOutput& out, Working& working) {
  if (!working.asked()) return;
  const auto line = [&](std::string result,
                        std::string symbol,
                        double value,
                        std::string unit,
                        const char* formula = "c = x f") {
    working.add({.result = std::move(result),
                 .symbol = std::move(symbol),
                 .formula = formula,
                 .inputs = {},
                 .value = value,
                 .unit = std::move(unit),
                 .source = "analysis"});
  };
  for (std::size_t i = 0; i < out.rows.size(); ++i) {
    const ReportRow& r = out.rows[i];
    line(fmt::format("rows[{}].line", i), "n", r.line, "", "n");
    if (r.amount) line(fmt::format("rows[{}].amount_mg_L", i), "c", milligrams(*r.amount), "mg/L");
  }
  const auto mass = [&](const char* key, const std::optional<units::Density>& d, const char* unit) {
    if (d) line(key, "c", milligrams(*d), unit);
  };
  mass("tds_mg_L", out.tds, "mg/L");
  mass("hardness_mg_L_CaCO3", out.hardness, "mg/L as CaCO3");
  mass("alkalinity_mg_L_CaCO3", out.alkalinity, "mg/L as CaCO3");
  mass("free_chlorine_mg_L", out.free_chlorine, "mg/L");
  mass("total_chlorine_mg_L", out.total_chlorine, "mg/L");
  mass("sulfide_mg_L", out.sulfide, "mg/L");
  mass("iron_total_mg_L", out.iron_total, "mg/L");
  if (out.conductivity_25) {
    line("conductivity_25_uS_cm", "κ", out.conductivity_25->si() * 1e4, "µS/cm");
  }
  if (out.turbidity) line("turbidity_NTU", "T", *out.turbidity, "", "T");
  if (!out.water) return;
  line("water.temperature_C", "t", out.water->temperature.si() - 273.15, "°C", "t");
  line("water.pH", "pH", out.water->ph, "", "pH");
  if (out.water->alkalinity) {
    line("water.alkalinity_mg_L_CaCO3", "c", milligrams(*out.water->alkalinity), "mg/L as CaCO3");
  }
  const auto each = [&](const char* at, const auto& constituents, double scale, const char* unit) {
    for (int i = 0; i < water::kSpeciesCount; ++i) {
      const auto& c = constituents[water::index(water::species_at(i))];
      if (c.report == Report::kNotAnalysed) continue;
      const std::string& key = water::species_data(water::species_at(i)).key;
      line(fmt::format("water.{}.{}{}", at, key, c.report == Report::kBelow ? ".lt" : ""),
           "c",
           c.value.si() * scale,
           unit);
    }
  };
  each("ions_mg_L", out.water->ions.constituents, 1e3, "mg/L");
  each("trace_ug_L", out.water->traces.constituents, 1e6, "µg/L");
}

}  // namespace

base::Result<ReportOutput> ask_report(const ReportInput& in,
                                      Working& working,
                                      const messages::Catalogue& words) {
  TRY(const water::LabReport report,
      water::read_lab_report(in.text, static_cast<std::size_t>(in.sample)));
  const water::LabFacts& facts = report.facts;
  ReportOutput out{.samples = report.samples,
                   .conductivity_25 = facts.conductivity,
                   .tds = facts.tds,
                   .hardness = facts.hardness,
                   .alkalinity = facts.alkalinity,
                   .free_chlorine = facts.free_chlorine,
                   .total_chlorine = facts.total_chlorine,
                   .sulfide = facts.sulfide,
                   .iron_total = facts.iron_total,
                   .turbidity = facts.turbidity,
                   .date = facts.date};
  if (facts.faecal_indicators) {
    out.faecal_indicators = *facts.faecal_indicators ? visit::FaecalIndicators::kPresent
                                                     : visit::FaecalIndicators::kAbsent;
  }
  for (const water::LabRow& r : report.rows) {
    const auto safe = [](const std::string& text) { return fields::one_line(text); };
    out.rows.push_back({.line = r.line,
                        .name = safe(r.name),
                        .value = safe(r.value),
                        .unit = safe(r.unit),
                        .of = r.of,
                        .amount = r.amount.report == Report::kNotAnalysed
                                      ? std::nullopt
                                      : std::optional(r.amount.value),
                        .below = r.amount.report == Report::kBelow,
                        .use = r.use});
  }
  const auto doubt = [&](const base::Message& m) {
    out.doubts.push_back(messages::render(words, m));
  };
  if (report.samples.size() > 1) {
    const auto i = static_cast<std::size_t>(in.sample);
    const auto count = static_cast<double>(report.samples.size());
    doubt({"report.doubt.samples",
           {{"count", fields::given_number(count, nullptr)},
            {"name", fields::quote_text(report.samples[i])}}});
  }
  for (const base::Message& m : report.doubts) doubt(m);

  water::AnalysisEntry entry = report.water;
  if (!facts.ph && in.ph) entry.ph = *in.ph;
  if (!facts.temperature) {
    entry.temperature = in.temperature.value_or(kUsualTemperature);
    if (!in.temperature) {
      doubt({"report.doubt.no_temperature",
             {{"taken", base::Number{kUsualTemperature.si() - 273.15, "°C", 2}}}});
    }
  }
  if (!facts.ph && !in.ph) {
    doubt({"report.doubt.no_ph"});
    explain(out, working);
    return out;
  }
  const auto whole = fields::Table<water::AnalysisEntry>::check(entry, fields::Path{} / "water");
  if (!whole) {
    doubt(whole.error().message);
    explain(out, working);
    return out;
  }
  for (const base::Message& m : water::cross_checks(entry, facts)) doubt(m);
  out.water = std::move(entry);
  explain(out, working);
  return out;
}

}  // namespace drawoff::api
