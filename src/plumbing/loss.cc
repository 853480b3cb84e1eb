#include "plumbing/loss.h"

#include "water/properties.h"

namespace drawoff::plumbing {

Loss loss_from_plate(const LossPlate& plate) {
  const auto rated_at = units::celsius(20);
  const double density = water::density(rated_at).si();
  const double viscosity = water::viscosity(rated_at).si();
  const double q = plate.flow.si();
  const double p = plate.pressure.si();
  return {.a = plate.laminar_share * p / (viscosity * q),
          .b = (1 - plate.laminar_share) * p / (density * q * q)};
}

}  // namespace drawoff::plumbing
