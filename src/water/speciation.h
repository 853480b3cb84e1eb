// Speciation: which forms the constituents of a water take, all equilibria closed at once.
//
//   form j of parts i:   a_j = K_j Π a_i^ν_ij        K of complexes.h and carbonate.h, γ of
//   activity.h each constituent:    Σ_j ν_ij m_j = total alkalinity           = Σ_j (ν_HCO3 − ν_H)
//   m_j     zero level: CO2, NH4, SiO2, B(OH)3, H2PO4 total carbonate C    = Σ_j ν_HCO3 m_j
//
// A Composition holds *totals over complexes*: its Ca counts CaSO4 too, its CO3 counts CaCO3, its
// OH what silica and borate gave up. So it keeps both alkalinity (HCO3 + 2 CO3 + OH − H, with PO4
// as HPO4) and total carbonate through mixing, membranes and changes of temperature, and speciation
// finds the rest. Newton's method on the logarithms of the activities; residuals 1e-10 relative.
// Range 0 … 60 °C, I to 0.5 mol/kg. Against PHREEQC with wateq4f.dat: speciation_test.cc.
//
// Bibliography: [truesdell1974; ball1991; plummer1982].
#pragma once

#include <array>

#include "units/quantity.h"
#include "water/complexes.h"
#include "water/composition.h"

namespace drawoff::water {

struct Speciation {
  Composition free;                               // each species by itself [mol/m³]
  std::array<double, kComplexCount> complexes{};  // [mol/m³], in the order of complexes()
  Composition total;                              // both together, as a Composition holds them
  double ionic_strength = 0;                      // [mol/kg water]
  double ph = 7;                                  // −log₁₀ a_H
  double water = 1000;                            // mass of water in the solution [kg/m³]
  units::Temperature temperature;

  // ln of the activity [mol/kg]; minus infinity of what is not there.
  [[nodiscard]] double log_activity(Species s) const;
};

// What a Composition keeps [mol of charge/m³, mol/m³].
double alkalinity_of(const Composition& c);  // HCO3 + 2 CO3 + OH − H
double carbonate_of(const Composition& c);   // HCO3 + CO3 + CO2

// At a pH, from total alkalinity [mol of charge/m³, as HCO3 + 2 CO3 + OH − H with PO4 as HPO4];
// what `totals` says of H, OH, HCO3, CO3 and CO2 is not read. An alkalinity that is no more than
// what the pH needs as OH (and silica, borate) leaves no carbonate.
Speciation speciation_at_ph(const Composition& totals,
                            units::MolarConcentration alkalinity,
                            double ph,
                            units::Temperature temperature);

// With nothing coming or going: alkalinity and total carbonate of `c` stay, the pH follows.
Speciation closed_speciation(const Composition& c, units::Temperature temperature);

// In balance with carbon dioxide of a pressure [atm]: alkalinity stays. Air: 10^−3.4.
Speciation open_speciation(const Composition& c,
                           double carbon_dioxide_atm,
                           units::Temperature temperature);

// Calcium carbonate that a closed water lays down until it is saturated with calcite [mol/m³];
// negative: what it would dissolve.
struct Precipitation {
  double calcium_carbonate = 0;
  Speciation after;
};
Precipitation calcite_precipitation(const Composition& c, units::Temperature temperature);

}  // namespace drawoff::water
