#include "water/minerals.h"

#include "base/check.h"
#include "base/csv.h"
#include "data/embedded.h"

namespace drawoff::water {
namespace {

std::array<MineralData, kMineralCount> parse_table() {
  const base::Csv csv = base::Csv::parse(data::file("minerals.csv"));
  CHECK(csv.rows() == kMineralCount);
  std::array<MineralData, kMineralCount> table;
  for (std::size_t row = 0; row < table.size(); ++row) {
    table[row] = {csv.text(row, "key"),
                  parse_parts(csv.text(row, "formula")),
                  static_cast<int>(csv.number(row, "water")),
                  {csv.number(row, "a"),
                   csv.number(row, "b"),
                   csv.number(row, "c"),
                   csv.number(row, "d"),
                   csv.number(row, "e")},
                  csv.text(row, "source"),
                  csv.text(row, "confidence") == "READ" ? Confidence::kRead : Confidence::kMemory};
  }
  CHECK(table.front().key == "calcite" && table.back().key == "silica");
  return table;
}

}  // namespace

const MineralData& mineral(Mineral m) {
  static const std::array<MineralData, kMineralCount> parsed = parse_table();
  return parsed[static_cast<std::size_t>(m)];
}

}  // namespace drawoff::water
