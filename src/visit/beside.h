// Readings of the day beside an analysis: what they add to it, and where they contradict it.
//
// A laboratory seldom asks for everything, and a strip on the day tells what it left out. What the
// laboratory did find stands; a reading that is far from it says that the water has changed.
#pragma once

#include <vector>

#include "base/message.h"
#include "visit/survey.h"
#include "water/speciation.h"

namespace drawoff::visit {

// Whether a strip or drop test read this substance and the analysis did not: chloride, sulfate,
// nitrate, fluoride, iron. (Hardness is of two ions, and a total: it is no amount to add.)
bool read_beside(std::string_view substance, const SurveyEntry& survey);

// Equally likely waters: the analysed one with what was read beside it; that one alone where
// nothing was.
std::vector<water::Composition> with_readings(const water::Composition& analysed,
                                              const SurveyEntry& survey);

// A sentence for each reading that is further from the analysis than the reading's accuracy and the
// strength's spread explain in all but one case of a hundred. None where the survey is not an
// analysis with readings beside it.
std::vector<base::Message> contradictions(const SurveyEntry& survey);

}  // namespace drawoff::visit
