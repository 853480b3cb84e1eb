// Csv: a table of text cells read from RFC 4180 text.
//
// The one reader for the tables of data/ (embedded) and for the reference tables of the tests.
// Lines that begin with '#' are remarks about the table (source, units) and are skipped; the first
// other line names the columns. Quoted cells may hold commas, line breaks and doubled quotes.
//
//   const Csv table = Csv::parse(data::file("species.csv"));
//   const std::size_t mass = table.column("molar_mass_g_mol");
//   for (std::size_t row = 0; row < table.rows(); ++row) use(table.number(row, mass));
//
// A missing column or a cell that is no number is a bug in our own table, hence a CHECK.
#pragma once

#include <cstdlib>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "base/check.h"

namespace drawoff::base {

class Csv {
 public:
  static Csv parse(std::string_view text) {
    Csv table;
    std::size_t at = 0;
    while (at < text.size()) {
      if (text[at] == '#') {
        at = text.find('\n', at);
        at = at == std::string_view::npos ? text.size() : at + 1;
        continue;
      }
      std::vector<std::string> line = parse_line(text, at);
      if (line.size() == 1 && line[0].empty()) continue;
      if (table.names_.empty()) {
        table.names_ = std::move(line);
      } else {
        CHECK(line.size() == table.names_.size());
        table.cells_.push_back(std::move(line));
      }
    }
    return table;
  }

  [[nodiscard]] std::size_t rows() const { return cells_.size(); }
  [[nodiscard]] std::size_t columns() const { return names_.size(); }
  [[nodiscard]] const std::string& name(std::size_t column) const { return names_[column]; }

  // The column of that name, or the only one whose name begins with it.
  [[nodiscard]] std::size_t column(std::string_view name) const {
    for (std::size_t i = 0; i < names_.size(); ++i) {
      if (names_[i] == name) return i;
    }
    std::size_t found = names_.size();
    for (std::size_t i = 0; i < names_.size(); ++i) {
      if (names_[i].compare(0, name.size(), name) != 0) continue;
      CHECK(found == names_.size());
      found = i;
    }
    CHECK(found < names_.size());
    return found;
  }

  [[nodiscard]] const std::string& text(std::size_t row, std::size_t column) const {
    CHECK(row < cells_.size() && column < names_.size());
    return cells_[row][column];
  }
  [[nodiscard]] const std::string& text(std::size_t row, std::string_view name) const {
    return text(row, column(name));
  }
  [[nodiscard]] bool empty(std::size_t row, std::size_t column) const {
    return text(row, column).empty();
  }
  [[nodiscard]] double number(std::size_t row, std::size_t column) const {
    const std::string& cell = text(row, column);
    char* end = nullptr;
    const double value = std::strtod(cell.c_str(), &end);
    CHECK(end != cell.c_str() && *end == '\0');
    return value;
  }
  [[nodiscard]] double number(std::size_t row, std::string_view name) const {
    return number(row, column(name));
  }

 private:
  // Reads one record and leaves `at` behind its line end.
  static std::vector<std::string> parse_line(std::string_view text, std::size_t& at) {
    std::vector<std::string> line(1);
    bool quoted = false;
    for (; at < text.size(); ++at) {
      const char c = text[at];
      if (quoted) {
        if (c != '"') {
          line.back() += c;
        } else if (at + 1 < text.size() && text[at + 1] == '"') {
          line.back() += '"';
          ++at;
        } else {
          quoted = false;
        }
      } else if (c == '"') {
        quoted = true;
      } else if (c == ',') {
        line.emplace_back();
      } else if (c == '\n') {
        ++at;
        return line;
      } else if (c != '\r') {
        line.back() += c;
      }
    }
    CHECK(!quoted);
    return line;
  }

  std::vector<std::string> names_;
  std::vector<std::vector<std::string>> cells_;
};

}  // namespace drawoff::base
