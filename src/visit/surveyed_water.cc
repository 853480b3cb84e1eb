#include "visit/surveyed_water.h"

#include <cmath>

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

// Their mean, and all at its strength.
SurveyedWater about_their_mean(std::vector<water::Composition> members) {
  SurveyedWater out{.members = std::move(members)};
  const double share = 1.0 / static_cast<double>(out.members.size());
  std::vector<double> log_conductivity;
  for (const auto& m : out.members) {
    for (int i = 0; i < water::kSpeciesCount; ++i) {
      out.composition.mol_m3[i] += share * m.mol_m3[i];
    }
    log_conductivity.push_back(std::log(water::conductivity_25(m).si()));
  }
  const double whole = std::log(water::conductivity_25(out.composition).si());
  for (std::size_t i = 0; i < out.members.size(); ++i) {
    out.members[i] = water::scaled(out.members[i], std::exp(whole - log_conductivity[i]));
  }
  out.strength_spread = numerics::standard_deviation(log_conductivity);
  return out;
}

}  // namespace

base::Result<SurveyedWater> surveyed_water(const SurveyEntry& survey) {
  std::vector<water::Composition> members;
  units::Temperature temperature = survey.water.temperature;
  if (survey.basis == SurveyBasis::kReadings) {
    temperature = survey.known->temperature;
    members = likely_members(*survey.known);
  } else {
    TRY(const water::Composition analysed, water::speciate(water::analysis_of(survey.water)));
    members = with_readings(analysed, survey);
  }
  SurveyedWater out = members.size() == 1
                          ? SurveyedWater{.composition = members.front(), .members = members}
                          : about_their_mean(std::move(members));
  out.temperature = temperature;
  out.strength_spread = std::hypot(survey.strength_spread, out.strength_spread);
  return out;
}

}  // namespace drawoff::visit
