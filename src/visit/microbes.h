// Whether anything speaks for a source's being free of faecal microbes today.
//
// Dissolved solids say nothing of them, and a membrane is no barrier to rely on. Mains with a
// disinfectant residual measured at the tap on the day of the survey, with no open tank between,
// count as controlled; any other source needs a clear sample within the local profile's period, or
// a barrier that can work: a UV lamp in water measured clear, or disinfection whose residual is
// measured.
#pragma once

#include "base/message.h"
#include "visit/survey.h"

namespace drawoff::visit {

enum class Microbes {
  kFound,          // faecal indicators
  kControlled,     // mains, residual at the tap, no open tank between
  kClearSample,    // within the period
  kBarrier,        // a lamp or disinfection that can work
  kOldSample,      // clear, but longer ago, or of no date
  kNothingSpeaks,  // for it
};

Microbes microbes_of(const SurveyEntry& survey);
// What is to be said of it.
base::Message microbes_in_words(const SurveyEntry& survey);

}  // namespace drawoff::visit
