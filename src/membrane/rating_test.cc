#include "membrane/rating.h"

#include <gtest/gtest.h>

#include <cmath>

#include "base/reference_table.h"
#include "membrane/sizes.h"
#include "numerics/random.h"

namespace drawoff::membrane {
namespace {

using units::bar;
using units::celsius;
using units::litre_per_hour;
using units::milligram_per_litre;

// A plate as the trade writes them: 5 to 40 L/(m²·h) at 3 to 12 bar.
RatingTest random_plate(numerics::Random& random, const ElementSize& size) {
  return {.permeate_flow = litre_per_hour(size.channel.area.si() * random.uniform(5, 40)),
          .rejection = random.uniform(0.85, 0.995),
          .pressure = bar(random.uniform(3, 12)),
          .salt = milligram_per_litre(random.uniform(200, 2000)),
          .temperature = celsius(random.uniform(10, 30)),
          .recovery = random.uniform(0.08, 0.3)};
}

ElementResult<double> run(const RatingTest& test,
                          const RatingWater& water,
                          const RatingAssumptions& assumed,
                          const Rating& rating) {
  const double t = test.temperature.si();
  const double feed = test.permeate_flow.si() / test.recovery;
  return pass_element(
      assumed.channel,
      Membrane<double>{rating.water.si() * arrhenius(assumed.coefficients.water, t),
                       rating.salt.si() * arrhenius(assumed.coefficients.salt, t),
                       0.0,
                       assumed.mass_transfer,
                       assumed.channel_friction},
      Surroundings<double>{
          .osmotic = &water.osmotic, .temperature = t, .fluid = water.fluid, .law = assumed.law},
      {feed, feed, test.pressure.si()});
}

// water_iapws.csv tabulates exp[K (1/298.15 − 1/T)] for two coefficients, to four decimals.
TEST(Rating, temperature_factors_match_the_table) {
  const auto table = base::reference_table("water_iapws.csv");
  ASSERT_GE(table.rows(), 8U);
  for (std::size_t row = 0; row < table.rows(); ++row) {
    SCOPED_TRACE(row);
    const double t = celsius(table.number(row, "T_C")).si();
    EXPECT_NEAR(arrhenius(2500.0, t), table.number(row, "exp[2500"), 5.1e-5);
    EXPECT_NEAR(arrhenius(3000.0, t), table.number(row, "exp[3000"), 5.1e-5);
  }
  EXPECT_EQ(arrhenius(2700.0, 298.15), 1);
  EXPECT_EQ(arrhenius(0.0, 280.0), 1);
}

// Plate -> A, B -> element -> plate. The inversion ends at 1e-12 in the logarithms, the element at
// 1e-11 in its steps: 1e-9 leaves room for badly conditioned plates.
TEST(Rating, element_gives_back_its_plate) {
  constexpr double kRoundTrip = 1e-9;
  int found = 0;
  int asked = 0;
  for (const ElementSize& size : element_sizes()) {
    for (std::uint64_t i = 0; i < 60; ++i) {
      SCOPED_TRACE(size.name + " " + std::to_string(i));
      numerics::Random random(41, i);
      const RatingTest test = random_plate(random, size);
      const RatingWater water = rating_water(test);
      const RatingAssumptions assumed{
          .channel = size.channel,
          .law = random.chance(0.5) ? MassTransferLaw::kJoined : MassTransferLaw::kSchockMiquel,
          .mass_transfer = std::exp(size.mass_transfer_spread * random.normal()),
          .channel_friction = std::exp(0.3 * random.normal()),
          .coefficients = {random.uniform(2000, 3300), random.uniform(2000, 3300)}};
      const Rating rating = invert_rating(test, water, assumed);
      ++asked;
      // A strong plate on a badly mixed channel may be beyond any membrane; that is said, not
      // solved.
      if (rating.status != RatingStatus::kFound) continue;
      ++found;
      const auto result = run(test, water, assumed, rating);
      ASSERT_EQ(result.status, ElementStatus::kSolved);
      EXPECT_NEAR(result.permeate_flow / test.permeate_flow.si(), 1, kRoundTrip);
      EXPECT_NEAR(
          result.permeate_salt / result.permeate_flow / (1 - test.rejection), 1, kRoundTrip);
    }
  }
  EXPECT_GT(found, 0.9 * asked);
}

// The plate is paid back: poorer mixing assumed on it means a better membrane, never the same.
TEST(Rating, poorer_mixing_means_a_better_membrane) {
  const auto& size = *find_element_size("2012");
  const RatingTest test{.permeate_flow = litre_per_hour(12),
                        .rejection = 0.96,
                        .pressure = bar(4.1),
                        .salt = milligram_per_litre(500),
                        .temperature = celsius(25)};
  const RatingWater water = rating_water(test);
  const auto at = [&](double mixing) {
    return invert_rating(test, water, {.channel = size.channel, .mass_transfer = mixing});
  };
  const Rating usual = at(1);
  const Rating poor = at(0.6);
  ASSERT_EQ(usual.status, RatingStatus::kFound);
  ASSERT_EQ(poor.status, RatingStatus::kFound);
  EXPECT_GT(poor.water.si(), usual.water.si());
  EXPECT_LT(poor.salt.si(), 0.8 * usual.salt.si());
}

// A membrane is the same whatever the plate's temperature: two plates that one membrane makes at
// 15 and at 25 °C are inverted to it.
TEST(Rating, finds_the_membrane_behind_plates_of_two_temperatures) {
  const auto& size = *find_element_size("2540");
  const RatingAssumptions assumed{.channel = size.channel};
  const Rating truth{.water = units::litre_per_m2_h_bar(3.4), .salt = units::litre_per_m2_h(0.25)};
  for (const double t : {15.0, 25.0}) {
    RatingTest test{.permeate_flow = litre_per_hour(60),
                    .rejection = 0.9,
                    .pressure = bar(7),
                    .salt = milligram_per_litre(500),
                    .temperature = celsius(t)};
    const RatingWater water = rating_water(test);
    const double feed = test.permeate_flow.si() / test.recovery;
    const auto made = run(test, water, assumed, truth);
    ASSERT_EQ(made.status, ElementStatus::kSolved);
    test.permeate_flow = units::VolumeFlow(made.permeate_flow);
    test.rejection = 1 - made.permeate_salt / made.permeate_flow;
    test.recovery = made.permeate_flow / feed;
    const Rating rating = invert_rating(test, water, assumed);
    ASSERT_EQ(rating.status, RatingStatus::kFound);
    EXPECT_NEAR(rating.water / truth.water, 1, 1e-9);
    EXPECT_NEAR(rating.salt / truth.salt, 1, 1e-9);
  }
}

// No pressure left above the osmotic one at such a rejection: 2 g/L of NaCl has 1.55 bar.
TEST(Rating, contradicting_plate_is_a_status) {
  const auto& size = *find_element_size("2540");
  const RatingTest test{.permeate_flow = litre_per_hour(100),
                        .rejection = 0.98,
                        .pressure = bar(1.4),
                        .salt = milligram_per_litre(2000),
                        .temperature = celsius(25)};
  EXPECT_EQ(invert_rating(test, rating_water(test), {.channel = size.channel}).status,
            RatingStatus::kContradicts);
}

// Every trade size is listed once, with a flow that its area and usual plates bear out: between 8
// and 40 L/(m²·h) (common practice, no source).
TEST(Sizes, are_known_by_name_and_plausible) {
  EXPECT_EQ(element_sizes().size(), 9U);
  for (const ElementSize& size : element_sizes()) {
    EXPECT_EQ(find_element_size(size.name), &size);
    const double flux = size.typical_flow.si() / size.channel.area.si() * 3.6e6;
    EXPECT_GT(flux, 8) << size.name;
    EXPECT_LT(flux, 40) << size.name;
    EXPECT_GT(size.area_spread, 0);
    EXPECT_GT(size.mass_transfer_spread, 0);
  }
  EXPECT_EQ(find_element_size("2013"), nullptr);
}

}  // namespace
}  // namespace drawoff::membrane
