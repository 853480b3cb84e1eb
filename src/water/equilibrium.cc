#include "water/equilibrium.h"

#include <cmath>

#include "numerics/bracket.h"
#include "water/activity.h"
#include "water/carbonate.h"

namespace drawoff::water {

Settled settled(const Composition& c, units::Temperature temperature) {
  constexpr double kLowestPh = 0;
  constexpr double kHighestPh = 14;
  const double k1 = std::pow(10.0, kLogK1.at(temperature));
  const double k2 = std::pow(10.0, kLogK2.at(temperature));
  const double kw = std::pow(10.0, kLogKw.at(temperature));
  // mol/L
  const double alkalinity =
      1e-3 * (c[Species::HCO3] + 2 * c[Species::CO3] + c[Species::OH] - c[Species::H]);
  const double carbonate = 1e-3 * (c[Species::CO2] + c[Species::HCO3] + c[Species::CO3]);
  Settled result{.composition = c};
  auto split = [&](double ph, double g1) {
    const double g2 = g1 * g1 * g1 * g1;
    const double hydrogen = std::pow(10.0, -ph);  // activity
    // Per free bicarbonate.
    const double carbonic = hydrogen * g1 / k1;
    const double carbonates = k2 * g1 / (hydrogen * g2);
    const double bicarbonate = carbonate / (1 + carbonic + carbonates);
    Composition& to = result.composition;
    to[Species::H] = 1e3 * hydrogen / g1;
    to[Species::OH] = 1e3 * kw / (hydrogen * g1);
    to[Species::CO2] = 1e3 * bicarbonate * carbonic;
    to[Species::HCO3] = 1e3 * bicarbonate;
    to[Species::CO3] = 1e3 * bicarbonate * carbonates;
    return bicarbonate * (1 + 2 * carbonates) + 1e-3 * (to[Species::OH] - to[Species::H]);
  };
  // The ionic strength depends on the split a little, the split on it a little: a few rounds
  // settle.
  for (int round = 0; round < 8; ++round) {
    const double g1 =
        std::exp(davies_log_activity(ionic_strength(result.composition).si() * 1e-3, temperature));
    // Alkalinity rises with pH throughout.
    const auto root = numerics::find_root([&](double ph) { return split(ph, g1) - alkalinity; },
                                          {.low = kLowestPh, .high = kHighestPh});
    result.ph = root.status == numerics::BracketStatus::kNoSignChange
                    ? (alkalinity > 0 ? kHighestPh : kLowestPh)
                    : root.root;
    split(result.ph, g1);
  }
  return result;
}

}  // namespace drawoff::water
