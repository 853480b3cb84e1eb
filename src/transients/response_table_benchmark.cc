// Bounds on the project's 2-core machines: a table of a small unit in less than 60 ms, a curve in
// less than 12 ms, its open outlet alone in less than 0.5 ms, one look-up in less than 0.3 µs, the
// curve of a temperature in less than 30 µs; a whole day of fill, 60 draws, restarts and the
// night's rest in less than 2 ms.
#include "transients/response_table.h"

#include <benchmark/benchmark.h>

#include "base/check.h"
#include "transients/fill.h"
#include "transients/plant_test.h"
#include "transients/rest.h"

namespace drawoff::transients {
namespace {

void build_curve(benchmark::State& state) {
  const Example e = with_tank();
  for (auto _ : state) {
    benchmark::DoNotOptimize(ResponseCurve(e.specimen, e.feed, e.condition));
  }
  state.counters["model_calls"] = e.plant.curve.model_calls();
}

void open_outlet(benchmark::State& state) {
  const Example e = with_tank();
  for (auto _ : state) {
    benchmark::DoNotOptimize(ResponseCurve(e.specimen, e.feed, e.condition, Reach::kOpenOutlet));
  }
}

void build_table(benchmark::State& state) {
  const Example e = with_tank();
  for (auto _ : state) {
    benchmark::DoNotOptimize(ResponseTable(e.specimen, e.feed, e.condition));
  }
}

void look_up(benchmark::State& state) {
  const Example e = with_tank();
  double p = 0;
  for (auto _ : state) {
    benchmark::DoNotOptimize(e.plant.curve.at(p));
    p = p > 2e5 ? 0 : p + 1234;
  }
}

void curve_of_a_temperature(benchmark::State& state) {
  const Example e = with_tank();
  const ResponseTable table(e.specimen, e.feed, e.condition);
  double warmer = 0;
  for (auto _ : state) {
    benchmark::DoNotOptimize(table.at(units::celsius(10 + warmer)));
    warmer = warmer > 20 ? 0 : warmer + 0.37;
  }
}

// Water drawn in portions of 0.25 L; each time the switch asks for it the tank is filled again.
void whole_day(benchmark::State& state) {
  Example e = with_tank();
  const ResponseTable table(e.specimen, e.feed, at_lowest_outlet(e.entry, e.condition));
  const double exchange = salt_exchange(e.specimen, e.feed);
  double starts = 0;
  for (auto _ : state) {
    e.plant.curve = table.at(units::celsius(16));
    const Fill first = fill(e.plant, 0);
    const Stop stop = stop_of(e.plant);
    const auto restart = restart_of(e.plant, stop);
    CHECK(restart && !restart->at_once);
    const double whole = content(*e.plant.store.tank, stop.pressure);
    const double least = content(*e.plant.store.tank, restart->pressure);
    double held = whole;
    double running = first.time;
    starts = 0;
    for (int i = 0; i < 60; ++i) {
      held -= 0.25e-3;
      if (held > least) continue;
      running += fill(e.plant, held).time;
      held = whole;
      starts += 1;
    }
    const Sides night = crept({.feed_volume = e.plant.held.feed_channel,
                               .permeate_volume = e.plant.held.permeate_side,
                               .feed_salt = 1.4,
                               .permeate_salt = 0.05},
                              exchange,
                              10 * 3600);
    const FirstDraw draw{.held = e.plant.held,
                         .permeate_share = 1,
                         .rested = night.permeate_salt,
                         .permeate = 0.05,
                         .product = 0.05};
    benchmark::DoNotOptimize(running + mean_strength(draw, 0.5e-3));
  }
  state.counters["starts"] = starts;
}

BENCHMARK(build_curve)->Unit(benchmark::kMillisecond);
BENCHMARK(open_outlet)->Unit(benchmark::kMillisecond);
BENCHMARK(build_table)->Unit(benchmark::kMillisecond);
BENCHMARK(look_up)->Unit(benchmark::kNanosecond);
BENCHMARK(curve_of_a_temperature)->Unit(benchmark::kMicrosecond);
BENCHMARK(whole_day)->Unit(benchmark::kMicrosecond);

}  // namespace
}  // namespace drawoff::transients
