#include "visit/pre_treatment.h"

#include <algorithm>
#include <cmath>

#include "messages/number.h"
#include "visit/evidence.h"
#include "visit/limits.h"

namespace drawoff::visit {
namespace {

using base::Message;
using base::Number;
using base::Ref;
using units::milligram_per_litre;

// Common practice, no source; the handbook values of the shared notes on pre-treatment are alike.
constexpr units::Density kChlorine = milligram_per_litre(0.05);
constexpr units::Density kChloramine = milligram_per_litre(0.1);  // total less free
constexpr units::Density kIron = milligram_per_litre(0.1);
constexpr units::Density kManganese = milligram_per_litre(0.05);
constexpr units::Density kSulfide = milligram_per_litre(0.03);
constexpr double kClear = 1;   // NTU: a cartridge lasts
constexpr double kTurbid = 5;  // NTU: it blocks in days
constexpr units::Temperature kWarm = units::celsius(35);
constexpr units::Temperature kHot = units::celsius(45);
constexpr double kAcid = 6.5;
constexpr double kAlkaline = 8.5;

// As many digits as the number has, at most three.
Number shown(double value, const char* unit) {
  const double rounded = messages::rounded(value, 3);
  return {rounded, unit, std::min(3, messages::digits_of(rounded))};
}
Number shown(units::Density d) { return shown(d / milligram_per_litre(1), "mg/L"); }
Number shown(units::Temperature t) { return shown(t.si() - 273.15, "°C"); }

// Lime needs both: what was not analysed is not zero.
bool lime_known(const SurveyEntry& survey) {
  const auto analysis = water::analysis_of(survey.water);
  return analysed("Ca", analysis) && water::reported_alkalinity(analysis);
}

void turbidity(const TapEntry& tap, std::vector<Message>& out) {
  const double now = tap.turbidity.value_or(0);
  const double worst = std::max(now, tap.worst_turbidity.value_or(0));
  if (worst > kTurbid) {
    out.push_back({now > kTurbid ? "verdict.front.settling" : "verdict.front.settling_season",
                   {{"turbidity", shown(worst, "NTU")}}});
  } else if (worst > kClear) {
    out.push_back({"verdict.front.two_sediment", {{"turbidity", shown(worst, "NTU")}}});
  }
}

void chlorine(const SurveyEntry& survey, const TapEntry& tap, std::vector<Message>& out) {
  const auto free = survey.free_chlorine;
  if (tap.total_chlorine && *tap.total_chlorine - free.value_or(units::Density(0)) > kChloramine) {
    out.push_back(
        {"verdict.front.chloramine",
         {{"chloramine", shown(*tap.total_chlorine - free.value_or(units::Density(0)))}}});
    return;
  }
  const auto may_hold = [](SourceKind s) {
    return s == SourceKind::kMains || s == SourceKind::kUnknown || s == SourceKind::kTanker;
  };
  const bool further = std::any_of(survey.further.begin(),
                                   survey.further.end(),
                                   [&](const FurtherSource& f) { return may_hold(f.source); });
  if (free && *free > kChlorine) {
    out.push_back({"verdict.front.carbon", {{"chlorine", shown(*free)}}});
  } else if (!free && (may_hold(survey.source) || further)) {
    out.push_back({"verdict.front.carbon_unknown"});
  }
}

// What other readings make likely of iron and manganese is nothing to fit a filter for.
void metals(const SurveyEntry& survey,
            const water::Composition& raw,
            const TapEntry& tap,
            std::vector<Message>& out) {
  const bool by_readings = survey.basis == SurveyBasis::kReadings;
  const bool iron_known = !by_readings || survey.known->iron;
  const auto iron = iron_known ? amount_of("Fe", raw) : units::Density(0);
  if (iron > kIron || tap.iron == IronForm::kRust) {
    const char* id = tap.iron == IronForm::kRust    ? "verdict.front.iron_rust"
                     : tap.iron == IronForm::kClear ? "verdict.front.iron_clear"
                                                    : "verdict.front.iron";
    out.push_back({id, {{"iron", shown(iron)}}});
  }
  if (by_readings) {
    out.push_back({iron_known ? "verdict.front.test_manganese" : "verdict.front.test_metals"});
    return;
  }
  const auto manganese = amount_of("Mn", raw);
  if (manganese > kManganese) {
    out.push_back({"verdict.front.manganese", {{"manganese", shown(manganese)}}});
  }
}

void scale(std::span<const Scale> scales,
           const PlanEntry& plan,
           std::optional<double> slow_at,
           std::vector<Message>& out) {
  const ScaleGrade worst = worst_grade(scales, plan.antiscalant);
  if (worst == ScaleGrade::kNone) return;
  const auto of = [&](const Scale& s) { return plan.antiscalant ? s.dosed : s.likely; };
  const auto* const found = std::find_if(
      scales.data(), scales.data() + scales.size(), [&](const Scale& s) { return of(s) == worst; });
  const Ref solid{"mineral." + std::string(fields::name_of(found->mineral))};
  const Number planned{std::round(100 * plan.recovery), "%", 2};
  const std::string grade(fields::name_of(worst));
  out.push_back({"verdict.front.scale_" + grade, {{"solid", solid}, {"recovery", planned}}});
  if (!plan.antiscalant && found->high > worst) {
    out.push_back({"verdict.front.scale_may_" + std::string(fields::name_of(found->high))});
  }
  if (worst < ScaleGrade::kFast) return;
  const bool dosing_serves = !plan.antiscalant && worst_grade(scales, true) <= ScaleGrade::kSlow;
  if (dosing_serves) out.push_back({"verdict.front.scale_dose"});
  if (slow_at) {
    out.push_back({"verdict.front.scale_recovery",
                   {{"recovery", Number{std::round(100 * *slow_at), "%", 2}}}});
  } else if (!dosing_serves) {
    out.push_back({"verdict.front.scale_never"});
  }
}

}  // namespace

std::vector<Message> pre_treatment(const SurveyEntry& survey, const PreTreatmentCase& c) {
  std::vector<Message> out;
  const TapEntry tap = survey.tap.value_or(TapEntry{});
  if (survey.faecal_indicators == FaecalIndicators::kPresent) {
    out.push_back({"verdict.front.disinfection"});
  }
  turbidity(tap, out);
  out.push_back({"verdict.front.sediment"});
  chlorine(survey, tap, out);
  if (tap.sulfide && *tap.sulfide > kSulfide) {
    out.push_back({"verdict.front.sulfide", {{"sulfide", shown(*tap.sulfide)}}});
  }
  if (c.known) {
    metals(survey, c.raw, tap, out);
    if (survey.basis == SurveyBasis::kAnalysis && !lime_known(survey)) {
      out.push_back({"verdict.front.scale_unknown"});
    }
    scale(c.scales, c.plan, c.recovery_for_slow, out);
  } else {
    out.push_back({"verdict.front.hardness_unknown"});
    if (tap.iron == IronForm::kRust) {
      out.push_back({"verdict.front.iron_rust", {{"iron", shown(units::Density(0))}}});
    }
  }
  const double ph = survey.basis == SurveyBasis::kReadings
                        ? (survey.known->ph ? survey.known->ph->value : 7)
                        : survey.water.ph;
  if (c.known && ph < kAcid) out.push_back({"verdict.front.acid", {{"ph", shown(ph, "")}}});
  if (c.known && ph > kAlkaline) out.push_back({"verdict.front.alkaline", {{"ph", shown(ph, "")}}});
  if (tap.warmest && *tap.warmest > kHot) {
    out.push_back({"verdict.front.hot", {{"temperature", shown(*tap.warmest)}}});
  } else if (tap.warmest && *tap.warmest > kWarm) {
    out.push_back({"verdict.front.warm", {{"temperature", shown(*tap.warmest)}}});
  } else if (survey.building && survey.building->roof_tank && !tap.warmest) {
    out.push_back({"verdict.front.roof_tank"});
  }
  return out;
}

}  // namespace drawoff::visit
