#include "visit/surveyed_water.h"

#include <cmath>
#include <span>

#include "numerics/sample.h"
#include "visit/beside.h"
#include "water/conductivity.h"
#include "water/half_known.h"

namespace drawoff::visit {

namespace {

std::vector<water::Composition> likely_members(const KnownWaterEntry& known) {
  constexpr std::uint64_t kSeed = 1;  // one survey, one set of waters
  std::vector<water::Composition> members;
  for (const water::Speciation& w : water::likely_waters(half_known(known), kSeed).members) {
    members.push_back(w.total);
  }
  return members;
}

water::Composition mean_of(std::span<const water::Composition> members) {
  water::Composition mean;
  const double share = 1.0 / static_cast<double>(members.size());
  for (const auto& m : members) {
    for (int i = 0; i < water::kSpeciesCount; ++i) mean.mol_m3[i] += share * m.mol_m3[i];
  }
  return mean;
}

// All at the strength of their mean; how far they were from it is the spread.
void level(SurveyedWater& water) {
  std::vector<double> log_conductivity;
  for (const auto& m : water.members) {
    log_conductivity.push_back(std::log(water::conductivity_25(m).si()));
  }
  const double whole = std::log(water::conductivity_25(water.composition).si());
  for (std::size_t i = 0; i < water.members.size(); ++i) {
    water.members[i] = water::scaled(water.members[i], std::exp(whole - log_conductivity[i]));
  }
  water.strength_spread =
      std::hypot(water.strength_spread, numerics::standard_deviation(log_conductivity));
}

}  // namespace

base::Result<SurveyedWater> surveyed_water(const SurveyEntry& survey) {
  const bool by_readings = survey.basis == SurveyBasis::kReadings;
  SurveyedWater out{.strength_spread = survey.strength_spread};
  if (by_readings) {
    out.temperature = survey.known->temperature;
    out.members = likely_members(*survey.known);
  } else {
    TRY(const water::Composition analysed, water::speciate(water::analysis_of(survey.water)));
    out.temperature = survey.water.temperature;
    out.members = with_readings(analysed, survey);
  }
  out.composition = mean_of(out.members);
  if (by_readings) level(out);  // what was analysed stands as it was found
  return out;
}

}  // namespace drawoff::visit
