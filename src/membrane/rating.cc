#include "membrane/rating.h"

#include <algorithm>
#include <cmath>

#include "water/composition.h"
#include "water/diffusivity.h"
#include "water/properties.h"

namespace drawoff::membrane {

using numerics::Dual;
RatingWater rating_water(const RatingTest& test, bool ideal) {
  const auto composition = water::sodium_chloride(test.salt);
  const double t = test.temperature.si();
  return {.osmotic =
              ideal ? water::OsmoticCurve::ideal(water::total_molar(composition), test.temperature)
                    : water::OsmoticCurve(composition, test.temperature),
          .fluid = {.density = water::density(units::Temperature(t)).si(),
                    .viscosity = water::viscosity(units::Temperature(t)).si(),
                    .diffusivity = water::diffusivity_at(water::salt_diffusivity_25(composition),
                                                         units::Temperature(t))
                                       .si()}};
}

Rating invert_rating(const RatingTest& test,
                     const RatingWater& water,
                     const RatingAssumptions& assumptions) {
  using S = Dual<2>;
  constexpr int kSteps = 60;
  constexpr double kTolerance = 1e-12;

  const double t = test.temperature.si();
  const double flow = test.permeate_flow.si();
  const double passage = 1 - test.rejection;
  const double area = assumptions.channel.area.si();
  const double osmotic = water.osmotic.pressure(1.0, t);
  const double warm_water = arrhenius(assumptions.coefficients.water, t);
  const double warm_salt = arrhenius(assumptions.coefficients.salt, t);

  // ln A, ln B at the test's temperature: first guess without polarisation.
  const double net = std::fmax(test.pressure.si() - osmotic, 0.02 * test.pressure.si());
  double ln_a = std::log(flow / (area * net));
  double ln_b = std::log(flow / area * passage / test.rejection);

  Surroundings<S> around{.osmotic = &water.osmotic, .temperature = S(t)};
  around.fluid = {S(water.fluid.density), S(water.fluid.viscosity), S(water.fluid.diffusivity)};
  around.law = assumptions.law;
  const double feed_flow = flow / test.recovery;
  const Stream<S> feed{S(feed_flow), S(feed_flow), S(test.pressure.si())};

  Rating rating;
  rating.status = RatingStatus::kContradicts;
  for (int step = 0; step < kSteps; ++step) {
    using std::exp;
    const Membrane<S> membrane{.water_permeability = exp(S::variable(ln_a, 0)),
                               .salt_permeability = exp(S::variable(ln_b, 1)),
                               .mass_transfer = S(assumptions.mass_transfer),
                               .channel_friction = S(assumptions.channel_friction)};
    const auto result = pass_element(assumptions.channel, membrane, around, feed);
    if (result.status != ElementStatus::kSolved) {
      ln_a -= 0.7;
      continue;
    }
    using std::log;
    const S off_flow = log(result.permeate_flow * (1.0 / flow));
    const S off_salt = log(result.permeate_salt / result.permeate_flow * (1.0 / passage));
    rating.flow_residual = off_flow.x;
    rating.passage_residual = off_salt.x;
    if (std::fabs(off_flow.x) < kTolerance && std::fabs(off_salt.x) < kTolerance) {
      rating.status = RatingStatus::kFound;
      break;
    }
    const double determinant = off_flow.v[0] * off_salt.v[1] - off_flow.v[1] * off_salt.v[0];
    if (!std::isfinite(determinant) || determinant == 0) break;
    // Steps in the logarithms, of at most a factor of e.
    const double move_a = -(off_flow.x * off_salt.v[1] - off_flow.v[1] * off_salt.x) / determinant;
    const double move_b = -(off_flow.v[0] * off_salt.x - off_flow.x * off_salt.v[0]) / determinant;
    ln_a += std::clamp(move_a, -1.0, 1.0);
    ln_b += std::clamp(move_b, -1.0, 1.0);
  }
  rating.water = units::Permeability(std::exp(ln_a) / warm_water);
  rating.salt = units::Velocity(std::exp(ln_b) / warm_salt);
  return rating;
}

}  // namespace drawoff::membrane
