#include "water/lab_layout.h"

#include <algorithm>
#include <array>
#include <optional>
#include <span>

#include "fields/errors.h"
#include "fields/json.h"
#include "water/lab_text.h"
#include "water/lab_units.h"
#include "water/lab_value.h"

namespace drawoff::water {
namespace {

using Words = std::span<const std::string_view>;

// How reports head their columns; the exchange schema's names among them [wqx2024].
constexpr std::array<std::string_view, 20> kNameHeads{
    "parameter",      "parameters",  "analyte",        "characteristic name",
    "characteristic", "determinand", "substance",      "test",
    "parametro",      "parametros",  "parameter name", "name",
    "constituent",    "element",     "compound",       "bezeichnung",
    "determination",  "analysis",    "parametre",      "of"};
constexpr std::array<std::string_view, 17> kValueHeads{"result",
                                                       "results",
                                                       "value",
                                                       "result value",
                                                       "concentration",
                                                       "resultado",
                                                       "ergebnis",
                                                       "messwert",
                                                       "wert",
                                                       "valor",
                                                       "reported value",
                                                       "test result",
                                                       "found",
                                                       "measured",
                                                       "resultat",
                                                       "conc",
                                                       "measured value"};
constexpr std::array<std::string_view, 10> kUnitHeads{"unit",
                                                      "units",
                                                      "result unit",
                                                      "uom",
                                                      "einheit",
                                                      "unidad",
                                                      "unidades",
                                                      "unite",
                                                      "unites",
                                                      "units of measure"};
constexpr std::array<std::string_view, 18> kBoundHeads{
    "lod",
    "loq",
    "mdl",
    "dl",
    "rl",
    "lor",
    "mrl",
    "pql",
    "detection limit",
    "reporting limit",
    "limit of detection",
    "limit of quantification",
    "method detection limit",
    "nachweisgrenze",
    "bestimmungsgrenze",
    "limite de deteccion",
    "result detection quantitation limit measure",
    "lower limit"};
constexpr std::array<std::string_view, 1> kBoundUnitHeads{
    "result detection quantitation limit unit"};
constexpr std::array<std::string_view, 6> kBasisHeads{
    "method speciation", "basis", "speciation", "expressed as", "reported as", "as"};
constexpr std::array<std::string_view, 1> kConditionHeads{"result detection condition"};
constexpr std::array<std::string_view, 2> kFractionHeads{"result sample fraction", "fraction"};
constexpr std::array<std::string_view, 9> kDateHeads{"activity start date",
                                                     "date",
                                                     "sample date",
                                                     "sampling date",
                                                     "date sampled",
                                                     "collected",
                                                     "date of sampling",
                                                     "datum",
                                                     "fecha"};
constexpr std::array<std::string_view, 8> kSampleHeads{"activity id",
                                                       "sample",
                                                       "sample id",
                                                       "sample name",
                                                       "location",
                                                       "sample no",
                                                       "probe",
                                                       "muestra"};
// Columns that hold no result: the law's limits, methods, accreditation.
constexpr std::array<std::string_view, 14> kOtherHeads{"limit",
                                                       "method",
                                                       "guideline",
                                                       "standard",
                                                       "grenzwert",
                                                       "maximum",
                                                       "permissible",
                                                       "acceptable",
                                                       "remark",
                                                       "comment",
                                                       "uncertainty",
                                                       "cas",
                                                       "qualifier",
                                                       "no"};

bool is_one_of(const std::string& words, Words list) {
  return std::find(list.begin(), list.end(), words) != list.end();
}
bool begins_with_one(const std::string& words, Words list) {
  return std::any_of(list.begin(), list.end(), [&](std::string_view w) {
    return words == w || words.starts_with(std::string(w) + " ") ||
           words.ends_with(" " + std::string(w));
  });
}

using Column = std::optional<std::size_t>;

struct Columns {
  Column name, value, unit, bound, bound_unit, basis, condition, fraction, date, sample;
  std::vector<std::size_t> others;  // without a known heading
};

std::string head_words(const std::string& cell) { return words_of(plain_text(cell)); }

Columns columns_of(const std::vector<std::string>& heads) {
  Columns c;
  for (std::size_t i = 0; i < heads.size(); ++i) {
    const std::string w = head_words(heads[i]);
    const auto takes = [&](Column& into, Words list) {
      if (into || !is_one_of(w, list)) return false;
      into = i;
      return true;
    };
    if (takes(c.name, kNameHeads) || takes(c.value, kValueHeads) || takes(c.unit, kUnitHeads) ||
        takes(c.bound, kBoundHeads) || takes(c.bound_unit, kBoundUnitHeads) ||
        takes(c.basis, kBasisHeads) || takes(c.condition, kConditionHeads) ||
        takes(c.fraction, kFractionHeads) || takes(c.date, kDateHeads) ||
        takes(c.sample, kSampleHeads)) {
      continue;
    }
    // "Result (mg/L)": a value, whose unit the heading says.
    if (!c.value && begins_with_one(w, kValueHeads)) {
      c.value = i;
    } else if (!begins_with_one(w, kOtherHeads)) {
      c.others.push_back(i);
    }
  }
  return c;
}

std::string cell(const LabLine& line, const Column& column) {
  return column && *column < line.cells.size() ? line.cells[*column] : std::string();
}

// The unit in brackets of a heading: "Result (mg/L)".
std::string unit_in(const std::string& head) {
  const std::size_t open = head.find_first_of("([");
  const std::size_t close = head.find_last_of(")]");
  if (open == std::string::npos || close == std::string::npos || close < open) return {};
  const std::string inner = head.substr(open + 1, close - open - 1);
  return lab_unit(inner) ? inner : std::string();
}

bool reads_as_value(const std::string& text) {
  const Said said = lab_value(text, DecimalMark::kPoint).said;
  return said != Said::kText && said != Said::kNothing;
}

base::Result<base::Done> pick(const std::vector<std::string>& samples, std::size_t sample) {
  const std::size_t have = std::max<std::size_t>(samples.size(), 1);
  if (sample < have) return base::Done{};
  const auto number = [](std::size_t n) {
    return fields::given_number(static_cast<double>(n), nullptr);
  };
  return base::Error{
      base::ErrorKind::kData,
      {"error.report.sample", {{"sample", number(sample)}, {"last", number(have - 1)}}}};
}

// A line a substance, under headings.
base::Result<LabSheet> tall(const LabTable& table, std::size_t head, std::size_t sample) {
  const std::vector<std::string>& heads = table.lines[head].cells;
  Columns c = columns_of(heads);
  LabSheet sheet;
  std::vector<std::size_t> values;
  if (c.value) {
    values = {*c.value};
  } else {
    for (const std::size_t i : c.others) {
      const auto filled = std::count_if(
          table.lines.begin() + static_cast<std::ptrdiff_t>(head) + 1,
          table.lines.end(),
          [&](const LabLine& l) { return i < l.cells.size() && reads_as_value(l.cells[i]); });
      if (filled > 0) values.push_back(i);
    }
    if (values.size() > 1) {
      for (const std::size_t i : values) sheet.samples.push_back(heads[i]);
    }
  }
  if (values.empty()) return sheet;
  // Samples below one another, told apart by a column.
  std::vector<std::string> below;
  if (c.sample && values.size() == 1) {
    for (std::size_t i = head + 1; i < table.lines.size(); ++i) {
      const std::string name = cell(table.lines[i], c.sample);
      if (name.empty() || std::find(below.begin(), below.end(), name) != below.end()) continue;
      below.push_back(name);
    }
    if (below.size() > 1) sheet.samples = below;
  }
  TRY(const base::Done done, pick(sheet.samples, sample));
  static_cast<void>(done);
  const std::size_t column = values.size() > 1 ? values[sample] : values.front();
  const std::string head_unit = unit_in(heads[column]);
  for (std::size_t i = head + 1; i < table.lines.size(); ++i) {
    const LabLine& line = table.lines[i];
    if (below.size() > 1 && cell(line, c.sample) != below[sample]) continue;
    if (sheet.date.empty()) sheet.date = cell(line, c.date);
    LabResult r{.line = line.number,
                .name = cell(line, c.name),
                .value = cell(line, column),
                .unit = cell(line, c.unit),
                .basis = cell(line, c.basis),
                .bound = cell(line, c.bound),
                .bound_unit = cell(line, c.bound_unit),
                .fraction = cell(line, c.fraction)};
    if (r.unit.empty()) r.unit = head_unit;
    const std::string condition = plain_text(cell(line, c.condition));
    if (r.value.empty() &&
        (condition.starts_with("below") || condition.starts_with("not detected") ||
         condition.starts_with("present below"))) {
      r.value = "ND";
    } else if (r.value.empty() && condition == "not present") {
      r.value = "0";
    }
    r.too_many_cells = line.cells.size() > heads.size() && table.separator == ',';
    if (!r.name.empty()) sheet.results.push_back(std::move(r));
  }
  return sheet;
}

// A line a sample, substances across.
base::Result<LabSheet> wide(const LabTable& table, std::size_t head, std::size_t sample) {
  const std::vector<std::string>& heads = table.lines[head].cells;
  const Columns c = columns_of(heads);
  std::size_t first = head + 1;
  const std::vector<std::string>* units = nullptr;
  if (first < table.lines.size()) {
    const auto& next = table.lines[first].cells;
    const auto known = std::count_if(next.begin(), next.end(), [](const std::string& cell) {
      return lab_unit(cell).has_value();
    });
    if (known >= 2) {
      units = &next;
      ++first;
    }
  }
  LabSheet sheet;
  const std::size_t count = table.lines.size() - std::min(first, table.lines.size());
  Column label = c.sample;
  if (!label && !heads.empty() && !lab_name(heads.front())) label = 0;
  if (count > 1) {
    for (std::size_t i = first; i < table.lines.size(); ++i) {
      std::string name = cell(table.lines[i], label);
      if (name.empty()) name = std::to_string(i - first + 1);
      sheet.samples.push_back(std::move(name));
    }
  }
  if (count == 0) return sheet;
  TRY(const base::Done done, pick(sheet.samples, sample));
  static_cast<void>(done);
  const LabLine& line = table.lines[first + sample];
  sheet.date = cell(line, c.date);
  const bool surplus = line.cells.size() > heads.size() && table.separator == ',';
  for (std::size_t i = 0; i < heads.size() && i < line.cells.size(); ++i) {
    if (i == c.date || i == label) continue;
    sheet.results.push_back({.line = line.number,
                             .name = heads[i],
                             .value = line.cells[i],
                             .unit = units != nullptr && i < units->size() ? (*units)[i] : "",
                             .too_many_cells = surplus});
  }
  return sheet;
}

// Lines that begin with a substance, without headings.
LabSheet headless(const LabTable& table) {
  LabSheet sheet;
  for (const LabLine& line : table.lines) {
    const std::string words = head_words(line.cells.front());
    if (line.cells.size() < 2) continue;
    if (sheet.date.empty() && begins_with_one(words, kDateHeads)) sheet.date = line.cells[1];
    LabResult r{.line = line.number, .name = line.cells[0]};
    // Name, value, unit; or name, unit, value.
    const bool unit_first =
        line.cells.size() > 2 && lab_unit(line.cells[1]) && reads_as_value(line.cells[2]);
    r.value = line.cells[unit_first ? 2 : 1];
    const std::size_t unit = unit_first ? 1 : 2;
    if (unit < line.cells.size() && !reads_as_value(line.cells[unit])) r.unit = line.cells[unit];
    sheet.results.push_back(std::move(r));
  }
  return sheet;
}

std::string text_of(const fields::Json& json) {
  if (const auto* text = json.get_ptr<const std::string*>()) return *text;
  if (json.is_null()) return {};
  // As our own analyses write it.
  if (json.is_object() && json.size() == 1 && json.contains("lt")) {
    return "<" + text_of(json.front());
  }
  return fields::dump(json);
}

}  // namespace

base::Result<LabSheet> lab_sheet(const LabTable& table, std::size_t sample) {
  constexpr std::ptrdiff_t kFewest = 3;
  std::string date;  // of a line above the headings
  for (std::size_t i = 0; i < table.lines.size(); ++i) {
    const auto& cells = table.lines[i].cells;
    if (cells.size() < 2) continue;
    if (date.empty() && begins_with_one(head_words(cells[0]), kDateHeads)) date = cells[1];
    const Columns c = columns_of(cells);
    if (c.name && (c.value || c.unit || !c.others.empty()) && !lab_name(cells[*c.name])) {
      TRY(LabSheet sheet, tall(table, i, sample));
      if (sheet.date.empty()) sheet.date = date;
      if (!sheet.results.empty()) return sheet;
    }
    const auto known = std::count_if(cells.begin(), cells.end(), [](const std::string& text) {
      return lab_name(text).has_value();
    });
    const auto values = std::count_if(cells.begin(), cells.end(), reads_as_value);
    if (known >= kFewest && known > values) return wide(table, i, sample);
  }
  TRY(const base::Done done, pick({}, sample));
  static_cast<void>(done);
  return headless(table);
}

base::Result<LabTable> json_table(std::string_view text) {
  TRY(const fields::Json json, fields::parse_json(text));
  const fields::Json* at = &json;
  // {"results": […]}: the first list of objects inside.
  for (int depth = 0; depth < 4 && at->is_object(); ++depth) {
    const fields::Json* inner = nullptr;
    for (const auto& [key, value] : at->items()) {
      if (value.is_array() && !value.empty() && value.front().is_object()) {
        inner = &value;
        break;
      }
    }
    const auto names_some = [](const fields::Json& object) {
      for (const auto& [key, value] : object.items()) {
        if (lab_name(key)) return true;
      }
      return false;
    };
    if (inner == nullptr && !names_some(*at)) {
      for (const auto& [key, value] : at->items()) {
        if (value.is_object() && names_some(value)) inner = &value;
      }
    }
    if (inner == nullptr) break;
    at = inner;
  }
  LabTable table{.separator = ';'};
  LabLine heads{.number = 1, .cells = {}};
  const auto column = [&](const std::string& key) {
    const auto found = std::find(heads.cells.begin(), heads.cells.end(), key);
    if (found != heads.cells.end()) return static_cast<std::size_t>(found - heads.cells.begin());
    heads.cells.push_back(key);
    return heads.cells.size() - 1;
  };
  std::vector<LabLine> lines;
  const auto add = [&](const fields::Json& object, LabLine line) {
    for (const auto& [key, value] : object.items()) {
      const std::size_t i = column(key);
      if (line.cells.size() <= i) line.cells.resize(i + 1);
      line.cells[i] = text_of(value);
    }
    lines.push_back(std::move(line));
  };
  int number = 0;
  if (at->is_array()) {
    for (const auto& item : *at) {
      ++number;
      if (item.is_object()) add(item, {.number = number, .cells = {}});
    }
  } else if (at->is_object()) {
    heads.cells = {"name", "value"};
    for (const auto& [key, value] : at->items()) {
      ++number;
      if (value.is_object() && !value.contains("lt")) {
        add(value, {.number = number, .cells = {key}});
      } else if (!value.is_array()) {
        lines.push_back({.number = number, .cells = {key, text_of(value)}});
      }
    }
  }
  table.lines.push_back(std::move(heads));
  for (LabLine& line : lines) table.lines.push_back(std::move(line));
  if (table.lines.size() > kMostReportLines || lines.empty()) {
    if (lines.empty()) return base::Error{base::ErrorKind::kData, {"error.report.nothing"}};
    const auto count = static_cast<double>(lines.size());
    return base::Error{base::ErrorKind::kData,
                       {"error.report.lines",
                        {{"count", fields::given_number(count, nullptr)},
                         {"most", fields::given_number(kMostReportLines, nullptr)}}}};
  }
  return table;
}

}  // namespace drawoff::water
