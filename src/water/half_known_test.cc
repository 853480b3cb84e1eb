#include "water/half_known.h"

#include <gtest/gtest.h>

#include <cmath>
#include <vector>

#include "numerics/random.h"
#include "numerics/sample.h"
#include "water/natural_waters.h"

namespace drawoff::water {
namespace {

double microsiemens(double x) { return units::microsiemens_per_cm(x).si(); }
double mg_l(double x) { return units::milligram_per_litre(x).si(); }

struct Width {
  double low, middle, high;
};
Width width(const LikelyWaters& waters, Known of) {
  std::vector<double> values;
  for (const Speciation& w : waters.members) values.push_back(quantity_of(of, w));
  const auto ordered = numerics::sorted(values);
  return {numerics::quantile(ordered, 0.05),
          numerics::quantile(ordered, 0.5),
          numerics::quantile(ordered, 0.95)};
}

// No charge is missing, whatever was read.
TEST(HalfKnown, waters_are_electroneutral) {
  for (const double fluoride : {0.1, 20.0}) {
    const LikelyWaters waters = likely_waters(
        {.temperature = units::celsius(20),
         .readings = {{.of = Known::kConductivity, .value = microsiemens(300), .sigma = 0.02},
                      {.of = Known::kFluoride, .value = mg_l(fluoride), .sigma = mg_l(0.1)}}},
        1);
    ASSERT_EQ(waters.members.size(), 64U);
    for (const Speciation& w : waters.members) {
      // In the totals over complexes; H3SiO4- and the like are counted with OH.
      const double cations = equivalents_cations(w.total).si();
      const double anions = equivalents_anions(w.total).si();
      EXPECT_NEAR(cations, anions, 1e-3 * cations);
    }
  }
}

// A reading narrows what it is of, and what goes with it.
TEST(HalfKnown, readings_are_honoured) {
  HalfKnown known{
      .temperature = units::celsius(20),
      .readings = {{.of = Known::kConductivity, .value = microsiemens(600), .sigma = 0.02}}};
  const Width before = width(likely_waters(known, 1), Known::kHardness);
  const Width conductivity = width(likely_waters(known, 1), Known::kConductivity);
  // 2 % of the meter and 3 % of the model: 90 % within 1.645 · 3.6 % of the reading, the ends known
  // to about 2 % from 64.
  EXPECT_NEAR(conductivity.low / microsiemens(600), 0.94, 0.025);
  EXPECT_NEAR(conductivity.high / microsiemens(600), 1.06, 0.025);
  known.readings.push_back({.of = Known::kHardness, .value = mg_l(200), .sigma = mg_l(10)});
  const Width after = width(likely_waters(known, 1), Known::kHardness);
  EXPECT_GT(before.high - before.low, 4 * (after.high - after.low));
  EXPECT_NEAR(after.middle, mg_l(200), mg_l(6));
  EXPECT_NEAR(after.high - after.low, 2 * numerics::kNormal95 * mg_l(10), mg_l(10));
}

// A strip between two colours: the water is in the field or an eye's error beside it.
TEST(HalfKnown, a_field_holds_the_water) {
  const Width field = width(
      likely_waters(
          {.readings = {{.of = Known::kConductivity, .value = microsiemens(600), .sigma = 0.02},
                        {.of = Known::kNitrate, .low = mg_l(10), .high = mg_l(25)}}},
          1),
      Known::kNitrate);
  EXPECT_GT(field.low, mg_l(10 * std::exp(-2 * 0.2)));
  EXPECT_LT(field.high, mg_l(25 * std::exp(2 * 0.2)));
  const Width below = width(
      likely_waters({.readings = {{.of = Known::kIron, .high = mg_l(0.1)}}}, 1), Known::kIron);
  EXPECT_LT(below.high, mg_l(0.1 * std::exp(2 * 0.2)));
}

// Hardness beyond what the meter allows: 600 µS/cm carry no 900 mg/L as CaCO3 (18 meq/L).
TEST(HalfKnown, what_cannot_be_is_seen) {
  const HalfKnown known{
      .readings = {{.of = Known::kConductivity, .value = microsiemens(600), .sigma = 0.02},
                   {.of = Known::kHardness, .value = mg_l(900), .sigma = mg_l(30)}}};
  const LikelyWaters waters = likely_waters(known, 1);
  EXPECT_GT(std::fmax(std::fabs(waters.misfit[0]), std::fabs(waters.misfit[1])), 2.58);
  HalfKnown sound = known;
  sound.readings[1].value = mg_l(220);
  for (const double misfit : likely_waters(sound, 1).misfit) EXPECT_LT(std::fabs(misfit), 1);
}

// From rain to brackish, from acid to alkaline, all readings at once: every member is a water.
TEST(HalfKnown, every_reading_gives_waters) {
  for (std::uint64_t i = 0; i < 40; ++i) {
    SCOPED_TRACE(i);
    numerics::Random random(5, i);
    const auto test = [&](Known of, double low, double high) {
      const double value = mg_l(std::exp(random.uniform(std::log(low), std::log(high))));
      return KnownReading{.of = of, .value = value, .sigma = 0.1 * value};
    };
    const LikelyWaters waters = likely_waters(
        {.temperature = units::celsius(random.uniform(1, 45)),
         .readings = {{.of = Known::kConductivity,
                       .value = microsiemens(std::exp(random.uniform(std::log(5), std::log(2e4)))),
                       .sigma = 0.01},
                      {.of = Known::kPh, .value = random.uniform(4, 10), .sigma = 0.1},
                      test(Known::kHardness, 1, 2000),
                      test(Known::kAlkalinity, 1, 1000),
                      test(Known::kChloride, 1, 5000),
                      test(Known::kSulfate, 1, 3000),
                      test(Known::kNitrate, 0.1, 300),
                      test(Known::kFluoride, 0.01, 20),
                      test(Known::kIron, 0.001, 30)}},
        i);
    for (const Speciation& w : waters.members) {
      EXPECT_TRUE(std::isfinite(w.ph));
      EXPECT_GT(w.ionic_strength, 0);
      for (const double c : w.free.mol_m3) EXPECT_GE(c, 0);
    }
  }
}

TEST(HalfKnown, the_same_seed_gives_the_same_waters) {
  const HalfKnown known{
      .readings = {{.of = Known::kConductivity, .value = microsiemens(600), .sigma = 0.02}}};
  EXPECT_EQ(likely_waters(known, 3).members[5].total, likely_waters(known, 3).members[5].total);
  EXPECT_NE(likely_waters(known, 3).members[5].total, likely_waters(known, 4).members[5].total);
}

}  // namespace
}  // namespace drawoff::water
