#include "transients/pressure_hold.h"

#include <gtest/gtest.h>

#include <cmath>

#include "machine/example_entry_test.h"
#include "numerics/random.h"
#include "numerics/sample.h"

namespace drawoff::transients {
namespace {

using units::bar;

HoldTest test_of(double start, double end, double minutes, double before = 5) {
  return {.start = bar(start),
          .end = bar(end),
          .time = units::Time(60 * minutes),
          .before = units::Time(60 * before),
          .resolution = bar(0.1)};
}
double middle(const std::vector<double>& draws, double p = 0.5) {
  return numerics::quantile(numerics::sorted(draws), p);
}
// Three litres in housings, a little tube, the usual air.
ShutIn unit() { return shut_in(units::Volume(3e-3), 0.1e-3, std::nullopt); }

// Boyle alone: rigid walls and a bubble.
TEST(PressureHold, rigid_walls_and_air_obey_boyle) {
  const HoldDraw draw{.line = {.compliance = 0, .air = 100e-6}};
  // The header's check value, to its printed digits, in ten minutes.
  EXPECT_NEAR(leak(draw, test_of(4, 3, 10)) * 600e6, 5.036, 5e-4);
  // And p V = constant of the bubble itself: at 4 bar it is V_a p_a/(p + p_a).
  const double before = 100 * 1.01325 / 5.01325;
  const double after = 100 * 1.01325 / 4.01325;
  EXPECT_NEAR(leak(draw, test_of(4, 3, 10)) * 600e6, after - before, 1e-9);
  EXPECT_NEAR(tight_fall(draw, test_of(4, 3, 10)), 0, 1e-6);  // a rounding of 4e5 Pa
}

TEST(PressureHold, walls_alone_lose_pressure_in_proportion) {
  const HoldDraw draw{.line = {.compliance = 3e-11}};                   // 3 mL/bar
  EXPECT_NEAR(leak(draw, test_of(4, 3.5, 10)) * 3.6e9, 1.5 * 6, 1e-9);  // 1.5 mL in ten minutes
}

TEST(PressureHold, creep_goes_with_the_logarithm_of_time) {
  const HoldDraw draw{.line = {.compliance = 3e-11}, .creeping = 3e-11, .creep = 0.1};
  // Ten times the time under load: a tenth of the pressure where all the give is the walls'.
  EXPECT_NEAR(tight_fall(draw, test_of(4, 4, 9, 1)), 0.4e5, 1e-6);
  EXPECT_NEAR(tight_fall(draw, test_of(4, 4, 99, 1)), 0.8e5, 1e-6);
  // That fall is no leak.
  EXPECT_NEAR(leak(draw, test_of(4, 3.6, 9, 1)) * 3.6e9, 0, 1e-6);
}

TEST(PressureHold, a_leak_and_its_fall_are_one_anothers_inverse) {
  numerics::Random random(7);
  for (int i = 0; i < 500; ++i) {
    const HoldDraw draw{.line = {.compliance = random.uniform(0.1, 5) * 1e-11,
                                 .air = random.uniform(0, 100) * 1e-6},
                        .creeping = random.uniform(0, 2) * 1e-11,
                        .creep = random.uniform(0, 0.2),
                        .swelling = random.uniform(-0.2, 0.2) * 1e-6,
                        .misread = random.uniform(-0.1, 0.1) * 1e5};
    HoldTest test = test_of(random.uniform(2, 6), 0, random.uniform(1, 60));
    const double fall = tight_fall(draw, test);
    if (fall >= test.start.si()) continue;
    test.end = test.start - units::Pressure(fall);
    // Of a volume of millilitres in minutes [m³/s]: 1e-9 of 1e-6/60.
    EXPECT_NEAR(leak(draw, test), 0, 1e-17);
    test.end = test.end - bar(0.1);
    EXPECT_GT(leak(draw, test), 0);
  }
}

TEST(PressureHold, no_fall_is_tight_and_a_great_one_leaks) {
  const Held tight = held(unit(), test_of(4, 4, 10), 1);
  EXPECT_EQ(tight.verdict, HoldVerdict::kTight);
  EXPECT_LT(middle(tight.leak) * 3.6e9, 3);  // mL/h: less than a drop a minute
  ASSERT_TRUE(tight.smallest);
  const Held leaks = held(unit(), test_of(4, 1, 10), 1);
  EXPECT_EQ(leaks.verdict, HoldVerdict::kLeaks);
  EXPECT_GT(middle(leaks.leak, 0.05), 0);
  EXPECT_NEAR(*leaks.smallest, *tight.smallest, 1e-18);  // of the test, not of what it found
}

TEST(PressureHold, the_verdict_grows_with_the_fall) {
  const auto rank = [](HoldVerdict v) { return static_cast<int>(v); };
  int before = rank(HoldVerdict::kTight);
  bool may = false;
  for (double end = 4; end > 1; end -= 0.05) {
    const auto now = held(unit(), test_of(4, end, 10), 1).verdict;
    EXPECT_GE(rank(now), before);
    before = rank(now);
    may = may || now == HoldVerdict::kMayLeak;
  }
  EXPECT_TRUE(may);
  EXPECT_EQ(before, rank(HoldVerdict::kLeaks));
}

// Units drawn as the test takes them to be, without a leak and with the smallest that it finds.
TEST(PressureHold, tight_units_pass_and_the_smallest_leak_is_found) {
  // Another seed draws other units of the same kind.
  const Held known = held(unit(), test_of(4, 4, 10), 1);
  const Held others = held(unit(), test_of(4, 4, 10), 2);
  const double most = middle(known.tight_fall, 0.95);
  int passed = 0;
  for (const double fall : others.tight_fall) passed += fall <= most ? 1 : 0;
  const auto n = static_cast<double>(others.tight_fall.size());
  // Both ends are drawn: ±2.58 √2 standard deviations of the binomial distribution, 99 %.
  const double region = 2.58 * std::sqrt(2 * 0.95 * 0.05 / n);
  EXPECT_NEAR(passed / n, 0.95, region);
  HoldTest just = test_of(4, 4, 10);
  just.end = just.start - units::Pressure(most);
  // In a unit that leaks so much the gauge falls further wherever its own leak to that fall is
  // less.
  int found = 0;
  for (const double q : held(unit(), just, 2).leak) found += q <= *known.smallest ? 1 : 0;
  EXPECT_NEAR(found / n, 0.95, region);
}

TEST(PressureHold, standing_longer_before_and_holding_longer_show_smaller_leaks) {
  const double hasty = *held(unit(), test_of(4, 4, 10, 1), 1).smallest;
  const double rested = *held(unit(), test_of(4, 4, 10, 60), 1).smallest;
  const double longer = *held(unit(), test_of(4, 4, 30, 60), 1).smallest;
  EXPECT_LT(rested, hasty);
  EXPECT_LT(longer, rested);
  const ShutIn airy = shut_in(units::Volume(3e-3), 0, units::Volume(500e-6));
  EXPECT_GT(*held(airy, test_of(4, 4, 10, 60), 1).smallest, rested);
}

TEST(PressureHold, what_says_nothing_says_so) {
  ShutIn with_tank = unit();
  with_tank.tank = true;
  EXPECT_EQ(held(with_tank, test_of(4, 3.9, 10), 1).verdict, HoldVerdict::kTankOpen);
  EXPECT_EQ(held(unit(), test_of(4, 6, 10), 1).verdict, HoldVerdict::kRose);
  const ShutIn full = shut_in(units::Volume(3e-3), 0, units::Volume(0));
  const Held hopeless = held(full, test_of(0.2, 0, 2880, 0.5), 1);
  EXPECT_EQ(hopeless.verdict, HoldVerdict::kCannotTell);
  EXPECT_FALSE(hopeless.smallest);
}

TEST(PressureHold, a_machine_holds_what_its_parts_hold) {
  auto m = machine::full_plates();
  const ShutIn before = shut_in(m, std::nullopt);
  EXPECT_GT(before.water, 1e-3);
  m.filters.push_back({.kind = machine::FilterKind::kSediment});
  const ShutIn after = shut_in(m, std::nullopt);
  // A housing: 0.7 L and 30 mL of air (data/tolerances.csv).
  EXPECT_NEAR(after.water - before.water, 0.7e-3, 1e-12);
  EXPECT_NEAR(after.air - before.air, 30e-6, 1e-12);
  // A plastic litre gives about a millilitre a bar: thin wall, a (5/2 − 2 ν)/(E t) of a housing is
  // 1.01e-8/Pa; the thick wall a tenth less or more.
  EXPECT_NEAR((after.plastic - before.plastic) / 0.7e-3, 1.01e-8, 0.15e-8);
  EXPECT_TRUE(after.tank);
  m.product.vessel = machine::ProductVessel::kJug;
  EXPECT_FALSE(shut_in(m, std::nullopt).tank);
}

}  // namespace
}  // namespace drawoff::transients
