#include "visit/reject_use.h"

#include "visit/limits.h"
#include "water/conductivity.h"

namespace drawoff::visit {
namespace {

using base::Number;
using units::milligram_per_litre;

constexpr units::Conductivity kSlight(0.07);  // 0.7 dS/m
constexpr units::Conductivity kStrong(0.3);   // 3 dS/m
// Above these leaves and crops suffer, or what is eaten takes it up [ayers1985], from memory.
constexpr units::Density kBoron = milligram_per_litre(0.7);
constexpr units::Density kChloride = milligram_per_litre(142);  // 4 meq/L, sensitive plants
constexpr units::Density kSodium = milligram_per_litre(69);     // 3 meq/L, sprinkled
constexpr units::Density kArsenic = milligram_per_litre(0.1);

}  // namespace

RejectUse reject_use(const SurveyEntry& survey, const water::Composition& raw, double recovery) {
  water::Composition reject = water::scaled(raw, 1 / (1 - recovery));
  reject[water::Species::CO2] = raw[water::Species::CO2];
  RejectUse out{.conductivity = water::conductivity_25(reject)};
  out.irrigation = out.conductivity < kSlight    ? Irrigation::kUnrestricted
                   : out.conductivity <= kStrong ? Irrigation::kModerate
                                                 : Irrigation::kSevere;
  out.words.push_back({"verdict.reject." + std::string(fields::name_of(out.irrigation)),
                       {{"conductivity", Number{out.conductivity.si() * 1e4, "µS/cm", 2}}}});
  const auto at = [&](const char* of) { return amount_of(of, reject); };
  if (at("B") > kBoron || at("Cl") > kChloride || at("Na") > kSodium) {
    out.words.push_back({"verdict.reject.sensitive"});
  }
  const bool found = survey.faecal_indicators == FaecalIndicators::kPresent;
  if (at("As") > kArsenic || found) {
    out.words.push_back({found ? "verdict.reject.faecal" : "verdict.reject.arsenic"});
  }
  out.words.push_back({"verdict.reject.label"});
  return out;
}

}  // namespace drawoff::visit
