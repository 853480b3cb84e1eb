// What the solvers pay for water: the curve's evaluation and making, conductivity, the full model.
#include <benchmark/benchmark.h>

#include "water/conductivity.h"
#include "water/osmotic_curve.h"
#include "water/pitzer.h"
#include "water/waters_test.h"

namespace drawoff::water {
namespace {

const units::Temperature kTemperature = units::celsius(20);

void curve_pressure(benchmark::State& state) {
  const OsmoticCurve curve(gypsum_water(), kTemperature);
  double s = 0.0;
  for (auto _ : state) {
    s = s < 10.0 ? s + 0.01 : 0.01;
    benchmark::DoNotOptimize(curve.pressure(s, kTemperature.si()));
  }
}
BENCHMARK(curve_pressure);

void curve_pressure_with_derivatives(benchmark::State& state) {
  using Scalar = numerics::Dual<4>;
  const OsmoticCurve curve(gypsum_water(), kTemperature);
  const Scalar t(kTemperature.si());
  double s = 0.0;
  for (auto _ : state) {
    s = s < 10.0 ? s + 0.01 : 0.01;
    benchmark::DoNotOptimize(curve.pressure(Scalar::variable(s, 0), t));
  }
}
BENCHMARK(curve_pressure_with_derivatives);

void curve_making(benchmark::State& state) {
  const Composition c = gypsum_water();
  for (auto _ : state) benchmark::DoNotOptimize(OsmoticCurve(c, kTemperature));
}
BENCHMARK(curve_making);

void model_pressure(benchmark::State& state) {
  const Composition c = gypsum_water();
  for (auto _ : state) benchmark::DoNotOptimize(osmotic_pressure(c, kTemperature));
}
BENCHMARK(model_pressure);

void conductivity_of_a_gypsum_water(benchmark::State& state) {
  const Composition c = gypsum_water();
  for (auto _ : state) benchmark::DoNotOptimize(conductivity(c, kTemperature));
}
BENCHMARK(conductivity_of_a_gypsum_water);

}  // namespace
}  // namespace drawoff::water
