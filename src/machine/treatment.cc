#include "machine/treatment.h"

#include <cmath>

namespace drawoff::machine {

using water::Species;

namespace {

constexpr double kCalcite = 0.100087;  // [kg/mol], as in water::hardness

}  // namespace

water::Composition softened(const water::Composition& c, double leakage) {
  water::Composition soft = c;
  for (const Species hard : {Species::Ca, Species::Mg, Species::Sr, Species::Ba}) {
    soft[hard] = c[hard] * leakage;
    soft[Species::Na] += 2 * (c[hard] - soft[hard]);
  }
  return soft;
}

water::Composition mineralised(const water::Composition& c, units::Density calcite) {
  const double dissolved = calcite.si() / kCalcite;  // [mol/m³]
  water::Composition hard = c;
  hard[Species::Ca] += dissolved;
  hard[Species::HCO3] += 2 * dissolved;
  hard[Species::CO2] = std::fmax(0.0, c[Species::CO2] - dissolved);
  return hard;
}

}  // namespace drawoff::machine
