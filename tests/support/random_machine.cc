#include "support/random_machine.h"

#include <algorithm>
#include <cmath>

#include "base/check.h"
#include "membrane/sizes.h"

namespace drawoff::support {

namespace {

using namespace units;
using machine::MachineEntry;
using machine::Parameter;
using numerics::Random;
using water::Species;

// Uniform in the logarithm.
double log_uniform(Random& random, double low, double high) {
  return low * std::pow(high / low, random.uniform());
}

machine::TubeEntry tube(Random& random) {
  return {.length = metre(log_uniform(random, 0.2, 40)),
          .bore = millimetre(log_uniform(random, 2.5, 13)),
          .minor_loss = random.uniform(0, 30)};
}

// Every further part that a machine may have, fitting or not. `product` of its membranes [L/h].
void add_further_parts(Random& random, double product, MachineEntry& e) {
  using namespace machine;
  if (random.chance(0.1)) {
    e.raw_tank = RawTankEntry{.volume = litre(200), .level = metre(random.uniform(-3, 20))};
  }
  if (random.chance(0.2)) {
    e.regulator = RegulatorEntry{.set_pressure = bar(random.uniform(0.3, 6)),
                                 .droop = bar(random.chance(0.3) ? 0 : random.uniform(0, 3)),
                                 .flow = litre_per_hour(log_uniform(random, 10, 3000))};
  }
  if (random.chance(0.3)) {
    e.solenoid = SolenoidEntry{.flow = litre_per_hour(log_uniform(random, 30, 3000)),
                               .loss = bar(log_uniform(random, 0.005, 1))};
  }
  if (random.chance(0.2)) e.hydraulic_shut_off = HydraulicShutOffEntry{};
  if (random.chance(0.2)) e.filters.push_back({.kind = FilterKind::kSoftener});
  if (random.chance(0.2)) e.filters.push_back({.kind = FilterKind::kMineral});
  if (random.chance(0.2)) e.filters.push_back({.kind = FilterKind::kUv});
  if (e.pump) {
    constexpr PumpKind kPumps[] = {PumpKind::kDiaphragm, PumpKind::kVane, PumpKind::kMultistage};
    e.pump->kind = kPumps[random.below(3)];
    if (e.pump->kind == PumpKind::kMultistage) {
      e.pump->bypass_pressure = e.pump->rated_pressure * random.uniform(1.02, 2);
    }
    if (random.chance(0.3)) {
      e.pump->count = 1 + random.below(3);
      e.pump->arrangement = random.chance(0.5) ? Arrangement::kSeries : Arrangement::kParallel;
    }
    if (random.chance(0.3)) {
      e.pump->voltage = volt(24 * random.uniform(0.3, 1.2));
    }
    if (random.chance(0.4)) {
      e.recirculation = RecirculationEntry{
          .full_open_flow = litre_per_hour(product * log_uniform(random, 0.05, 20)),
          .opening = random.chance(0.1) ? 0 : random.uniform()};
    }
  }
  while (random.chance(0.3) && static_cast<int>(e.element.positions.size()) <
                                   e.element.in_series * e.element.in_parallel) {
    e.element.positions.push_back({.water_permeability = log_uniform(random, 0.02, 4),
                                   .salt_permeability = log_uniform(random, 0.1, 20)});
  }
  if (random.chance(0.2)) e.element.run_time = hour(log_uniform(random, 0.1, 1000));
  if (random.chance(0.3)) {
    e.flush_valve = FlushValveEntry{.flow = litre_per_hour(product * log_uniform(random, 0.5, 50)),
                                    .pressure = bar(random.uniform(0.5, 6))};
  }
  if (e.blend) {
    if (e.pump && random.chance(0.3)) e.blend->from = BlendFrom::kPressurised;
    if (random.chance(0.3)) e.blend->seat_leak = log_uniform(random, 1e-5, 0.2);
  }
}

MachineEntry any_machine(Random& random) {
  const auto sizes = membrane::element_sizes();
  const auto& size = sizes[static_cast<std::size_t>(random.below(static_cast<int>(sizes.size())))];
  MachineEntry e;
  e.supply = {.pressure = bar(random.chance(0.03) ? 0 : random.uniform(0, 8)),
              .height = metre(random.chance(0.5) ? 0 : random.uniform(-10, 25)),
              .tube = tube(random)};
  for (int i = random.below(4); i > 0; --i) {
    e.filters.push_back(
        {.kind = random.chance(0.3) ? machine::FilterKind::kPolish : machine::FilterKind::kSediment,
         .flow = litre_per_hour(log_uniform(random, 20, 1000)),
         .loss = bar(log_uniform(random, 0.01, 1))});
  }
  e.element = {.size = size.name,
               .permeate_flow = size.typical_flow * log_uniform(random, 0.4, 2),
               .rejection = random.uniform(0.7, 0.995),
               .test_pressure = bar(log_uniform(random, 2.5, 16)),
               .test_salt = milligram_per_litre(log_uniform(random, 150, 2000)),
               .test_temperature = celsius(random.uniform(15, 30)),
               .test_recovery = log_uniform(random, 0.05, 0.5),
               .in_series = 1 + random.below(4),
               .in_parallel = 1 + random.below(4)};
  // Parts are drawn about what the membranes make, then some of them far from it.
  const double product = (e.element.permeate_flow / litre_per_hour(1)) * e.element.in_series *
                         e.element.in_parallel;  // [L/h]
  if (random.chance(0.6)) {
    const double open = product * log_uniform(random, 1, 12);
    const double pressure = random.uniform(2, 12);
    e.pump = machine::PumpEntry{.open_flow = litre_per_hour(open),
                                .rated_flow = litre_per_hour(open * random.uniform(0.3, 0.9)),
                                .rated_pressure = bar(pressure),
                                .bypass_pressure = bar(pressure * random.uniform(1, 1.6))};
  }
  constexpr machine::RestrictorKind kKinds[] = {machine::RestrictorKind::kTrade,
                                                machine::RestrictorKind::kOrifice,
                                                machine::RestrictorKind::kCapillary};
  e.restrictor = {.flow = litre_per_hour(product * log_uniform(random, 0.5, 8)),
                  .pressure = bar(random.uniform(2, 8)),
                  .kind = kKinds[random.below(3)]};
  if (random.chance(0.2)) e.restrictor.flow = e.restrictor.flow * log_uniform(random, 0.01, 30);
  e.drain = {.tube = tube(random), .height = metre(random.chance(0.5) ? 0 : random.uniform(-5, 8))};
  if (random.chance(0.5)) {
    constexpr double kOpenings[] = {0, 0.001, 0.03, 1};
    e.blend = machine::BlendEntry{
        .full_open_flow = litre_per_hour(log_uniform(random, 1, 1000)),
        .opening = random.chance(0.5) ? random.uniform() : kOpenings[random.below(4)],
        .check_valve = bar(random.uniform(0, 0.3))};
  }
  e.product = {.check_valve = bar(random.uniform(0, 0.3)),
               .tube = tube(random),
               .height = metre(random.chance(0.4) ? 0 : random.uniform(-5, 15)),
               .vessel = machine::ProductVessel::kTank,
               .vessel_pressure = bar(random.chance(0.5) ? 0 : random.uniform(0, 5))};
  e.housing_rating = bar(random.uniform(4, 16));
  add_further_parts(random, product, e);
  return e;
}

// Near what was described for most; for the rest anything, as faults and mismatched parts do.
machine::Parameters<double> any_parameters(Random& random) {
  machine::Parameters<double> p;
  const bool far = random.chance(0.5);
  const double reach = far ? 10 : 1.3;
  for (std::size_t i = 0; i < machine::kParameterCount; ++i) {
    p[i] = log_uniform(random, 1 / reach, reach);
  }
  p[Parameter::kSupplyPressure] = far ? random.uniform(0, 1.5) : random.uniform(0.8, 1.2);
  p[Parameter::kFeedSalt] = far ? log_uniform(random, 0.3, 3) : random.uniform(0.8, 1.2);
  p[Parameter::kTemperature] = random.uniform(-2, 2);
  p[Parameter::kLeak] = random.chance(0.7) ? 0 : log_uniform(random, 1e-4, 0.3);
  p[Parameter::kProductBackPressure] = random.chance(0.7) ? 0 : random.uniform(0, 3e5);
  if (far && random.chance(0.2)) p[Parameter::kRestrictorFlow] = 0.01;  // blocked
  if (far && random.chance(0.1)) p[Parameter::kRestrictorFlow] = 30;    // as good as absent
  return p;
}

}  // namespace

water::Composition random_water(Random& random, units::Density dissolved) {
  water::Composition c;
  struct Ion {
    Species species;
    double charge;
  };
  constexpr Ion kCations[] = {
      {Species::Ca, 2}, {Species::Mg, 2}, {Species::Na, 1}, {Species::K, 1}};
  constexpr Ion kAnions[] = {
      {Species::HCO3, 1}, {Species::Cl, 1}, {Species::SO4, 2}, {Species::NO3, 1}};
  // One equivalent of cations and one of anions, in random shares.
  auto share_out = [&](std::span<const Ion> ions) {
    double sum = 0;
    for (const Ion& ion : ions) sum += c[ion.species] = log_uniform(random, 0.02, 1);
    for (const Ion& ion : ions) c[ion.species] /= sum * ion.charge;
  };
  share_out(kCations);
  share_out(kAnions);
  c[Species::SiO2] = log_uniform(random, 0.005, 0.1);
  return water::scaled(c, dissolved / water::total_dissolved(c));
}

RandomCase random_case(Random& random) {
  for (;;) {
    const MachineEntry entry = any_machine(random);
    const machine::RawWater raw{
        .composition = random_water(random, milligram_per_litre(log_uniform(random, 20, 8000))),
        .temperature = celsius(random.uniform(2, 45))};
    RandomCase result{.feed = machine::feed_of(raw, entry)};
    const auto nominal = machine::nominal(entry, result.feed);
    result.parameters = any_parameters(random);
    // A plate that contradicts itself makes no machine.
    if (nominal.status != membrane::RatingStatus::kFound) continue;
    result.machine = nominal.specimen.machine;
    result.machine.flushing = result.machine.flush_valve && random.chance(0.5);
    return result;
  }
}

TypicalCase typical_case(Random& random) {
  struct Kind {
    const char* size;
    double flow;      // [L/h] of the plate
    double pressure;  // [bar] of the plate
    bool pump;
  };
  constexpr Kind kKinds[] = {{"1812", 8, 4.1, false},
                             {"2012", 14, 4.1, false},
                             {"2012", 12, 4.1, true},
                             {"3012", 50, 5.5, true},
                             {"3013", 55, 5.5, true},
                             {"2540", 100, 7.6, true}};
  const Kind& kind = kKinds[random.below(6)];
  const bool bare = random.chance(0.4);

  TypicalCase t;
  auto& w = t.survey.water;
  const auto ions = random_water(random, milligram_per_litre(log_uniform(random, 150, 1500)));
  for (int i = 0; i < water::kSpeciesCount; ++i) {
    const Species species = water::species_at(i);
    if (ions[species] > 0) {
      w.ions.constituents[static_cast<std::size_t>(i)] =
          water::measured(units::Density(ions[species] * water::molar_mass_of(species)));
    }
  }
  w.temperature = celsius(random.uniform(8, 28));
  w.ph = random.uniform(6.8, 8.2);

  MachineEntry& e = t.entry;
  e.supply = {.pressure = bar(kind.pump ? random.uniform(1.5, 4) : random.uniform(3, 5)),
              .tube = {.length = metre(random.uniform(1, 8)), .bore = millimetre(6.35)}};
  const double need = kind.pump ? 4 * kind.flow : 3.5 * kind.flow;  // [L/h]
  e.filters = {{.kind = machine::FilterKind::kSediment},
               {.kind = machine::FilterKind::kCarbon},
               {.kind = machine::FilterKind::kPolish,
                .flow = litre_per_hour(4 * kind.flow),
                .loss = bar(0.05)}};
  e.element.size = kind.size;
  e.element.permeate_flow = litre_per_hour(kind.flow);
  e.element.test_pressure = bar(kind.pressure);
  if (!bare) {
    e.element.rejection = random.uniform(0.93, 0.98);
    if (random.chance(0.5)) e.element.rejection_is = machine::RejectionKind::kMinimum;
    e.element.test_salt = milligram_per_litre(500);
    e.element.test_temperature = celsius(25);
    e.element.test_recovery = 0.15;
  }
  if (kind.pump) {
    const double pressure = random.uniform(4, 6);
    e.pump = machine::PumpEntry{.open_flow = litre_per_hour(1.6 * need),
                                .rated_flow = litre_per_hour(need),
                                .rated_pressure = bar(pressure),
                                .bypass_pressure = bar(pressure * 1.4)};
  }
  e.restrictor = {.flow = litre_per_hour(kind.flow * random.uniform(2, 3.5)),
                  .pressure = bar(kind.pump ? 6 : 4)};
  if (random.chance(0.5)) {
    e.blend = machine::BlendEntry{.full_open_flow = litre_per_hour(kind.flow),
                                  .opening = random.uniform(0.01, 0.1)};
  }
  e.product.height = metre(random.uniform(0, 2));
  e.product.tube = {.length = metre(random.uniform(1, 6)), .bore = millimetre(6.35)};
  if (random.chance(0.4)) {
    e.product.vessel = machine::ProductVessel::kTank;
    e.product.vessel_pressure = bar(random.uniform(0.5, 2));
  }
  e.housing_rating = bar(12);
  return t;
}

}  // namespace drawoff::support
