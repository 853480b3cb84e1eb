// From a rating plate to what the membrane is: A and B at 25 °C.
//
// A plate says how much product an element made, and how much salt it held back, in one test on
// salt water. Which A and B explain that depends on the channel and its mixing, so the plate is
// inverted with the same element model, channel and multiplier that the prediction then uses: an
// assumed poor mixing on the plate is paid back by a better membrane.
//
//   A(T) = A₂₅ exp[K_A (1/298.15 − 1/T)],  B likewise with K_B     T in kelvin, 0 … 45 °C
//
// K about 2000 … 3300 K (from memory; includes the viscosity of water).
// Check: K 2500 K, 10 °C -> factor 0.641; K 3000 K, 35 °C -> 1.386 (water_iapws.csv).
#pragma once

#include "membrane/element.h"

namespace drawoff::membrane {

// The test that the plate reports. Salt: sodium chloride.
struct RatingTest {
  units::VolumeFlow permeate_flow;
  double rejection = 0;  // share held back, referred to the feed of the test; 0 < R < 1
  units::Pressure pressure;
  units::Density salt;
  units::Temperature temperature;
  double recovery = 0.15;  // permeate flow / feed flow
};

// The plate's test water, made once per plate: building an osmotic curve is dear.
struct RatingWater {
  water::OsmoticCurve osmotic;
  Fluid<double> fluid;
};
// `ideal` takes van 't Hoff's pressure, for comparison with tables made so.
RatingWater rating_water(const RatingTest& test, bool ideal = false);

struct TemperatureCoefficients {
  double water = 2700;  // K_A [K]
  double salt = 2700;   // K_B [K]
};

enum class RatingStatus {
  kFound,
  kContradicts,  // no membrane makes that flow at that pressure: the plate cannot be right
};

struct Rating {
  RatingStatus status = RatingStatus::kFound;
  units::Permeability water;  // A at 25 °C
  units::Velocity salt;       // B at 25 °C
  double flow_residual = 0;   // relative, of the plate's flow put back into the model
  double passage_residual = 0;
};

struct RatingAssumptions {
  Channel channel;
  MassTransferLaw law = MassTransferLaw::kJoined;
  double mass_transfer = 1;     // multiplier on k
  double channel_friction = 1;  // multiplier on friction
  TemperatureCoefficients coefficients;
};

Rating invert_rating(const RatingTest& test,
                     const RatingWater& water,
                     const RatingAssumptions& assumptions);

// exp[K (1/298.15 − 1/T)], T in kelvin.
template <class S>
S arrhenius(double coefficient, const S& temperature) {
  using std::exp;
  return exp(coefficient * (1.0 / 298.15 - 1.0 / temperature));
}

}  // namespace drawoff::membrane
