// The verdict on a borehole with every part, without a machine. Bound: 10 ms, scale and all.
#include <benchmark/benchmark.h>

#include "visit/example_test.h"
#include "visit/verdict.h"

namespace drawoff::visit {
namespace {

void verdict(benchmark::State& state) {
  SurveyEntry survey = borehole_survey();
  survey.building = BuildingEntry{.softener = true, .copper = true};
  survey.plan = PlanEntry{.recovery = 0.6};
  for (auto _ : state) {
    const auto water = surveyed_water(survey);
    benchmark::DoNotOptimize(source_verdict(survey, judged_water(*water, water->composition, {})));
  }
}
BENCHMARK(verdict)->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace drawoff::visit
