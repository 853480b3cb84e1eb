// 64 likely waters from five readings. Bound on the project's 2-core machines: 50 ms; in
// WebAssembly 200 ms.
#include <benchmark/benchmark.h>

#include "water/half_known.h"

namespace drawoff::water {
namespace {

void likely_waters_of_five_readings(benchmark::State& state) {
  const auto mg_l = [](double x) { return units::milligram_per_litre(x).si(); };
  const HalfKnown known{
      .readings = {{.of = Known::kConductivity,
                    .value = units::microsiemens_per_cm(700).si(),
                    .sigma = 0.02},
                   {.of = Known::kPh, .value = 7.4, .sigma = 0.2},
                   {.of = Known::kHardness, .value = mg_l(240), .sigma = mg_l(20)},
                   {.of = Known::kAlkalinity, .low = mg_l(120), .high = mg_l(250)},
                   {.of = Known::kNitrate, .low = mg_l(10), .high = mg_l(25)}}};
  for (auto _ : state) benchmark::DoNotOptimize(likely_waters(known, 1));
}
BENCHMARK(likely_waters_of_five_readings)->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace drawoff::water
