#include "machine/ensemble.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "machine/example_entry_test.h"
#include "machine/example_test.h"
#include "machine/readings.h"
#include "machine/tolerances.h"
#include "numerics/sample.h"
#include "water/properties.h"

namespace drawoff::machine {
namespace {

constexpr int kCount = 1500;
constexpr std::uint64_t kSeed = 42;

const RawWater& raw_water() {
  static const RawWater raw{.composition = hard_water(), .temperature = units::celsius(18)};
  return raw;
}
const Feed& feed() {
  static const Feed f = feed_of(raw_water());
  return f;
}
std::vector<Specimen> drawn(const MachineEntry& entry,
                            int count = kCount,
                            std::uint64_t seed = kSeed) {
  return specimens(entry, raw_water(), feed(), seed, count);
}

template <class F>
std::vector<double> sorted_of(const std::vector<Specimen>& specimens, F&& number) {
  std::vector<double> values;
  for (const Specimen& s : specimens) values.push_back(number(s));
  return numerics::sorted(values);
}
double log_spread(const std::vector<double>& sorted) {
  return std::log(numerics::quantile(sorted, 0.84) / numerics::quantile(sorted, 0.16)) / 2;
}

// A sample quantile at p errs by √(p(1−p)/n)/f, f the density there. With n draws of a normal of
// spread σ: 1.25 σ/√n at the median, 2.11 σ/√n at 5 % and 95 %. Four of those are allowed.
double median_error(double sigma) { return 4 * 1.25 * sigma / std::sqrt(double(kCount)); }
double tail_error(double sigma) { return 4 * 2.11 * sigma / std::sqrt(double(kCount)); }

TEST(Ensemble, same_seed_gives_the_same_machines) {
  const auto first = drawn(full_plates(), 20);
  const auto again = drawn(full_plates(), 20);
  const auto other = drawn(full_plates(), 20, kSeed + 1);
  ASSERT_EQ(first.size(), 20U);
  for (std::size_t i = 0; i < first.size(); ++i) {
    for (std::size_t k = 0; k < kParameterCount; ++k) {
      EXPECT_EQ(first[i].parameters[k], again[i].parameters[k]);
    }
    EXPECT_EQ(first[i].machine.membranes.water.si(), again[i].machine.membranes.water.si());
    EXPECT_NE(first[i].machine.membranes.water.si(), other[i].machine.membranes.water.si());
  }
}

// Asking for more draws leaves the first ones as they were.
TEST(Ensemble, more_draws_begin_with_the_fewer) {
  const auto few = drawn(full_plates(), 5);
  const auto many = drawn(full_plates(), 10);
  for (std::size_t i = 0; i < few.size(); ++i) {
    EXPECT_EQ(few[i].conductivity, many[i].conductivity);
    EXPECT_EQ(few[i].machine.membranes.salt.si(), many[i].machine.membranes.salt.si());
  }
}

TEST(Ensemble, medians_are_those_of_the_nominal_machine) {
  const auto all = drawn(full_plates());
  const auto median = nominal(full_plates(), feed()).specimen;
  const auto b =
      sorted_of(all, [](const Specimen& s) { return std::log(s.salt_permeability.si()); });
  EXPECT_NEAR(numerics::quantile(b, 0.5),
              std::log(median.salt_permeability.si()),
              median_error(0.5 * (numerics::quantile(b, 0.84) - numerics::quantile(b, 0.16))));
  for (const Parameter p : {Parameter::kPumpFlow,
                            Parameter::kRestrictorFlow,
                            Parameter::kFeedSalt,
                            Parameter::kPreFilterLoss}) {
    const auto values =
        sorted_of(all, [&](const Specimen& s) { return std::log(s.parameters[p]); });
    const double sigma =
        0.5 * (numerics::quantile(values, 0.84) - numerics::quantile(values, 0.16));
    EXPECT_NEAR(numerics::quantile(values, 0.5), 0, median_error(sigma));
  }
}

// A tolerance is read as the 5 % and 95 % points: restrictor ±12 % (log-normal), supply ±0.3 bar.
TEST(Ensemble, tolerances_are_the_5_and_95_percent_points) {
  const MachineEntry entry = full_plates();
  const auto all = drawn(entry);
  const auto restrictor = sorted_of(
      all, [](const Specimen& s) { return std::log(s.parameters[Parameter::kRestrictorFlow]); });
  const double allowed = tail_error(0.12 / 1.645);
  EXPECT_NEAR(numerics::quantile(restrictor, 0.05), -0.12, allowed);
  EXPECT_NEAR(numerics::quantile(restrictor, 0.95), 0.12, allowed);

  const auto supply = sorted_of(all, [&](const Specimen& s) {
    return s.parameters[Parameter::kSupplyPressure] * entry.supply.pressure / units::bar(1);
  });
  EXPECT_NEAR(numerics::quantile(supply, 0.05), 2.7, tail_error(0.3 / 1.645));
  EXPECT_NEAR(numerics::quantile(supply, 0.95), 3.3, tail_error(0.3 / 1.645));
}

// The plate's flow strays by −15 and +25 %. Put back into the plate's test, A·area follows it but
// for the little that mixing changes: the share above and below is even, the tails are not.
TEST(Ensemble, flow_tolerance_is_asymmetric) {
  const auto all = drawn(full_plates());
  const auto median = nominal(full_plates(), feed()).specimen;
  const auto product_of = [](const Specimen& s) {
    return s.machine.membranes.water.si() * s.machine.membranes.channel.area.si();
  };
  const auto ratio =
      sorted_of(all, [&](const Specimen& s) { return product_of(s) / product_of(median); });
  const double up = numerics::quantile(ratio, 0.95) - 1;
  const double down = 1 - numerics::quantile(ratio, 0.05);
  EXPECT_GT(up, 1.3 * down);
  EXPECT_NEAR(up, 0.25, 0.06);    // tail error 0.035, and the mixing
  EXPECT_NEAR(down, 0.15, 0.05);  // tail error 0.02, and the mixing
}

TEST(Ensemble, what_a_plate_does_not_say_widens_the_spread) {
  const auto full = drawn(full_plates());
  const auto bare = drawn(bare_plates());
  const auto passage = [](const Specimen& s) { return s.salt_permeability.si(); };
  EXPECT_GT(log_spread(sorted_of(bare, passage)), 1.2 * log_spread(sorted_of(full, passage)));
}

// A plate that asks for more salt water than its pressure can push.
TEST(Ensemble, a_plate_that_contradicts_itself_is_named) {
  MachineEntry entry = full_plates();
  entry.element.test_pressure = units::bar(0.5);
  entry.element.test_salt = units::milligram_per_litre(5000);
  entry.element.rejection = 0.99;
  EXPECT_EQ(nominal(entry, feed()).status, membrane::RatingStatus::kContradicts);
  EXPECT_TRUE(drawn(entry, 5).empty());
}

TEST(Ensemble, a_shut_blend_is_none) {
  MachineEntry entry = full_plates();
  entry.blend->opening = 0;
  EXPECT_FALSE(nominal(entry, feed()).specimen.machine.blend);
}

// A minimum is not a mean: typical passage is a share of what it allows (tolerances.csv).
TEST(Ensemble, a_minimum_rejection_is_read_as_a_better_membrane) {
  MachineEntry entry = full_plates();
  const double nominally = nominal(entry, feed()).specimen.salt_permeability.si();
  entry.element.rejection_is = RejectionKind::kMinimum;
  const double at_least = nominal(entry, feed()).specimen.salt_permeability.si();
  EXPECT_LT(at_least / nominally, 1);
  EXPECT_NEAR(at_least / nominally, tolerance("rejection_minimum_ratio"), 0.03);
}

// ---- Further parts ------------------------------------------------------------------------------

// What another part draws comes last: the specimens stay what they were.
TEST(Ensemble, a_further_part_leaves_the_other_draws_alone) {
  MachineEntry entry = full_plates();
  const auto plain = drawn(entry, 10);
  entry.regulator = RegulatorEntry{.set_pressure = units::bar(2.5)};
  entry.solenoid = SolenoidEntry{};
  entry.flush_valve = FlushValveEntry{.flow = units::litre_per_hour(300)};
  entry.recirculation = RecirculationEntry{.full_open_flow = units::litre_per_hour(100)};
  const auto more = drawn(entry, 10);
  ASSERT_EQ(more.size(), plain.size());
  for (std::size_t i = 0; i < plain.size(); ++i) {
    for (std::size_t k = 0; k < kParameterCount; ++k) {
      EXPECT_EQ(plain[i].parameters[k], more[i].parameters[k]);
    }
    EXPECT_EQ(plain[i].conductivity, more[i].conductivity);
  }
  EXPECT_NE(more[0].machine.regulator->set_pressure.si(),
            more[1].machine.regulator->set_pressure.si());
}

TEST(Ensemble, a_voltage_below_the_plate_slows_the_pump) {
  MachineEntry entry = full_plates();
  EXPECT_EQ(nominal(entry, feed()).specimen.machine.pump->speed, 1);
  entry.pump->voltage = units::volt(18);
  EXPECT_DOUBLE_EQ(nominal(entry, feed()).specimen.machine.pump->speed, 0.75);
  entry.pump->count = 3;
  entry.pump->arrangement = Arrangement::kParallel;
  const auto pump = *nominal(entry, feed()).specimen.machine.pump;
  EXPECT_EQ(pump.in_parallel, 3);
  EXPECT_EQ(pump.in_series, 1);
}

// ln excess e^(−t/τ): whole at the start, 1/e of it after τ, nothing after a month.
TEST(Ensemble, a_new_membrane_settles) {
  MachineEntry entry = full_plates();
  const double settled = nominal(entry, feed()).specimen.machine.membranes.water.si();
  auto excess = [&](double hours) {
    entry.element.run_time = units::hour(hours);
    return std::log(nominal(entry, feed()).specimen.machine.membranes.water.si() / settled);
  };
  EXPECT_NEAR(excess(0), tolerance("settling_flow"), 1e-12);
  EXPECT_NEAR(excess(tolerance("settling_time")), tolerance("settling_flow") / std::exp(1), 1e-12);
  EXPECT_NEAR(excess(720), 0, 1e-12);
  entry.element.run_time = units::hour(0);
  const auto fresh = nominal(entry, feed()).specimen;
  entry.element.run_time.reset();
  EXPECT_NEAR(std::log(fresh.salt_permeability / nominal(entry, feed()).specimen.salt_permeability),
              tolerance("settling_passage"),
              1e-12);
}

TEST(Ensemble, a_shut_valve_leaks_through_its_seat) {
  MachineEntry entry = full_plates();
  entry.blend->opening = 0;
  entry.blend->seat_leak = 0.002;
  const auto m = nominal(entry, feed()).specimen.machine;
  ASSERT_TRUE(m.blend);
  // 0.2 % of 100 L/h at 1 bar, by the plate's own water of 20 °C.
  const plumbing::Fluid<double> fluid{water::density(units::celsius(20)).si(),
                                      water::viscosity(units::celsius(20)).si()};
  EXPECT_NEAR(plumbing::flow_of(m.blend->valve, 1e5, fluid) * 3.6e6, 0.2, 1e-12);
  const auto shut = in_condition(m, {.blend = BlendState::kShut});
  EXPECT_TRUE(shut.blend);
}

TEST(Ensemble, a_softener_changes_what_the_membrane_is_fed_with) {
  MachineEntry entry = full_plates();
  entry.filters.push_back({.kind = FilterKind::kSoftener});
  const Feed soft = feed_of(raw_water(), entry);
  EXPECT_EQ(soft.raw, hard_water());
  EXPECT_NEAR(water::hardness(soft.composition) / water::hardness(hard_water()),
              tolerance("softener_leakage"),
              1e-12);
  // Two sodiums for one calcium: more particles, more osmotic pressure.
  EXPECT_GT(soft.water.osmotic->pressure(1, units::celsius(18)),
            feed().water.osmotic->pressure(1, units::celsius(18)));
}

}  // namespace
}  // namespace drawoff::machine
