// What must stand in front of the membrane, and why.
#pragma once

#include <span>
#include <vector>

#include "base/message.h"
#include "visit/scaling.h"
#include "visit/survey.h"

namespace drawoff::visit {

struct PreTreatmentCase {
  water::Composition raw;  // the likely water
  bool known = true;       // whether its make-up is known at all, beyond a meter reading
  PlanEntry plan;
  std::span<const Scale> scales;            // at the planned recovery (scaling.h)
  std::optional<double> recovery_for_slow;  // where scale would be fast
};

// Thresholds: common practice, no source.
std::vector<base::Message> pre_treatment(const SurveyEntry& survey, const PreTreatmentCase& c);

}  // namespace drawoff::visit
