#include "water/saturation.h"

#include <cmath>
#include <numbers>

namespace drawoff::water {

double log_water_activity(const Speciation& water) {
  double solutes = total_molar(water.free).si();
  for (const double complex : water.complexes) solutes += complex;
  return std::log10(1 - 0.017 * solutes / water.water);
}

double saturation_index(const Speciation& water, Mineral which) {
  const MineralData& m = mineral(which);
  double log_product = 0;
  for (const auto& p : m.parts) log_product += p.count * water.log_activity(p.species);
  if (m.water > 0) {
    log_product += m.water * log_water_activity(water) * std::numbers::ln10;
  }
  return log_product / std::numbers::ln10 - m.log_k.at(water.temperature);
}

CalciteBalance calcite_balance(const Speciation& water) {
  CalciteBalance out;
  out.saturation_ph =
      mineral(Mineral::kCalcite).log_k.at(water.temperature) - kLogK2.at(water.temperature) -
      (water.log_activity(Species::Ca) + water.log_activity(Species::HCO3)) / std::numbers::ln10;
  out.langelier = water.ph - out.saturation_ph;
  out.ryznar = 2 * out.saturation_ph - water.ph;
  return out;
}

}  // namespace drawoff::water
