// Bound: one element in less than 10 µs, with sixteen derivatives in less than 40 µs, one plate in
// less than 200 µs, the ions of one element in less than 40 µs, on the project's 2-core machines.
// The machine solves tens of elements for one operating point, and hundreds of operating points for
// one interval.
#include "membrane/element.h"

#include <benchmark/benchmark.h>

#include "base/check.h"
#include "membrane/ions.h"
#include "membrane/rating.h"
#include "membrane/sizes.h"
#include "numerics/dual.h"

namespace drawoff::membrane {
namespace {

const RatingTest kPlate{.permeate_flow = units::litre_per_hour(12),
                        .rejection = 0.96,
                        .pressure = units::bar(4.1),
                        .salt = units::milligram_per_litre(500),
                        .temperature = units::celsius(25)};

template <class S>
void element(benchmark::State& state) {
  const auto water = rating_water(kPlate);
  const auto& channel = find_element_size("2012")->channel;
  const Surroundings<S> around{
      .osmotic = &water.osmotic,
      .temperature = S(kPlate.temperature.si()),
      .fluid = {S(water.fluid.density), S(water.fluid.viscosity), S(water.fluid.diffusivity)}};
  const Membrane<S> membrane{S(units::litre_per_m2_h_bar(6.5).si()),
                             S(units::litre_per_m2_h(0.6).si())};
  const S flow(units::litre_per_hour(45).si());
  for (auto _ : state) {
    const auto result = pass_element(channel, membrane, around, {flow, flow, S(4.1e5)});
    CHECK(result.status == ElementStatus::kSolved);
    benchmark::DoNotOptimize(result);
  }
}

void element_value(benchmark::State& state) { element<double>(state); }
void element_with_16_derivatives(benchmark::State& state) { element<numerics::Dual<16>>(state); }

// A groundwater with twenty species.
void ions_of_an_element(benchmark::State& state) {
  using water::Species;
  water::Composition raw;
  raw[Species::Ca] = 2.5;
  raw[Species::Mg] = 0.9;
  raw[Species::Na] = 1.61;
  raw[Species::K] = 0.08;
  raw[Species::HCO3] = 5.4;
  raw[Species::Cl] = 1.4;
  raw[Species::SO4] = 0.6;
  raw[Species::NO3] = 0.48;
  for (const Species s : {Species::Sr,
                          Species::Ba,
                          Species::Fe,
                          Species::Mn,
                          Species::F,
                          Species::CO3,
                          Species::As5,
                          Species::U}) {
    raw[s] = 1e-3;
  }
  for (const Species s : {Species::SiO2, Species::CO2, Species::B, Species::As3}) raw[s] = 0.1;
  const water::OsmoticCurve curve(raw, units::celsius(25));
  const auto& channel = find_element_size("2012")->channel;
  const double b = units::litre_per_m2_h(0.6).si();
  const Surroundings<double> around{
      .osmotic = &curve, .temperature = 298.15, .fluid = {997, 0.00089, 1.3e-9}};
  const double flow = units::litre_per_hour(45).si();
  const auto element =
      pass_element(channel, {units::litre_per_m2_h_bar(6.5).si(), b}, around, {flow, flow, 4.1e5});
  CHECK(element.status == ElementStatus::kSolved);
  const PassageRatios ratios = typical_passage();
  for (auto _ : state) {
    benchmark::DoNotOptimize(pass_ions({&ratios, b}, channel, element, raw));
  }
}

void rating_plate(benchmark::State& state) {
  const auto water = rating_water(kPlate);
  const RatingAssumptions assumed{.channel = find_element_size("2012")->channel};
  for (auto _ : state) {
    const auto rating = invert_rating(kPlate, water, assumed);
    CHECK(rating.status == RatingStatus::kFound);
    benchmark::DoNotOptimize(rating);
  }
}

void rating_test_water(benchmark::State& state) {
  for (auto _ : state) benchmark::DoNotOptimize(rating_water(kPlate));
}

BENCHMARK(element_value);
BENCHMARK(element_with_16_derivatives);
BENCHMARK(ions_of_an_element);
BENCHMARK(rating_plate);
BENCHMARK(rating_test_water);

}  // namespace
}  // namespace drawoff::membrane
