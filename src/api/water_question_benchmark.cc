// calc water on a full analysis, asked and answered as JSON objects. Bound on the project's 2-core
// machines: 100 µs.
#include <benchmark/benchmark.h>

#include "api/api.h"
#include "base/check.h"
#include "fields/json.h"

namespace drawoff::api {
namespace {

// A hard groundwater with everything that scales; the pH of another temperature.
void water_question(benchmark::State& state) {
  const auto input = fields::parse_json(R"({"temperature_C": 12, "pH": 7.3, "pH_at_C": 25,
      "ions_mg_L": {"Ca": 115, "Mg": 25, "Na": 44, "K": 3, "Ba": 0.06, "Sr": 0.4, "HCO3": 300,
                    "Cl": 86, "SO4": 114, "NO3": 28, "F": 0.8, "SiO2": 14}})");
  CHECK(input);
  for (auto _ : state) {
    auto answer = ask({.name = "water", .input = *input});
    CHECK(answer);
    benchmark::DoNotOptimize(answer);
  }
}
BENCHMARK(water_question);

}  // namespace
}  // namespace drawoff::api
