#include "water/lab_table.h"

#include <algorithm>
#include <array>
#include <cctype>

#include "fields/errors.h"
#include "water/lab_text.h"

namespace drawoff::water {
namespace {

base::Error refused(const char* id, std::vector<std::pair<std::string, base::Argument>> more = {}) {
  return {base::ErrorKind::kData, {id, std::move(more)}};
}

base::Number counted(double n) { return fields::given_number(n, nullptr); }

std::vector<std::string_view> lines_of(std::string_view text) {
  std::vector<std::string_view> lines;
  for (std::size_t at = 0; at <= text.size();) {
    const std::size_t end = std::min(text.find('\n', at), text.size());
    lines.push_back(text.substr(at, end - at));
    at = end + 1;
  }
  return lines;
}

// The separator that parts most lines; a comma only if nothing else does: it may be a decimal mark.
char separator_of(std::string_view text) {
  const auto lines = lines_of(text);
  const auto parted = [&](char c) {
    return std::count_if(lines.begin(), lines.end(), [&](std::string_view line) {
      return line.find(c) != std::string_view::npos;
    });
  };
  const auto filled = std::count_if(
      lines.begin(), lines.end(), [](std::string_view line) { return !trimmed(line).empty(); });
  for (const char c : {'\t', ';', '|'}) {
    if (2 * parted(c) > filled) return c;
  }
  // "Calcium 11,5 mg/L" has a comma too; in a table a name stands before the first.
  const auto named = std::count_if(lines.begin(), lines.end(), [](std::string_view line) {
    const std::size_t comma = line.find(',');
    return comma != std::string_view::npos && comma > 0 &&
           !(std::isdigit(static_cast<unsigned char>(line[comma - 1])) != 0 &&
             comma + 1 < line.size() &&
             std::isdigit(static_cast<unsigned char>(line[comma + 1])) != 0 &&
             line.find(' ') < comma);
  });
  return 2 * named > filled ? ',' : ' ';
}

// Cells as in [rfc4180], with any separator.
base::Result<LabTable> parted(std::string_view text, char separator) {
  LabTable table{.separator = separator};
  int line = 1;
  LabLine row{.number = 1, .cells = {""}};
  bool quoted = false;
  int opened = 0;
  const auto end_row = [&] {
    for (std::string& cell : row.cells) cell = trimmed(cell);
    if (separator == '|') {
      // "| Calcium | 115 |": the outer bars part nothing.
      if (row.cells.size() > 1 && row.cells.front().empty()) row.cells.erase(row.cells.begin());
      if (row.cells.size() > 1 && row.cells.back().empty()) row.cells.pop_back();
    }
    const bool filled = std::any_of(row.cells.begin(), row.cells.end(), [](const std::string& c) {
      return !c.empty() && c.find_first_not_of("-:=_ ") != std::string::npos;
    });
    if (filled) table.lines.push_back(std::move(row));
    row = {.number = line + 1, .cells = {""}};
  };
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char c = text[i];
    if (quoted) {
      if (c == '"' && i + 1 < text.size() && text[i + 1] == '"') {
        row.cells.back() += c;
        ++i;
      } else if (c == '"') {
        quoted = false;
      } else {
        if (c == '\n') ++line;
        row.cells.back() += c;
      }
    } else if (c == '"' && trimmed(row.cells.back()).empty()) {
      quoted = true;
      opened = line;
      row.cells.back().clear();
    } else if (c == separator) {
      row.cells.emplace_back();
    } else if (c == '\n') {
      end_row();
      ++line;
    } else {
      row.cells.back() += c;
    }
  }
  if (quoted) return refused("error.report.quote", {{"line", counted(opened)}});
  end_row();
  return table;
}

// Where a value begins in a pasted line: a figure or a sign of "less" behind a blank.
std::size_t value_at(std::string_view line) {
  for (std::size_t i = 1; i < line.size(); ++i) {
    const bool behind_blank =
        line[i - 1] == ' ' || line[i - 1] == '\t' || line[i - 1] == ':' || line[i - 1] == '=';
    if (!behind_blank) continue;
    std::string_view rest = line.substr(i);
    if (rest.front() == '<' || rest.front() == '>' || rest.front() == '-' ||
        std::isdigit(static_cast<unsigned char>(rest.front())) != 0) {
      return i;
    }
    const std::string plain = plain_text(rest);
    for (const std::string_view word :
         {"nd", "n.d.", "bdl", "not detected", "absent", "nil", "present", "n/a"}) {
      if (plain == word || plain.starts_with(std::string(word) + " ") ||
          plain.starts_with(std::string(word) + "(")) {
        return i;
      }
    }
  }
  return std::string_view::npos;
}

// "Calcium 115 mg/L", "pH: 7.3": name, value with unit.
LabTable pasted(std::string_view text) {
  LabTable table{.separator = ' '};
  int number = 0;
  for (const std::string_view line : lines_of(text)) {
    ++number;
    const std::string t = trimmed(line);
    if (t.empty()) continue;
    const std::size_t at = value_at(t);
    LabLine row{.number = number, .cells = {}};
    if (at == std::string::npos) {
      row.cells = {t};
    } else {
      std::string name = trimmed(std::string_view(t).substr(0, at));
      while (!name.empty() && (name.back() == ':' || name.back() == '=')) name.pop_back();
      row.cells = {trimmed(name), trimmed(std::string_view(t).substr(at))};
    }
    table.lines.push_back(std::move(row));
  }
  return table;
}

}  // namespace

base::Result<LabTable> lab_table(std::string_view text) {
  if (text.size() > kLargestReport) {
    return refused("error.report.large",
                   {{"size", counted(static_cast<double>(text.size() >> 10U))},
                    {"most", counted(static_cast<double>(kLargestReport >> 10U))}});
  }
  if (text.substr(0, 5) == "%PDF-" || text.find('\0') != std::string_view::npos ||
      text.substr(0, 2) == "PK") {
    return refused("error.report.not_text");
  }
  if (trimmed(text).empty()) return refused("error.report.empty");
  const char separator = separator_of(text);
  if (separator == ' ') return pasted(text);
  TRY(LabTable table, parted(text, separator));
  if (table.lines.size() > kMostReportLines) {
    return refused("error.report.lines",
                   {{"count", counted(static_cast<double>(table.lines.size()))},
                    {"most", counted(static_cast<double>(kMostReportLines))}});
  }
  return table;
}

}  // namespace drawoff::water
