// How much raw water a site may let back, from its survey, its machine and what was read of the raw
// water: visit/blend_limit.h, asked with what is usual where nobody says what comes until the next
// visit.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "api/working.h"
#include "machine/plates.h"
#include "messages/catalogue.h"
#include "visit/blend_limit.h"
#include "visit/blend_work.h"
#include "visit/start_up.h"

namespace drawoff::api {

struct BlendLimitOutput {
  visit::BlendBound bound = visit::BlendBound::kNone;
  std::string substance;             // "" if none binds
  std::vector<std::string> unknown;  // with a health limit
  double ever = 1;
  double drift = 1;
  double today = 1;
};

// A raw water that reads stronger than its survey counts as it reads. One that reads weaker counts
// as surveyed: by the next visit it may be so again. Common practice, no source: 8 K below the
// colder and above the warmer of the survey's water and the day's, a quarter either way of the
// supply.
base::Result<BlendLimitOutput> blend_limit(const visit::SurveyEntry& survey,
                                           const std::optional<machine::MachineEntry>& machine,
                                           std::span<const visit::ReadingEntry> readings,
                                           const visit::UntilEntry& until,
                                           const visit::Sampling& sampling);

// The same of a machine that was judged already, for the moment alone: without drift, and with a
// raw water as strong as it reads.
base::Result<visit::HighestShare> share_now(const visit::SurveyEntry& survey,
                                            const visit::StartUp& start_up,
                                            std::span<const visit::ReadingEntry> readings);

// What binds, in a sentence; none where nothing does.
std::optional<base::Message> binds(const BlendLimitOutput& limit);
// That the machine, its valve as it is entered, lets in what may not be let back; none where it
// does not, or gives nothing.
std::optional<base::Message> lets_in_too_much(const machine::MachineEntry& machine,
                                              const visit::StartUp& start_up,
                                              const visit::HighestShare& most);
base::Message over_permitted(double share, double permitted);
// What an air-charged tank asks of whoever sets the blend; nothing where there is none.
std::vector<base::Message> tank_cautions(const machine::MachineEntry& machine);

}  // namespace drawoff::api

namespace drawoff::fields {

template <>
struct EnumTable<visit::BlendBound> {
  static constexpr std::string_view name = "blend_bound";
  static constexpr std::array list = {choice(visit::BlendBound::kNone, "none"),
                                      choice(visit::BlendBound::kSubstance, "substance"),
                                      choice(visit::BlendBound::kUnknown, "unknown"),
                                      choice(visit::BlendBound::kFaecal, "faecal")};
};
template <>
struct Table<api::BlendLimitOutput> {
  using T = api::BlendLimitOutput;
  static constexpr std::string_view name = "blend_limit_output";
  static constexpr auto list = std::make_tuple(field("bound", &T::bound, kRequired),
                                               field("substance", &T::substance, kRequired),
                                               field("unknown", &T::unknown, kRequired),
                                               field("ever_pct", &T::ever, kRequired),
                                               field("drift", &T::drift, kRequired),
                                               field("today_pct", &T::today, kRequired));
};

}  // namespace drawoff::fields
