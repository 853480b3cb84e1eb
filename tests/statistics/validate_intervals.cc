// Nine readings in ten should fall inside their 90 % intervals: counted over simulated start-ups.
//
// This tests the code: that intervals are computed right from the spreads as assumed. Whether those
// spreads are the world's only real readings can tell.
#include <array>

#include "support/coverage.h"
#include "support/trial.h"
#include "visit/day.h"
#include "visit/start_up.h"

namespace drawoff {
namespace {

using machine::Point;
using support::Count;

constexpr std::uint64_t kSeed = 20260202;

// One job; false if that machine does not run at all.
bool judge_one(int job, int draws, std::array<Count, machine::kPointCount>& counts) {
  auto t = support::trial(kSeed, job);
  if (!t) return false;
  const auto values = machine::values_at(t->truth, t->feed, t->condition);
  const bool water_read = t->random.chance(0.5);
  std::vector<visit::ReadingEntry> readings;
  for (int i = 0; i < machine::kPointCount; ++i) {
    const auto point = static_cast<Point>(i);
    if (visit::sets_the_water(point) && !water_read) continue;
    readings.push_back(
        support::read(point, values[static_cast<std::size_t>(i)], t->condition, t->random));
  }
  const auto result =
      visit::judge_start_up(t->site.survey,
                            t->site.entry,
                            readings,
                            {.draws = draws, .seed = 7919 * (static_cast<std::uint64_t>(job) + 1)});
  if (!result) return false;
  for (const auto& judged : result->readings) {
    if (!judged.judgement) continue;
    auto& count = counts[static_cast<std::size_t>(judged.reading.point)];
    ++count.all;
    count.inside += judged.reading.value >= judged.judgement->expected.low &&
                    judged.reading.value <= judged.judgement->expected.high;
  }
  return true;
}

int run(bool full) {
  const int jobs = full ? 5000 : 400;
  const int draws = 200;
  support::Section section("Coverage of the 90 % intervals");
  section.line(
      "Seed {}, {} simulated start-ups, {} draws each. This tests the code against its own "
      "assumptions, not the assumptions against the world.\n",
      kSeed,
      jobs,
      draws);
  auto counts = support::counts_by_point();
  int running = 0;
  for (int job = 0; job < jobs; ++job) running += judge_one(job, draws, counts);
  section.line("{} of the machines ran and were judged.\n", running);
  support::demand_coverage(section, counts, full);
  section.demand(running > jobs / 2, "more than half of the machines run");
  return section.status();
}

}  // namespace
}  // namespace drawoff

int main(int argc, char** argv) {
  return drawoff::run(drawoff::support::asked_in_full(argc, argv));
}
