// One result as a laboratory writes it: "115", "0,05", "1 234,5", "< 0.02", "BDL (0.05)", "ND",
// "-", "7.4 ± 0.1", "1.2E-3", "12 mg/L", "5 - 10".
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace drawoff::water {

enum class Said {
  kValue,
  kBelow,        // of a bound that is given
  kAbove,        // "> 2400"
  kNotDetected,  // below a bound that is not given here
  kNothing,      // not analysed: empty, "-", "n/a"
  kText          // anything else
};
enum class DecimalMark { kPoint, kComma };

struct LabValue {
  Said said = Said::kNothing;
  double number = 0;
  bool two_readings = false;  // "1,234": the mark decides whether it is a thousand
  bool field = false;         // "5 - 10": the middle is taken
  std::string rest;           // what stands behind the number, in plain text: a unit, a remark
};

LabValue lab_value(std::string_view text, DecimalMark mark);

// The decimal mark that a number shows by itself ("1,5"), if it does.
std::optional<DecimalMark> mark_shown(std::string_view text);

}  // namespace drawoff::water
