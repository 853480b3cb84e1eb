#include "water/diffusivity.h"

#include <cstdlib>

namespace drawoff::water {
namespace {

// One sign's ions as a single mean ion.
struct MeanIon {
  double charge = 0;
  double diffusivity = 0;
};

MeanIon mean_ion(const Composition& c, int sign) {
  double equivalents = 0;
  MeanIon mean;
  for (int i = 0; i < kSpeciesCount; ++i) {
    const Species s = species_at(i);
    const int z = charge_of(s) * sign;
    if (z <= 0 || c[s] <= 0) continue;
    equivalents += z * c[s];
    mean.charge += z * z * c[s];
    mean.diffusivity += z * c[s] * species_data(s).diffusivity.si();
  }
  if (equivalents > 0) {
    mean.charge /= equivalents;
    mean.diffusivity /= equivalents;
  }
  return mean;
}

}  // namespace

units::Diffusivity salt_diffusivity_25(const Composition& c) {
  MeanIon cation = mean_ion(c, 1);
  MeanIon anion = mean_ion(c, -1);
  if (cation.charge == 0 || anion.charge == 0) {
    cation = {1.0, species_data(Species::Na).diffusivity.si()};
    anion = {1.0, species_data(Species::Cl).diffusivity.si()};
  }
  return units::Diffusivity(
      (cation.charge + anion.charge) * cation.diffusivity * anion.diffusivity /
      (cation.charge * cation.diffusivity + anion.charge * anion.diffusivity));
}

}  // namespace drawoff::water
