// Bound: one operating point of a wall unit in less than 200 µs, with all derivatives in less than
// 400 µs, and every dissolved species of it in less than 100 µs, on the project's 2-core machines.
#include "machine/operating_point.h"

#include <benchmark/benchmark.h>

#include "base/check.h"
#include "machine/example_entry_test.h"
#include "machine/example_test.h"
#include "machine/readings.h"
#include "machine/streams.h"

namespace drawoff::machine {
namespace {

void operating_point_of(benchmark::State& state, const Machine& machine) {
  const auto water = feed_water(hard_water(), units::celsius(18));
  for (auto _ : state) {
    const auto p = operating_point(machine, water, Parameters<double>());
    CHECK(p.outcome == Outcome::kRuns);
    benchmark::DoNotOptimize(p);
  }
  state.counters["membrane_evaluations"] =
      operating_point(machine, water, Parameters<double>()).evaluations;
}

void wall_unit_point(benchmark::State& state) { operating_point_of(state, wall_unit()); }
void small_unit_point(benchmark::State& state) { operating_point_of(state, small_unit()); }

void wall_unit_derivatives(benchmark::State& state) {
  const auto water = feed_water(hard_water(), units::celsius(18));
  const auto machine = wall_unit();
  for (auto _ : state) {
    benchmark::DoNotOptimize(
        operating_point_with_derivatives(machine, water, Parameters<double>()));
  }
}

// Every species of hard water at an operating point that is known.
void wall_unit_species(benchmark::State& state) {
  const auto entry = full_plates();
  const auto feed =
      feed_of({.composition = hard_water(), .temperature = units::celsius(18)}, entry);
  const auto specimen = nominal(entry, feed).specimen;
  const auto machine = in_condition(specimen.machine, {});
  const auto point = operating_point(machine, feed.water, specimen.parameters);
  for (auto _ : state) benchmark::DoNotOptimize(streams_at(specimen, machine, feed, point));
}

BENCHMARK(wall_unit_point)->Unit(benchmark::kMicrosecond);
BENCHMARK(small_unit_point)->Unit(benchmark::kMicrosecond);
BENCHMARK(wall_unit_derivatives)->Unit(benchmark::kMicrosecond);
BENCHMARK(wall_unit_species)->Unit(benchmark::kMicrosecond);

}  // namespace
}  // namespace drawoff::machine
