// The dissolved species that a water is made of, and what is known of each.
//
// One enumerator a species, in the order of data/species.csv, which holds the numbers with their
// sources; nothing is retyped in code. A species stands for all forms of its constituent that an
// analysis reports as one, and is carried with one nominal charge at the pH of drinking water:
//   NH4  total ammonia, +1          PO4  total orthophosphate, as HPO4²⁻: -2 (true mean at pH 7.2:
//   B    as B(OH)3, uncharged            -1.5); its mass is that of PO4
//   As3  H3AsO3, uncharged          As5  HAsO4²⁻    U  uranyl carbonate, -2    Cr  CrO4²⁻
//   Se   SeO4²⁻                     Hg   uncharged complexes      Fe, Mn  the dissolved +2 form
// The splitting of PO4, NH4 and B with pH is left out: below pH 9 and at the concentrations of
// drinking water it moves the charge balance by less than an analysis is good for.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "units/quantity.h"

namespace drawoff::water {

// The enumerators are the chemist's symbols, in groups: cations, anions, uncharged, traces.
// clang-format off
// NOLINTBEGIN(readability-identifier-naming)
enum class Species : int {
  Ca, Mg, Na, K, NH4, Ba, Sr, Fe, Mn, Al, H,
  HCO3, CO3, OH, Cl, SO4, NO3, NO2, F, PO4,
  SiO2, CO2, B,
  As3, As5, Pb, U, Cr, Cd, Se, Cu, Ni, Hg,
};
// NOLINTEND(readability-identifier-naming)
// clang-format on
inline constexpr int kSpeciesCount = static_cast<int>(Species::Hg) + 1;

constexpr std::size_t index(Species s) { return static_cast<std::size_t>(s); }
constexpr Species species_at(int i) { return static_cast<Species>(i); }

// How well a number is known: seen in the source, or recalled from it.
enum class Confidence { kRead, kMemory };

using MolarMass = units::Quantity<units::dim::MolarMass>;                  // [kg/mol]
using MolarConductivity = units::Quantity<units::dim::MolarConductivity>;  // [S·m²/mol]
using MolarVolume = units::Quantity<units::Dimension<0, 3, 0, 0, -1>>;     // [m³/mol]

struct SpeciesData {
  std::string key;                       // as in an analysis: "Ca", "HCO3", "As3"
  int charge = 0;                        // nominal
  MolarMass molar_mass;                  // of the form that an analysis reports
  MolarConductivity molar_conductivity;  // λ°, infinite dilution, 25 °C, per mole of ion
  units::Diffusivity diffusivity;        // infinite dilution, 25 °C
  MolarVolume molar_volume;              // conventional partial molar volume, 25 °C
  double walden_exponent = 0;            // λ° ∝ viscosity^−p, 1
  double ion_size = 0;                   // a of activity.h [Å]; 0: not known
  double activity_slope = 0;             // b of activity.h [kg/mol]
  std::string source;                    // bibliography key of mobility and diffusivity
  Confidence confidence = Confidence::kMemory;
};

// The row of data/species.csv. The table is parsed once and checked to be complete and in order.
const SpeciesData& species_data(Species s);

// The species of an analysis key, if there is one.
std::optional<Species> species_from_key(std::string_view key);

// Nominal charge and molar mass [kg/mol] as plain numbers, for inner loops.
int charge_of(Species s);
double molar_mass_of(Species s);

}  // namespace drawoff::water
