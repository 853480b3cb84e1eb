#include "visit/microbes.h"

#include "fields/errors.h"
#include "visit/date.h"

namespace drawoff::visit {
namespace {

// A residual that says that disinfected water reaches the tap; the smallest that a strip shows
// (free 0.2 mg/L: the shared table of limits; total: common practice, no source).
constexpr units::Density kFreeResidual = units::milligram_per_litre(0.2);
constexpr units::Density kTotalResidual = units::milligram_per_litre(0.5);

bool residual(const SurveyEntry& s) {
  if (s.free_chlorine && *s.free_chlorine >= kFreeResidual) return true;
  return s.tap && s.tap->total_chlorine && *s.tap->total_chlorine >= kTotalResidual;
}

bool all_mains(const SurveyEntry& s) {
  if (s.source != SourceKind::kMains) return false;
  for (const FurtherSource& f : s.further) {
    if (f.source != SourceKind::kMains) return false;
  }
  return true;
}

int period_of(const SurveyEntry& s) { return (s.local ? *s.local : LocalProfile{}).microbe_days; }

}  // namespace

Microbes microbes_of(const SurveyEntry& s) {
  if (s.faecal_indicators == FaecalIndicators::kPresent) return Microbes::kFound;
  const bool open = s.building && (s.building->open_tank || s.building->roof_tank);
  if (all_mains(s) && residual(s) && !open) return Microbes::kControlled;
  if (s.faecal_indicators == FaecalIndicators::kNotTested) return Microbes::kNothingSpeaks;
  const auto age = days_between(s.faecal_on, s.on);
  return age && *age >= 0 && *age <= period_of(s) ? Microbes::kClearSample : Microbes::kOldSample;
}

base::Message microbes_in_words(const SurveyEntry& s) {
  switch (microbes_of(s)) {
    case Microbes::kFound:
      return {"verdict.caution.faecal_present"};
    case Microbes::kControlled:
      return {"verdict.caution.faecal_controlled"};
    case Microbes::kClearSample:
      return {"verdict.caution.faecal_absent"};
    case Microbes::kOldSample: {
      return {"verdict.caution.faecal_old",
              {{"days", fields::given_number(period_of(s), nullptr)}}};
    }
    case Microbes::kNothingSpeaks:
      return {"verdict.caution.faecal_not_tested"};
  }
  return {"verdict.caution.faecal_not_tested"};
}

}  // namespace drawoff::visit
