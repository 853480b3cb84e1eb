// How much of a chlorine product makes a volume so strong, when the product has grown old.
//
//   V c = V_p C            C [kg/m³] of available chlorine, "5 %" of the trade is 50 g/L
//   C = C_0/(1 + k C_0 t)  k = k_25 e^(E (1/298.15 − 1/T)): a product decays the faster the
//   stronger
//                          and the warmer it is
//
// k_25: a product of 125 g/L halves in 110 days at 25 °C, or in 65 to 190 (90 %); E = 12,300 K. All
// from memory; a strip is the judge. Checks: 500 US gal to 50 mg/L need 0.50 gal of 5 %, 0.30 of
// 8.25 %, 0.20 of 12.5 % (worked examples of the shared notes on disinfection).
#pragma once

#include "inference/predict.h"
#include "machine/plates.h"

namespace drawoff::visit {

struct ChlorineProduct {
  units::Density strength;  // available chlorine, when it was made
  units::Time age;
  units::Temperature stored = units::celsius(20);
};

// What is left of it: likely, and between which it is with 90 %.
inference::Interval strength_now(const ChlorineProduct& product);  // [kg/m³]

// Product for a volume of water: likely, and between which.
inference::Interval dose_for(const ChlorineProduct& product,
                             units::Volume water,
                             units::Density target);

// What housings, tubes and vessels of a machine hold, membrane and cartridges out.
units::Volume sanitised_volume(const machine::MachineEntry& machine);

}  // namespace drawoff::visit
