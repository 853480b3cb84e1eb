#include "visit/sanitise.h"

#include <gtest/gtest.h>

#include "visit/example_test.h"

namespace drawoff::visit {
namespace {

ChlorineProduct fresh(double percent) {
  return {.strength = units::Density(10 * percent), .age = units::Time(0)};
}
double litres(const inference::Interval& i) { return i.middle * 1e3; }

// The worked examples of the shared notes on disinfection (Oregon OHA, AWWA C652 there).
TEST(Sanitise, doses_of_the_published_examples) {
  const units::Volume tank(500 * 3.785411784e-3);
  const auto target = units::milligram_per_litre(50);
  const double gallon = 3.785411784;
  EXPECT_NEAR(litres(dose_for(fresh(5), tank, target)) / gallon, 0.50, 0.005);
  EXPECT_NEAR(litres(dose_for(fresh(8.25), tank, target)) / gallon, 0.30, 0.005);
  EXPECT_NEAR(litres(dose_for(fresh(12.5), tank, target)) / gallon, 0.20, 0.005);
  EXPECT_NEAR(litres(dose_for(fresh(5), units::Volume(0.020), target)) * 1e3, 20, 0.1);
  EXPECT_NEAR(
      litres(dose_for(fresh(5.25), units::Volume(0.010), units::milligram_per_litre(200))) * 1e3,
      38.1,
      0.05);
}

TEST(Sanitise, a_product_grows_weak_with_age_warmth_and_strength) {
  ChlorineProduct p = fresh(12.5);
  p.age = units::Time(110 * 86400.0);
  p.stored = units::celsius(25);
  EXPECT_NEAR(strength_now(p).middle, 62.5, 1e-9);  // halved: what k_25 means
  EXPECT_LT(strength_now(p).low, strength_now(p).middle);
  EXPECT_GT(strength_now(p).high, strength_now(p).middle);
  const double warm = strength_now(p).middle;
  p.stored = units::celsius(10);
  EXPECT_GT(strength_now(p).middle, warm);
  ChlorineProduct weak = fresh(5);
  weak.age = p.age;
  weak.stored = units::celsius(25);
  EXPECT_GT(strength_now(weak).middle / 50, 0.5);  // of less, less is lost
  // The older the product, the more of it.
  const units::Volume tank(0.02);
  EXPECT_GT(dose_for(weak, tank, units::milligram_per_litre(50)).middle,
            dose_for(fresh(5), tank, units::milligram_per_litre(50)).middle);
}

TEST(Sanitise, holds_what_the_parts_hold) {
  auto m = wall_unit_entry();
  const double before = sanitised_volume(m).si();
  EXPECT_GT(before, 0.004);  // a cooler of 4 L and two housings
  m.filters.push_back({.kind = machine::FilterKind::kSediment});
  EXPECT_NEAR(sanitised_volume(m).si() - before, 0.7e-3, 1e-9);
}

}  // namespace
}  // namespace drawoff::visit
