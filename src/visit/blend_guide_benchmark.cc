// One answer of the blend guide, as it is asked after each reading on a phone.
#include "visit/blend_guide.h"

#include <benchmark/benchmark.h>

#include "base/check.h"

namespace drawoff::visit {
namespace {

void blend_guide_after_readings(benchmark::State& state) {
  BlendSetting s{.raw = 600, .permeate = 20, .turns_open = 5};
  const BlendReading readings[] = {{.turns = 2, .product = 160}, {.turns = 0.5, .product = 45}};
  for (int i = 0; i < state.range(0); ++i) s.readings.push_back(readings[i]);
  for (auto _ : state) {
    const BlendGuide g = blend_guide(s);
    CHECK(g.standing == BlendStanding::kTurn);
    benchmark::DoNotOptimize(g.to);
  }
}
BENCHMARK(blend_guide_after_readings)->Arg(0)->Arg(1)->Arg(2)->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace drawoff::visit
