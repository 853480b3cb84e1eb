#include "api/blend_limits.h"

#include <algorithm>

#include "transients/plant.h"
#include "visit/day.h"

namespace drawoff::api {
namespace {

using base::Message;
using base::Number;

// Where nobody says (common practice, no source).
constexpr double kColder = 8;  // [K]
constexpr double kWarmer = 8;
constexpr double kSupplyRange = 0.25;  // of the supply, up and down
constexpr units::Temperature kNearFreezing = units::celsius(2);

visit::Until until_of(const visit::SurveyEntry& survey,
                      units::Temperature surveyed,
                      units::Temperature now,
                      const machine::MachineEntry& machine,
                      const visit::UntilEntry& said) {
  const units::Temperature colder =
      std::max(kNearFreezing, units::Temperature(std::min(surveyed, now).si() - kColder));
  units::Temperature warmer(std::max(surveyed, now).si() + kWarmer);
  if (survey.tap && survey.tap->warmest) warmer = std::max(*survey.tap->warmest, now);
  const units::Pressure supply = machine.supply.pressure;
  return {.coldest = said.coldest.value_or(colder),
          .hottest = said.hottest.value_or(warmer),
          .lowest = said.lowest_supply.value_or((1 - kSupplyRange) * supply),
          .highest = said.highest_supply.value_or((1 + kSupplyRange) * supply)};
}

// What was read, without the strength of the raw water where that is below the surveyed one.
std::vector<visit::ReadingEntry> no_weaker(const visit::SurveyedWater& surveyed,
                                           std::span<const visit::ReadingEntry> readings) {
  std::vector<visit::ReadingEntry> out(readings.begin(), readings.end());
  const auto day = visit::water_of_the_day(surveyed, readings).raw.composition;
  if (water::total_molar(day) < water::total_molar(surveyed.composition)) {
    std::erase_if(out, [](const auto& r) { return r.point == machine::Point::kRawQuality; });
  }
  return out;
}

}  // namespace

base::Result<BlendLimitOutput> blend_limit(const visit::SurveyEntry& survey,
                                           const std::optional<machine::MachineEntry>& machine,
                                           std::span<const visit::ReadingEntry> readings,
                                           const visit::UntilEntry& until,
                                           const visit::Sampling& sampling) {
  TRY(const visit::SurveyedWater surveyed, visit::surveyed_water(survey));
  const auto counted = no_weaker(surveyed, readings);
  const auto day = visit::water_of_the_day(surveyed, counted).raw;
  visit::JudgedWater water = visit::water_behind_membranes(surveyed, day.composition, {});
  std::optional<double> drift;
  if (machine) {
    TRY(const visit::StartUp s, visit::judge_start_up(survey, *machine, counted, sampling));
    water = visit::water_behind_membranes(surveyed, day.composition, s.streams);
    drift = visit::drift(*machine,
                         day,
                         until_of(survey, surveyed.temperature, day.temperature, *machine, until),
                         sampling.seed,
                         sampling.draws);
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

base::Result<visit::HighestShare> share_now(const visit::SurveyEntry& survey,
                                            const visit::StartUp& start_up,
                                            std::span<const visit::ReadingEntry> readings) {
  TRY(const visit::SurveyedWater surveyed, visit::surveyed_water(survey));
  const auto day = visit::water_of_the_day(surveyed, readings).raw.composition;
  TRY(const visit::SourceVerdict verdict,
      visit::source_verdict(survey,
                            visit::water_behind_membranes(surveyed, day, start_up.streams)));
  return visit::highest_share(survey, verdict, 1);
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

Message over_permitted(double share, double permitted) {
  return {"blend.trouble.over",
          {{"share", Number{100 * share, "%", 2}}, {"permitted", Number{100 * permitted, "%", 2}}}};
}

std::optional<Message> lets_in_too_much(const machine::MachineEntry& machine,
                                        const visit::StartUp& start_up,
                                        const visit::HighestShare& most) {
  if (!machine.blend || machine.blend->opening == 0) return std::nullopt;
  if (most.ever == 0) return Message{"blend.trouble.none"};
  const auto& median = start_up.median;
  if (!(median.product_flow > 0)) return std::nullopt;
  const double share = median.blend_flow / median.product_flow;
  if (share <= most.ever) return std::nullopt;
  return over_permitted(share, most.ever);
}

std::vector<Message> tank_cautions(const machine::MachineEntry& machine) {
  if (machine.product.vessel != machine::ProductVessel::kTank) return {};
  std::vector<Message> out{{"blend.caution.tank"}};
  const auto controls = transients::controls_of(machine);
  // Behind a pump the membrane outlasts a blend that is taken before it.
  const bool raw_outlasts =
      !machine.pump || (machine.blend && machine.blend->from == machine::BlendFrom::kPressurised);
  if (!controls.high && !controls.shut_off && raw_outlasts) {
    out.push_back({"blend.caution.nothing_stops"});
  }
  return out;
}

}  // namespace drawoff::api
