#include "water/lab_report.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>

#include "fields/errors.h"
#include "fields/quote.h"
#include "water/lab_layout.h"
#include "water/lab_text.h"
#include "water/lab_units.h"
#include "water/lab_value.h"

namespace drawoff::water {
namespace {

using base::Argument;
using base::Number;
using base::Ref;

Number whole(double n) { return fields::given_number(n, nullptr); }
Number shown(double kg_m3, int digits = 3) { return {kg_m3 * 1e3, "mg/L", digits}; }
std::string in_quotes(const std::string& text) { return fields::quote_text(text); }

bool is_trace(Species s) { return s >= Species::As3; }

// Of two results for one thing, this far apart is no rounding.
constexpr double kSame = 0.1;
// A slip of the unit, not a drinking-water source: as analysis_entry.cc.
constexpr double kMostIon = 40;
constexpr double kMostTrace = 1;

class Reader {
 public:
  explicit Reader(const LabSheet& sheet) : mark_(mark_of(sheet)) {
    for (const LabResult& r : sheet.results) read(r);
    settle();
    report_.samples = sheet.samples;
    report_.facts.date = date_of(sheet.date);
  }

  LabReport take() { return std::move(report_); }

 private:
  struct Held {
    double mass = 0;
    bool below = false;
    std::size_t row = 0;
  };

  static DecimalMark mark_of(const LabSheet& sheet) {
    bool comma = false;
    bool point = false;
    for (const LabResult& r : sheet.results) {
      const auto shown = mark_shown(r.value);
      comma |= shown == DecimalMark::kComma;
      point |= shown == DecimalMark::kPoint;
    }
    return comma && !point ? DecimalMark::kComma : DecimalMark::kPoint;
  }

  // "2026-03-14" of what begins so, or of "14.03.2026"; an American order cannot be told: none.
  static std::string date_of(const std::string& text) {
    const auto figures = [&](std::size_t at, std::size_t n) {
      if (at + n > text.size()) return false;
      for (std::size_t i = at; i < at + n; ++i) {
        if (text[i] < '0' || text[i] > '9') return false;
      }
      return true;
    };
    if (figures(0, 4) && figures(5, 2) && figures(8, 2) && text[4] == '-' && text[7] == '-') {
      return text.substr(0, 10);
    }
    if (figures(0, 2) && figures(3, 2) && figures(6, 4) && text[2] == '.' && text[5] == '.') {
      return text.substr(6, 4) + "-" + text.substr(3, 2) + "-" + text.substr(0, 2);
    }
    return {};
  }

  void doubt(std::string id,
             const LabRow& row,
             std::vector<std::pair<std::string, Argument>> more) {
    more.emplace_back("line", whole(row.line));
    more.emplace_back("name", in_quotes(row.name));
    report_.doubts.push_back({std::move(id), std::move(more)});
  }
  void leave_out(const char* id,
                 LabRow row,
                 std::vector<std::pair<std::string, Argument>> more = {}) {
    row.use = RowUse::kLeftOut;
    doubt(id, row, std::move(more));
    report_.rows.push_back(std::move(row));
  }
  void use(LabRow row) {
    row.use = RowUse::kUsed;
    report_.rows.push_back(std::move(row));
  }

  void read(const LabResult& r) {
    LabRow row{
        .line = r.line, .name = r.name, .value = r.value, .unit = r.unit, .of = {}, .amount = {}};
    const auto name = lab_name(r.name);
    if (!name) {
      if (lab_value(r.value, mark_).said != Said::kNothing) unknown_.push_back(r.name);
      report_.rows.push_back(std::move(row));
      return;
    }
    row.of = name->of;
    LabValue value = lab_value(r.value, mark_);
    if (row.unit.empty()) row.unit = name->unit;
    if (row.unit.empty() && lab_unit(value.rest)) row.unit = value.rest;
    if (r.too_many_cells) return leave_out("report.doubt.cells", std::move(row));
    if (value.said == Said::kNothing) {
      report_.rows.push_back(std::move(row));
      return;
    }
    if (faecal(row, value)) return;
    if (value.said == Said::kText) {
      return leave_out("report.doubt.value", row, {{"value", in_quotes(r.value)}});
    }
    if (value.said == Said::kAbove) {
      return leave_out("report.doubt.above", row, {{"value", in_quotes(r.value)}});
    }
    if (value.said == Said::kNotDetected) {
      const LabValue bound = lab_value(r.bound, mark_);
      if (bound.said != Said::kValue && bound.said != Said::kBelow) {
        return leave_out("report.doubt.no_bound", row);
      }
      value.said = Said::kBelow;
      value.number = bound.number;
      if (!r.bound_unit.empty()) row.unit = r.bound_unit;
    }
    if (value.number < 0 && row.of != "temperature") {
      return leave_out("report.doubt.negative", row, {{"value", in_quotes(r.value)}});
    }
    if (value.said == Said::kBelow && value.number == 0) {
      return leave_out("report.doubt.no_bound", row);
    }
    if (value.two_readings) {
      doubt("report.doubt.thousand",
            row,
            {{"value", in_quotes(r.value)}, {"taken", whole(value.number)}});
    }
    if (value.field) {
      doubt("report.doubt.field",
            row,
            {{"value", in_quotes(r.value)}, {"taken", whole(value.number)}});
    }
    std::optional<LabUnit> unit;
    if (!row.unit.empty()) {
      unit = lab_unit(row.unit);
      if (!unit) {
        return leave_out("report.doubt.unit", row, {{"unit", in_quotes(row.unit)}});
      }
    }
    if (plain_quantity(row, value, unit)) return;
    substance(r, *name, std::move(row), value, unit);
  }

  // E. coli, enterococci: only whether they were found.
  bool faecal(LabRow& row, const LabValue& value) {
    if (row.of != "e_coli" && row.of != "enterococci" && row.of != "coliforms") return false;
    std::optional<bool> found;
    const std::string text = words_of(plain_text(row.value));
    if (value.said == Said::kValue) found = value.number > 0;
    // "< 1 in 100 mL" is none; a coarser bound leaves it open.
    if (value.said == Said::kBelow && value.number <= 1) found = false;
    if (value.said == Said::kNotDetected) found = false;
    if (value.said == Said::kAbove) found = true;
    for (const std::string_view word : {"present", "positive", "detected", "found", "growth"}) {
      if (value.said == Said::kText && text.starts_with(word)) found = true;
    }
    if (value.said == Said::kText && text.starts_with("no growth")) found = false;
    if (!found) {
      leave_out("report.doubt.value", row, {{"value", in_quotes(row.value)}});
      return true;
    }
    // Coliforms of any kind are no sign of faeces by themselves; their absence is not asked for.
    if (row.of == "coliforms") {
      if (*found) doubt("report.doubt.coliforms", row, {});
      use(row);
      return true;
    }
    auto& faecal = report_.facts.faecal_indicators;
    faecal = *found || faecal.value_or(false);
    use(row);
    return true;
  }

  // What is no concentration.
  bool plain_quantity(LabRow& row, const LabValue& value, const std::optional<LabUnit>& unit) {
    const auto wrong_unit = [&] {
      leave_out("report.doubt.unit", row, {{"unit", in_quotes(row.unit)}});
    };
    LabFacts& facts = report_.facts;
    const auto twice = [&](bool have) {
      if (have) report_.rows.push_back(row);
      return have;
    };
    if (row.of == "pH") {
      if (twice(facts.ph.has_value())) return true;
      if (value.number > 14) {
        leave_out("report.doubt.ph", row, {{"value", in_quotes(row.value)}});
        return true;
      }
      facts.ph = value.number;
    } else if (row.of == "temperature") {
      if (twice(facts.temperature.has_value())) return true;
      const bool fahrenheit = unit && unit->kind == LabUnitKind::kFahrenheit;
      if (unit && !fahrenheit && unit->kind != LabUnitKind::kCelsius &&
          unit->kind != LabUnitKind::kNone) {
        wrong_unit();
        return true;
      }
      const double celsius = fahrenheit ? (value.number - 32) / 1.8 : value.number;
      if (celsius < 0 || celsius > 60) {
        leave_out("report.doubt.temperature", row, {{"value", in_quotes(row.value)}});
        return true;
      }
      facts.temperature = units::celsius(celsius);
    } else if (row.of == "conductivity") {
      if (twice(facts.conductivity.has_value())) return true;
      if (unit && unit->kind != LabUnitKind::kConductivity) {
        wrong_unit();
        return true;
      }
      if (!unit) doubt("report.doubt.conductivity_unit", row, {});
      facts.conductivity = units::Conductivity(value.number * (unit ? unit->factor : 1e-4));
    } else if (row.of == "turbidity") {
      if (unit && unit->kind != LabUnitKind::kTurbidity && unit->kind != LabUnitKind::kNone) {
        wrong_unit();
        return true;
      }
      facts.turbidity = value.number;
    } else if (row.of == "colour" || row.of == "organic_carbon" || row.of == "CO2") {
      report_.rows.push_back(row);
      return true;
    } else {
      return false;
    }
    use(row);
    return true;
  }

  void substance(const LabResult& r,
                 const LabName& name,
                 LabRow row,
                 const LabValue& value,
                 const std::optional<LabUnit>& given) {
    const auto species = species_from_key(row.of);
    const bool trace = (species && is_trace(*species)) || row.of == "As";
    if (!given && trace) return leave_out("report.doubt.trace_unit", row);
    const bool degrees = !given && (row.of == "hardness" || row.of == "alkalinity");
    if (degrees) return leave_out("report.doubt.hardness_unit", row);
    const LabUnit unit = given.value_or(LabUnit{LabUnitKind::kMass, 1e-3, {}});
    std::string basis;
    if (!r.basis.empty()) basis = lab_basis(r.basis).value_or("");
    const bool said_so = !basis.empty() || !unit.basis.empty() || !name.basis.empty();
    if (basis.empty()) basis = unit.basis;
    if (basis.empty()) basis = name.basis;
    const auto mass = mass_concentration(row.of, value.number, unit, basis);
    if (!mass) {
      return leave_out("report.doubt.unit_of",
                       row,
                       {{"unit", in_quotes(row.unit)}, {"basis", basis.empty() ? "-" : basis}});
    }
    if (!std::isfinite(*mass) || *mass > (trace ? kMostTrace : kMostIon)) {
      return leave_out("report.doubt.too_much", row, {{"amount", shown(*mass)}});
    }
    if (!given) doubt("report.doubt.no_unit", row, {});
    if (basis_matters(row.of) && unit.kind == LabUnitKind::kMass && !said_so) {
      const auto nitrogen =
          mass_concentration(row.of, value.number, unit, row.of == "PO4" ? "P" : "N");
      doubt("report.doubt.basis",
            row,
            {{"what", Ref{"substance." + row.of}},
             {"as_itself", shown(*mass)},
             {"basis", row.of == "PO4" ? "P" : "N"},
             {"otherwise", shown(nitrogen.value_or(*mass))}});
    }
    const bool below = value.said == Said::kBelow;
    row.amount = below ? water::below(units::Density(*mass)) : measured(units::Density(*mass));
    std::string of = row.of;
    const bool total = name.fraction == Fraction::kTotal ||
                       plain_text(r.fraction).starts_with("total") ||
                       plain_text(r.fraction).starts_with("unfiltered");
    if (of == "Fe" && total) of = "iron_total";
    row.of = of;
    const auto before = held_.find(of);
    if (before == held_.end()) {
      held_.emplace(of, Held{*mass, below, report_.rows.size()});
      return use(std::move(row));
    }
    const Held& first = before->second;
    if (first.below == below &&
        std::fabs(first.mass - *mass) > kSame * std::max(first.mass, *mass)) {
      return leave_out(
          "report.doubt.twice", row, {{"first", shown(first.mass)}, {"second", shown(*mass)}});
    }
    report_.rows.push_back(std::move(row));
  }

  // From everything that was read to the analysis.
  void settle() {
    AnalysisEntry& water = report_.water;
    LabFacts& facts = report_.facts;
    const auto take = [&](const char* of) -> std::optional<Constituent> {
      const auto found = held_.find(of);
      if (found == held_.end()) return std::nullopt;
      return report_.rows[found->second.row].amount;
    };
    const auto mass = [&](const char* of) -> std::optional<units::Density> {
      const auto c = take(of);
      return c ? std::optional(c->counted()) : std::nullopt;
    };
    for (int i = 0; i < kSpeciesCount; ++i) {
      const Species s = species_at(i);
      const auto c = take(species_data(s).key.c_str());
      if (!c || s == Species::CO2 || s == Species::H || s == Species::OH) continue;
      (is_trace(s) ? water.traces.constituents : water.ions.constituents)[index(s)] = *c;
    }
    auto& ions = water.ions.constituents;
    auto& traces = water.traces.constituents;
    const auto has = [&](Species s) { return ions[index(s)].report != Report::kNotAnalysed; };
    const auto note = [&](const char* id, std::vector<std::pair<std::string, Argument>> more = {}) {
      report_.doubts.push_back({id, std::move(more)});
    };
    if (const auto as = take("As")) {
      const bool forms = traces[index(Species::As3)].report != Report::kNotAnalysed ||
                         traces[index(Species::As5)].report != Report::kNotAnalysed;
      if (!forms) {
        traces[index(Species::As5)] = *as;
        if (as->report == Report::kMeasured && as->value.si() > 0)
          note("report.doubt.arsenic_form");
      }
    }
    if (const auto both = take("NO3_NO2"); both && !has(Species::NO3)) {
      // Kept as nitrogen until now: nearly all of it is nitrate.
      Constituent c = *both;
      ions[index(Species::NO3)] = c;
      note("report.doubt.nitrate_nitrite");
    }
    facts.hardness = mass("hardness");
    facts.alkalinity = mass("alkalinity");
    facts.tds = mass("tds");
    facts.free_chlorine = mass("free_chlorine");
    facts.total_chlorine = mass("total_chlorine");
    if (!facts.total_chlorine) {
      if (const auto bound = mass("chloramine")) {
        facts.total_chlorine = *bound + facts.free_chlorine.value_or(units::Density(0));
      }
    }
    facts.sulfide = mass("sulfide");
    facts.iron_total = mass("iron_total");
    // Calcium and magnesium that only a hardness tells of.
    const auto from_hardness = [&](Species s, units::Density as_carbonate) {
      ions[index(s)] = measured(as_carbonate * (molar_mass_of(s) / kCalciumCarbonate));
    };
    if (const auto ca = mass("calcium_hardness"); ca && !has(Species::Ca)) {
      from_hardness(Species::Ca, *ca);
    }
    if (const auto mg = mass("magnesium_hardness"); mg && !has(Species::Mg)) {
      from_hardness(Species::Mg, *mg);
    }
    if (facts.hardness && has(Species::Ca) != has(Species::Mg)) {
      const Species have = has(Species::Ca) ? Species::Ca : Species::Mg;
      const Species other = has(Species::Ca) ? Species::Mg : Species::Ca;
      const units::Density part =
          ions[index(have)].counted() * (kCalciumCarbonate / molar_mass_of(have));
      if (part < *facts.hardness) {
        from_hardness(other, *facts.hardness - part);
        note("report.doubt.by_difference", {{"what", Ref{"substance." + species_data(other).key}}});
      }
    }
    if (!has(Species::Fe) && facts.iron_total) {
      ions[index(Species::Fe)] = *take("iron_total");
      if (facts.iron_total->si() > 0) note("report.doubt.iron_total");
    }
    if (facts.alkalinity) {
      water.alkalinity = facts.alkalinity;
      const auto apart = [&](Species s) {
        return ions[index(s)].counted() *
               (std::fabs(charge_of(s)) * kCalciumCarbonate / 2 / molar_mass_of(s));
      };
      if (has(Species::HCO3)) {
        const units::Density told = apart(Species::HCO3) + apart(Species::CO3);
        if (std::fabs(told.si() - facts.alkalinity->si()) >
            kSame * std::max(told.si(), facts.alkalinity->si())) {
          note("report.doubt.alkalinity",
               {{"alkalinity", shown(facts.alkalinity->si())}, {"told", shown(told.si())}});
        }
      }
      ions[index(Species::HCO3)] = {};
      ions[index(Species::CO3)] = {};
    }
    if (facts.ph) water.ph = *facts.ph;
    if (facts.temperature) water.temperature = *facts.temperature;
    if (!unknown_.empty()) {
      constexpr std::size_t kNamed = 6;
      std::string names;
      for (std::size_t i = 0; i < std::min(kNamed, unknown_.size()); ++i) {
        names += (names.empty() ? "" : ", ") + unknown_[i].substr(0, 40);
      }
      note("report.doubt.unknown",
           {{"count", whole(static_cast<double>(unknown_.size()))},
            {"names", names},
            {"more", unknown_.size() > kNamed ? "yes" : "no"}});
    }
  }

  DecimalMark mark_;
  LabReport report_;
  std::map<std::string, Held, std::less<>> held_;
  std::vector<std::string> unknown_;
};

}  // namespace

base::Result<LabReport> read_lab_report(std::string_view text, std::size_t sample) {
  const std::string utf8 = utf8_text(text);
  const std::string begin = trimmed(utf8.substr(0, 64));
  const bool json = !begin.empty() && (begin.front() == '{' || begin.front() == '[');
  TRY(const LabTable table, json ? json_table(utf8) : lab_table(utf8));
  TRY(const LabSheet sheet, lab_sheet(table, sample));
  LabReport report = Reader(sheet).take();
  const bool any = std::any_of(
      report.rows.begin(), report.rows.end(), [](const LabRow& r) { return !r.of.empty(); });
  if (!any) return base::Error{base::ErrorKind::kData, {"error.report.nothing"}};
  return report;
}

}  // namespace drawoff::water
