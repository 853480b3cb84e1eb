#include "visit/microbes.h"

#include <algorithm>

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

// A lamp cannot see through cloudy water. 5 NTU: WHO, guidelines for drinking-water quality (from
// memory).
constexpr double kCloudy = 5;

Barrier barrier_of(const SurveyEntry& s) {
  return s.building ? s.building->barrier : Barrier::kNone;
}

// Of what was measured; none where nobody looked.
std::optional<bool> cloudy(const SurveyEntry& s) {
  if (!s.tap || !(s.tap->turbidity || s.tap->worst_turbidity)) return std::nullopt;
  return std::max(s.tap->turbidity.value_or(0), s.tap->worst_turbidity.value_or(0)) > kCloudy;
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
  const bool sampled = s.faecal_indicators == FaecalIndicators::kAbsent;
  const auto age = days_between(s.faecal_on, s.on);
  if (sampled && age && *age >= 0 && *age <= period_of(s)) return Microbes::kClearSample;
  const Barrier barrier = barrier_of(s);
  if (barrier == Barrier::kUvLamp && cloudy(s) == false) return Microbes::kBarrier;
  if (barrier == Barrier::kDisinfection && residual(s)) return Microbes::kBarrier;
  return sampled ? Microbes::kOldSample : Microbes::kNothingSpeaks;
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
    case Microbes::kBarrier:
      return {barrier_of(s) == Barrier::kUvLamp ? "verdict.caution.faecal_lamp"
                                                : "verdict.caution.faecal_disinfected"};
    case Microbes::kNothingSpeaks:
      if (barrier_of(s) == Barrier::kUvLamp) {
        return {cloudy(s) ? "verdict.caution.faecal_lamp_cloudy"
                          : "verdict.caution.faecal_lamp_unknown"};
      }
      if (barrier_of(s) == Barrier::kDisinfection) return {"verdict.caution.faecal_no_residual"};
      return {"verdict.caution.faecal_not_tested"};
  }
  return {"verdict.caution.faecal_not_tested"};
}

}  // namespace drawoff::visit
