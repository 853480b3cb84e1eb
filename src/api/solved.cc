#include "api/solved.h"

#include "api/blend_limits.h"
#include "api/blend_words.h"
#include "api/machine_question.h"
#include "base/check.h"

namespace drawoff::api {

std::optional<base::Error> lacks(const SiteState& state) {
  const auto needs = [](const char* id) { return base::Error{base::ErrorKind::kData, {id}}; };
  if (!state.site) return needs("error.job.no_site");
  if (!state.survey) return needs("error.job.no_survey");
  if (!state.machine) return needs("error.job.no_machine");
  return std::nullopt;
}

base::Result<JudgedSource> judge_source(const SiteState& state, const visit::Sampling& sampling) {
  CHECK(state.survey);
  const visit::SurveyEntry& survey = state.survey->body;
  TRY(const visit::SurveyedWater surveyed, visit::surveyed_water(survey));
  JudgedSource out{.water = visit::judged_water(surveyed, surveyed.composition, {})};
  if (state.machine) {
    TRY(const visit::StartUp s,
        visit::judge_start_up(survey, state.machine->body, bodies_of(state.readings), sampling));
    out.water = visit::judged_water(surveyed, state.machine->body, s);
  }
  TRY(out.verdict, visit::source_verdict(survey, out.water));
  return out;
}

base::Result<Solved> solve(SiteState state,
                           const visit::Sampling& sampling,
                           std::span<const visit::ReadingEntry> asked) {
  CHECK(state.survey && state.machine);
  const visit::SurveyEntry& survey = state.survey->body;
  Solved out;
  TRY(out.start_up,
      visit::judge_start_up(
          survey, state.machine->body, bodies_of(state.readings), sampling, asked));
  // One water throughout: that of the day, which the readings may have moved from the analysis.
  TRY(const visit::SurveyedWater surveyed, visit::surveyed_water(survey));
  TRY(out.verdict,
      visit::source_verdict(survey,
                            visit::judged_water(surveyed, state.machine->body, out.start_up)));
  if (state.machine->body.blend) {
    TRY(out.let_back, share_now(survey, out.start_up, bodies_of(state.readings)));
  }
  if (!out.start_up.unread.empty() && !state.earlier.empty()) {
    TRY(const visit::StartUp before,
        visit::judge_start_up(
            survey, state.machine->body, bodies_of(visit_before(state)), sampling));
    out.before = before.standing;
  }
  out.state = std::move(state);
  return out;
}

std::optional<base::Message> blend_trouble(const Solved& solved) {
  const SiteState& state = solved.state;
  const machine::MachineEntry& machine = state.machine->body;
  if (!machine.blend) return std::nullopt;
  if (blend_is_unfinished(state)) return base::Message{"blend.trouble.unfinished"};
  if (state.blend_left && !state.blend_entered_since) {
    return left_with_too_much(state.blend_left->body);
  }
  // What is only planned runs into nobody's glass.
  if (state.readings.empty() && state.earlier.empty()) return std::nullopt;
  return solved.let_back ? lets_in_too_much(machine, solved.start_up, *solved.let_back)
                         : std::nullopt;
}

base::Result<visit::FirstDay> first_day_of(const Solved& solved, const visit::Sampling& sampling) {
  const SiteState& state = solved.state;
  const machine::MachineEntry machine = on_first_day(state);
  if (state.earlier.empty() && state.first.size() == state.readings.size()) {
    return visit::first_day(solved.start_up, machine, sampling);
  }
  const auto judged = [&](const machine::MachineEntry& entry,
                          std::span<const Said<visit::ReadingEntry>> readings) {
    return visit::judge_start_up(state.survey->body, entry, bodies_of(readings), sampling);
  };
  TRY(const visit::StartUp first, judged(machine, state.first));
  if (state.again.empty()) return visit::first_day(first, machine, sampling);
  const units::Time after = read_again_after(state);
  TRY(visit::StartUp again, judged(visit::run_on(machine, after), state.again));
  return visit::first_day(
      first, machine, sampling, visit::ReadAgain{.start_up = std::move(again), .after = after});
}

}  // namespace drawoff::api
