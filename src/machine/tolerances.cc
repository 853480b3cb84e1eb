#include "machine/tolerances.h"

#include <functional>
#include <map>
#include <string>

#include "base/check.h"
#include "base/csv.h"
#include "data/embedded.h"

namespace drawoff::machine {

double tolerance(std::string_view what) {
  static const auto table = [] {
    std::map<std::string, double, std::less<>> result;
    const auto csv = base::Csv::parse(data::file("tolerances.csv"));
    for (std::size_t i = 0; i < csv.rows(); ++i) {
      result[csv.text(i, "what")] = csv.number(i, "value");
    }
    return result;
  }();
  const auto found = table.find(what);
  CHECK(found != table.end());
  return found->second;
}

}  // namespace drawoff::machine
