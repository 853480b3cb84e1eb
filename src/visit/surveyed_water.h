// The water that a survey knows: from a whole analysis, or from what is read in part.
//
// An analysis gives one composition, or 64 where strips read beside it add what it left out
// (visit/beside.h); readings alone give the mean of 64 equally likely ones
// (water/half_known.h) and the 64 themselves, for whatever asks after single substances. All are
// brought to one strength: how far that may be off is `strength_spread`.
#pragma once

#include <vector>

#include "visit/survey.h"

namespace drawoff::visit {

struct SurveyedWater {
  water::Composition composition;
  units::Temperature temperature;
  double strength_spread = 0;               // ln
  std::vector<water::Composition> members;  // equally likely; of an analysis one
};

base::Result<SurveyedWater> surveyed_water(const SurveyEntry& survey);

}  // namespace drawoff::visit
