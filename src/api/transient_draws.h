// What the questions fill, flush and rest share: the machines that the plates could be, each with
// what stands behind it, in the condition asked about.
#pragma once

#include <span>
#include <string>
#include <utility>
#include <vector>

#include "api/machine_question.h"
#include "transients/plant.h"

namespace drawoff::api {

struct TransientDraw {
  machine::Specimen specimen;
  transients::VolumeFactors factors;
  transients::Plant plant;
};

struct TransientDraws {
  machine::Feed feed;
  TransientDraw median;              // everything at its median
  std::vector<TransientDraw> draws;  // of those that run
  double runs = 0;                   // share of all drawn
};

// On the raw water of the day, which the readings may have moved from the survey's. Fails only
// where the element's plate contradicts itself.
base::Result<TransientDraws> transient_draws(const visit::SurveyEntry& survey,
                                             std::span<const visit::ReadingEntry> readings,
                                             const machine::MachineEntry& entry,
                                             const machine::Condition& condition,
                                             int draws,
                                             long long seed,
                                             transients::Reach reach);

// The same of a question's input, which names them so.
base::Result<TransientDraws> transient_draws(const auto& in, transients::Reach reach) {
  return transient_draws(
      in.survey, in.readings, in.machine, in.condition, in.draws, in.seed, reach);
}

// Fewer running machines than this tell of no interval.
inline constexpr std::size_t kLeastTransientDraws = 20;
// Whether there are numbers to give: the median machine runs, and enough of the others.
bool can_tell(const TransientDraws& draws);

// Where a number comes from, for --explain.
struct Origin {
  std::string_view formula;
  std::string_view source;
  std::vector<WorkingInput> inputs = {};
};
// The band of the values (SI), and the lines of its three numbers under `at`.
Band band_of(std::span<const double> values,
             std::string_view unit_key,
             Working& working,
             const std::string& at,
             const Origin& origin);
// The line of one number, given in the unit of its key.
void explain_number(Working& working, const std::string& at, double si, const Origin& origin);
// n/N and why: the two lines that every answer begins with.
void explain_runs(Working& working, const TransientDraws& draws);

std::vector<std::string> ids_of(const std::vector<base::Message>& messages);
// Why the median machine does not run.
base::Message why_not(machine::Outcome outcome);

}  // namespace drawoff::api
