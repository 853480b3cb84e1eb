// How numbers of the visit are put into sentences: the same on every screen, paper and console.
#pragma once

#include <string>

#include "base/message.h"
#include "fields/form.h"
#include "inference/predict.h"
#include "visit/reading.h"

namespace drawoff::api {

// A probability in whole per cent, never as certain.
base::Number percent(double share);
// Two ends with as many decimals as a tenth of their distance deserves: "job.band".
base::Message band_of(double low, double high, const std::string& unit);
// Of an interval in the unit of the reading.
base::Message band_of(const inference::Interval& interval, const visit::ReadingEntry& like);
// The unit in which a thing is read where nothing else is said.
visit::ReadingUnit usual_unit(machine::PointKind kind, fields::UnitSystem units);
// The value with all the digits it was read with.
base::Number number_of(const visit::ReadingEntry& reading);

}  // namespace drawoff::api
