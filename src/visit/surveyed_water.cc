#include "visit/surveyed_water.h"

#include <cmath>

#include "numerics/sample.h"
#include "water/conductivity.h"
#include "water/half_known.h"

namespace drawoff::visit {

base::Result<SurveyedWater> surveyed_water(const SurveyEntry& survey) {
  if (survey.basis != SurveyBasis::kReadings) {
    TRY(const water::Composition composition, water::speciate(water::analysis_of(survey.water)));
    return SurveyedWater{
        composition, survey.water.temperature, survey.strength_spread, {composition}};
  }
  constexpr std::uint64_t kSeed = 1;  // one survey, one set of waters
  const auto likely = water::likely_waters(half_known(*survey.known), kSeed);
  SurveyedWater out{.temperature = survey.known->temperature};
  const double share = 1.0 / static_cast<double>(likely.members.size());
  std::vector<double> log_conductivity;
  for (const water::Speciation& w : likely.members) {
    for (int i = 0; i < water::kSpeciesCount; ++i) {
      out.composition.mol_m3[i] += share * w.total.mol_m3[i];
    }
    log_conductivity.push_back(std::log(water::conductivity_25(w.total).si()));
  }
  const double whole = std::log(water::conductivity_25(out.composition).si());
  for (std::size_t i = 0; i < likely.members.size(); ++i) {
    out.members.push_back(
        water::scaled(likely.members[i].total, std::exp(whole - log_conductivity[i])));
  }
  out.strength_spread =
      std::hypot(survey.strength_spread, numerics::standard_deviation(log_conductivity));
  return out;
}

}  // namespace drawoff::visit
