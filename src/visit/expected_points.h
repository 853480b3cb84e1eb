// What every test point should show in one state, quickly: by derivatives where the machine is
// straight enough (machine/linear_intervals.h), by sampling where it is not.
#pragma once

#include <string>
#include <vector>

#include "visit/start_up.h"

namespace drawoff::visit {

enum class IntervalBy { kSlope, kDraws };

struct PointExpectation {
  machine::Point point = machine::Point::kProductQuality;
  inference::Interval expected;  // 90 %, SI
  IntervalBy by = IntervalBy::kDraws;
};

struct ExpectedPoints {
  machine::Outcome outcome = machine::Outcome::kRuns;  // of the machine at its median
  std::vector<PointExpectation> points;  // none where too few of the equally likely machines run
  std::vector<std::string> assumed;
};

// Fails where the element's plate contradicts itself or the water cannot be one.
base::Result<ExpectedPoints> expected_points(const SurveyEntry& survey,
                                             const machine::MachineEntry& entry,
                                             const machine::Condition& condition,
                                             const Sampling& sampling);

}  // namespace drawoff::visit

namespace drawoff::fields {

template <>
struct EnumTable<visit::IntervalBy> {
  static constexpr std::string_view name = "interval_by";
  static constexpr std::array list = {choice(visit::IntervalBy::kSlope, "slope"),
                                      choice(visit::IntervalBy::kDraws, "draws")};
};

}  // namespace drawoff::fields
