// Laws of one element and its plate, for every trade size.
#include <gtest/gtest.h>

#include "machine/example_test.h"
#include "membrane/rating.h"
#include "membrane/sizes.h"
#include "water/properties.h"

namespace drawoff {
namespace {

using membrane::ElementSize;

std::vector<ElementSize> sizes() {
  const auto all = membrane::element_sizes();
  return {all.begin(), all.end()};
}

membrane::RatingTest plate(const ElementSize& size, double celsius) {
  return {.permeate_flow = size.typical_flow,
          .rejection = 0.96,
          .pressure = units::bar(6),
          .salt = units::milligram_per_litre(500),
          .temperature = units::celsius(celsius),
          .recovery = 0.15};
}

class MembraneLaws : public testing::TestWithParam<ElementSize> {
 protected:
  MembraneLaws()
      : water_(machine::feed_water(machine::hard_water(), units::celsius(20))),
        around_{.osmotic = water_.osmotic.get(),
                .temperature = water_.temperature.si(),
                .fluid = {water::density(water_.temperature).si(),
                          water::viscosity(water_.temperature).si(),
                          water_.diffusivity.si()}} {}

  machine::FeedWater water_;
  membrane::Surroundings<double> around_;
};

// The joined law is k³ = k_spacer³ + k_slit³, so k cannot fall below the slit's at any flow; the
// cube root and its cube may differ by roundings.
TEST_P(MembraneLaws, k_never_below_slit) {
  const auto& channel = GetParam().channel;
  for (double flow = 1e-9; flow < 1e-2; flow *= 1.5) {
    EXPECT_GE(
        membrane::mass_transfer(membrane::MassTransferLaw::kJoined, channel, flow, around_.fluid),
        membrane::slit_mass_transfer(channel, flow, around_.fluid) * (1 - 1e-15));
  }
}

// A membrane that holds back all salt, pressed with exactly the osmotic pressure of the stream,
// passes nothing. Tolerance: the root's own, 1e-13 of the flux without osmotic pressure.
TEST_P(MembraneLaws, flux_is_zero_at_osmotic_equilibrium) {
  const membrane::Membrane<double> tight{.water_permeability = 1e-11, .salt_permeability = 0};
  for (const double strength : {0.5, 1.0, 4.0}) {
    const double osmotic = around_.osmotic->pressure(strength, around_.temperature);
    const auto at = membrane::local_flux(tight, around_, 2e-5, strength, osmotic);
    EXPECT_NEAR(at.flux, 0, 1e-13 * tight.water_permeability * osmotic);
    EXPECT_GT(membrane::local_flux(tight, around_, 2e-5, strength, 1.1 * osmotic).flux, 0);
    EXPECT_LT(membrane::local_flux(tight, around_, 2e-5, strength, 0.9 * osmotic).flux, 0);
  }
}

// A plate turned into A and B, and these back into flow and passage: the inversion's tolerance is
// 1e-12 in both.
TEST_P(MembraneLaws, plate_round_trip) {
  for (const double celsius : {10.0, 25.0, 35.0}) {
    const auto test = plate(GetParam(), celsius);
    const auto rating = membrane::rating_water(test);
    const membrane::RatingAssumptions assumed{.channel = GetParam().channel};
    const auto found = membrane::invert_rating(test, rating, assumed);
    ASSERT_EQ(found.status, membrane::RatingStatus::kFound);
    const double t = test.temperature.si();
    const membrane::Membrane<double> m{
        .water_permeability = found.water.si() * membrane::arrhenius(assumed.coefficients.water, t),
        .salt_permeability = found.salt.si() * membrane::arrhenius(assumed.coefficients.salt, t)};
    const double feed = test.permeate_flow.si() / test.recovery;
    const auto passed = membrane::pass_element(
        GetParam().channel,
        m,
        membrane::Surroundings<double>{
            .osmotic = &rating.osmotic, .temperature = t, .fluid = rating.fluid},
        {feed, feed, test.pressure.si()});
    EXPECT_NEAR(passed.permeate_flow / test.permeate_flow.si(), 1, 1e-11);
    EXPECT_NEAR(passed.permeate_salt / passed.permeate_flow,
                1 - test.rejection,
                1e-11 * (1 - test.rejection));
  }
}

INSTANTIATE_TEST_SUITE_P(every_size, MembraneLaws, testing::ValuesIn(sizes()), [](const auto& of) {
  return of.param.name;
});

}  // namespace
}  // namespace drawoff
