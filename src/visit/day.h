// The raw water of the day: the survey's, moved to what the readings of raw quality and temperature
// say. What a meter shows of the raw water grows with its strength s, a little less than in
// proportion, and with the conductivity model's factor c; in logarithms y = β s + c, near normal,
// with the readings' mean y and their precision w, and the priors' variances S and C:
//
//   mean of s = β S w y/D,  of c = C w y/D,   D = 1 + (β² S + C) w
//   variance  S (1 + C w)/D,  C (1 + β² S w)/D,  covariance −β S C w/D
//
// β is the slope from the survey's strength to the one found, so that the reading is met there.
#pragma once

#include <span>

#include "inference/predict.h"
#include "machine/ensemble.h"
#include "visit/reading.h"
#include "visit/surveyed_water.h"

namespace drawoff::visit {

struct DaysWater {
  machine::RawWater raw;
  bool differs = false;  // from the survey by more than season, meter and model explain
};

// What a perfect meter would show of the raw water by the survey alone, at 25 °C [S/m]: 90 %.
inference::Interval surveyed_conductivity(const SurveyedWater& survey);

DaysWater water_of_the_day(const SurveyedWater& survey, std::span<const ReadingEntry> readings);

// Whether a reading of that point tells of the water rather than of the machine.
bool sets_the_water(machine::Point point);

}  // namespace drawoff::visit
