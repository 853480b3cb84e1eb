// Nine in ten of what a machine fitted to its first readings predicts should hold the truth, also
// where nothing was read: counted over simulated start-ups.
//
// Like the intervals without a fit, this tests the code and not the assumed spreads.
#include <array>
#include <cmath>

#include "support/coverage.h"
#include "support/trial.h"
#include "visit/first_day.h"
#include "visit/observable.h"

namespace drawoff {
namespace {

using machine::Point;
using support::Count;
using Counts = std::array<Count, machine::kPointCount>;

constexpr std::uint64_t kSeed = 20261126;

struct Fitted {
  int jobs = 0;
  int fitted = 0;
  double narrower = 0;  // width of the fitted intervals over that of the plates', product flow
};

void fit_one(int job, int draws, Counts& counts, Fitted& out) {
  auto t = support::trial(kSeed, job);
  if (!t) return;
  const auto values = machine::values_at(t->truth, t->feed, t->condition);
  std::vector<visit::ReadingEntry> readings;
  for (int i = 0; i < machine::kPointCount; ++i) {
    if (!t->random.chance(0.5)) continue;  // whatever was read
    readings.push_back(support::read(
        static_cast<Point>(i), values[static_cast<std::size_t>(i)], t->condition, t->random));
  }
  const visit::Sampling sampling{.draws = draws,
                                 .seed = 7919 * (static_cast<std::uint64_t>(job) + 1)};
  const auto judged = visit::judge_start_up(t->site.survey, t->site.entry, readings, sampling);
  if (!judged) return;
  ++out.jobs;
  const auto day = visit::first_day(*judged, t->site.entry, sampling);
  if (day.standing != visit::FirstDayStanding::kFitted) return;
  ++out.fitted;
  const auto truth = machine::values_at(t->truth, t->feed, visit::as_built(t->site.entry));
  for (const auto& e : day.expected) {
    const double value = truth[static_cast<std::size_t>(e.point)];
    if (std::isnan(value)) continue;
    auto& count = counts[static_cast<std::size_t>(e.point)];
    ++count.all;
    count.inside += value >= e.expected.low && value <= e.expected.high;
    for (const auto& before : judged->expected) {
      if (before.point != e.point || e.point != Point::kProductFlow) continue;
      out.narrower +=
          (e.expected.high - e.expected.low) / (before.expected.high - before.expected.low);
    }
  }
}

int run(bool full) {
  const int jobs = full ? 2000 : 60;
  const int draws = 200;
  support::Section section("Coverage after fitting first-day values");
  section.line(
      "Seed {}, {} simulated start-ups, {} draws each; each point was read in half of them, in "
      "one state, and every point is predicted as built.\n",
      kSeed,
      jobs,
      draws);
  auto counts = support::counts_by_point();
  Fitted all;
  for (int job = 0; job < jobs; ++job) fit_one(job, draws, counts, all);
  section.line(
      "{} of {} had readings that could be fitted; the interval of the product flow is then {:.2f} "
      "times as wide as the plates'.\n",
      all.fitted,
      all.jobs,
      all.narrower / counts[static_cast<std::size_t>(Point::kProductFlow)].all);
  support::demand_coverage(section, counts, full);
  section.demand(all.fitted > all.jobs / 2, "more than half of the start-ups are fitted");
  return section.status();
}

}  // namespace
}  // namespace drawoff

int main(int argc, char** argv) {
  return drawoff::run(drawoff::support::asked_in_full(argc, argv));
}
