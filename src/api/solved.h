// A whole site, solved: how it stands, what is to be said of its water, how its machine should run
// and how its readings fit. Job, screens and papers all tell of this one thing.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "api/api.h"
#include "api/site_state.h"
#include "fields/form.h"
#include "visit/blend_limit.h"
#include "visit/first_day.h"
#include "visit/start_up.h"
#include "visit/verdict.h"

namespace drawoff::api {

struct Solved {
  SiteState state;  // with site, survey and machine
  visit::SourceVerdict verdict;
  visit::StartUp start_up;
  std::optional<visit::HighestShare>
      let_back;  // raw water that may be, now; where there is a blend
  // Of the visit before, where this one did not read in full.
  std::optional<visit::StartUpStanding> before;
};

// The water of a site and the verdict on it, with or without a machine.
struct JudgedSource {
  visit::JudgedWater water;
  visit::SourceVerdict verdict;
};

// The state must have a survey. With a machine, of the water of its day and with its products.
base::Result<JudgedSource> judge_source(const SiteState& state, const visit::Sampling& sampling);

// What a job still lacks of site, survey and machine, as one sentence; none if nothing.
std::optional<base::Error> lacks(const SiteState& state);

// The state must have a survey and a machine. `asked`: readings to forecast.
base::Result<Solved> solve(SiteState state,
                           const visit::Sampling& sampling,
                           std::span<const visit::ReadingEntry> asked = {});

// What the readings of the membrane's first visit, and of the first one a day or more after it, say
// of the very machine: later ones tell of its wear too.
base::Result<visit::FirstDay> first_day_of(const Solved& solved, const visit::Sampling& sampling);

// The whole job in words (api.h); `own`: what the readings say of the very machine, if known.
std::vector<JobLine> in_words(const Solved& solved,
                              fields::UnitSystem units = fields::UnitSystem::kMetric,
                              const visit::FirstDay* own = nullptr);

// The verdict on the source in words: what is said where there is no machine yet.
std::vector<JobLine> source_in_words(const SiteState& state,
                                     const visit::SourceVerdict& verdict,
                                     fields::UnitSystem units = fields::UnitSystem::kMetric);

// What the readings say of the very machine; nothing where nothing was read.
std::vector<JobLine> own_in_words(const visit::FirstDay& own, const SiteState& state);

// Why nobody should drink of the blend as it stands: its setting is not finished, it was left
// beyond what is permitted, or it is open though no, or not so much, raw water may be let back.
// None where there is no blend, nothing of that, or a machine that is only planned.
std::optional<base::Message> blend_trouble(const Solved& solved);

// ---- Sentences that stand on their own on screens and papers too ----

// The title: site and machine.
base::Message title_of(const Solved& solved);
// The name of a machine's field by its path in a file, "element.test_recovery_pct": the part, then
// what of it.
base::Message field_of_machine(const std::string& path);
// Recovery and reductions, as expected and as read.
struct ShareRow {
  const char* name;
  base::Message expected;
  std::optional<base::Message> read;
};
struct ShareRows {
  ShareRow recovery, by_meter, by_mass;
};
// The machine must run.
ShareRows share_rows(const visit::StartUp& start_up);
// The outcome and how the readings fit, in a sentence each.
base::Message standing_of(const Solved& solved);
// That the visit before found the machine not as it should be, where this one did not read in full.
std::optional<base::Message> standing_before(const Solved& solved);
// That first-day values are provisional, and from when on they can be settled; the state must have
// readings of a first day.
base::Message provisional_in_words(const SiteState& state);
// Whether readings stray from what the machine should do.
bool something_is_wrong(const visit::StartUp& start_up);
// That the raw water is not the one surveyed.
base::Message raw_differs_in_words(const SiteState& state);
// What to check first, likeliest first; empty where nothing is wrong or nothing was read.
std::vector<base::Message> causes_in_words(const visit::StartUp& start_up);
// The next reading worth taking, if any.
std::optional<base::Message> next_in_words(const visit::StartUp& start_up);
// Where the reading belongs, with the state in which it was read where that changes it.
base::Message state_of(const visit::ReadingEntry& reading);
// How a point is shown where nobody has measured it yet.
visit::ReadingEntry shown_like(machine::Point point,
                               const visit::StartUp& start_up,
                               fields::UnitSystem units);
// Whether a point of this machine says something that no other says.
bool worth_a_row(machine::Point point, const machine::MachineEntry& machine);

}  // namespace drawoff::api
