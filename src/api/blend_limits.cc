#include "api/blend_limits.h"

#include <algorithm>

namespace drawoff::api {
namespace {

using base::Message;
using base::Number;

// Where nobody says (common practice, no source).
constexpr double kColder = 8;  // [K] than on the day
constexpr double kWarmer = 8;
constexpr double kSupplyRange = 0.25;  // of the supply, up and down
constexpr units::Temperature kNearFreezing = units::celsius(2);

visit::Until until_of(const visit::SurveyEntry& survey,
                      const machine::MachineEntry& machine,
                      const visit::UntilEntry& said) {
  const units::Temperature now = survey.basis == visit::SurveyBasis::kReadings && survey.known
                                     ? survey.known->temperature
                                     : survey.water.temperature;
  const units::Temperature colder = std::max(kNearFreezing, units::Temperature(now.si() - kColder));
  units::Temperature warmer(now.si() + kWarmer);
  if (survey.tap && survey.tap->warmest) warmer = *survey.tap->warmest;
  const units::Pressure supply = machine.supply.pressure;
  return {.coldest = said.coldest.value_or(colder),
          .hottest = said.hottest.value_or(warmer),
          .lowest = said.lowest_supply.value_or((1 - kSupplyRange) * supply),
          .highest = said.highest_supply.value_or((1 + kSupplyRange) * supply)};
}

}  // namespace

base::Result<BlendLimitOutput> blend_limit(const visit::SurveyEntry& survey,
                                           const std::optional<machine::MachineEntry>& machine,
                                           const visit::UntilEntry& until,
                                           const visit::Sampling& sampling) {
  TRY(const visit::SurveyedWater surveyed, visit::surveyed_water(survey));
  visit::JudgedWater water = visit::water_behind_membranes(surveyed, surveyed.composition, {});
  std::optional<double> drift;
  if (machine) {
    TRY(const visit::StartUp s, visit::judge_start_up(survey, *machine, {}, sampling));
    water = visit::water_behind_membranes(surveyed, s.raw.composition, s.streams);
    drift = visit::drift(
        *machine, s.raw, until_of(survey, *machine, until), sampling.seed, sampling.draws);
  }
  TRY(const visit::SourceVerdict verdict, visit::source_verdict(survey, water));
  const double rises = drift.value_or(visit::kUsualDrift);
  const auto highest = visit::highest_share(survey, verdict, rises);
  return BlendLimitOutput{.bound = highest.bound,
                          .substance = highest.substance,
                          .unknown = highest.unknown,
                          .ever = highest.ever,
                          .drift = rises,
                          .today = highest.today};
}

std::optional<Message> binds(const BlendLimitOutput& limit) {
  switch (limit.bound) {
    case visit::BlendBound::kNone:
      break;
    case visit::BlendBound::kFaecal:
      return Message{"blend.caution.faecal"};
    case visit::BlendBound::kUnknown: {
      std::string keys;
      for (const auto& key : limit.unknown) keys += (keys.empty() ? "" : ", ") + key;
      return Message{"blend.caution.unknown", {{"keys", keys}}};
    }
    case visit::BlendBound::kSubstance:
      return Message{"blend.caution.binds",
                     {{"substance", base::Ref{"substance." + limit.substance}},
                      {"ever", Number{100 * limit.ever, "%", 2}},
                      {"today", Number{100 * limit.today, "%", 2}}}};
  }
  return std::nullopt;
}

}  // namespace drawoff::api
