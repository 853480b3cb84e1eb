// The units of people: how a key of a file, a form or a paper says which unit its number is in.
//
// Inside, every quantity is SI (quantity.h). At the edge a number carries its unit in its name: the
// key "flow_mL_min" ends in the suffix "mL_min". This table says for each suffix the symbol that is
// shown, the UCUM code for other programs [ucum2017], the dimension, and the way to SI:
//
//   SI = (x + offset) · multiply / divide
//
// Two factors and not one, because 3.6e6 is exact and 1/3.6e6 is not. Factors are definitions of
// the SI [bipm2019] and of NIST [nist2008], exact. The offset makes °C and °F *temperatures*: a
// difference or an uncertainty of temperature has its key in "K".
//
//   constexpr const Unit* u = unit_of_key("flow_mL_min");   // of the suffix "mL_min"
//   double q = to_si(*u, 300);                              // 5e-6 m³/s
//
// A unit without dimension goes with a plain double: "pct" is kept as a fraction (25 % is 0.25).
// "ppm" is what a pocket meter shows on its own scale, not a mass per volume, and stays as shown;
// "Kv_m3_h" is a valve's coefficient, by definition a plain number: m³/h of water at 1 bar.
#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <string_view>

#include "units/quantity.h"

namespace drawoff::units {

// The exponents of a Dimension as a value.
struct Exponents {
  int kg = 0, m = 0, s = 0, k = 0, mol = 0, a = 0;
  friend constexpr bool operator==(const Exponents&, const Exponents&) = default;
};

template <class D>
inline constexpr Exponents kExponents{D::kg, D::m, D::s, D::k, D::mol, D::a};

struct Unit {
  std::string_view key;     // suffix of a key: "mL_min"
  std::string_view symbol;  // as shown to people: "mL/min"
  std::string_view ucum;    // code for programs
  Exponents dimension;
  double multiply = 1;
  double divide = 1;
  double offset = 0;  // in this unit
};

namespace exact {
inline constexpr double kUsGallon = 3.785411784e-3;  // m³, 231 cubic inches [nist2008]
inline constexpr double kInch = 0.0254;              // m [nist2008]
inline constexpr double kFoot = 0.3048;              // m [nist2008]
inline constexpr double kPoundForce =
    4.4482216152605;                   // N = 0.45359237 kg · 9.80665 m/s² [nist2008]
inline constexpr double kDay = 86400;  // s
}  // namespace exact

inline constexpr std::array kUnits = {
    // Volume flow, m³/s
    Unit{"L_h", "L/h", "L/h", kExponents<dim::VolumeFlow>, 1, 3.6e6},
    Unit{"L_min", "L/min", "L/min", kExponents<dim::VolumeFlow>, 1, 6e4},
    Unit{"L_s", "L/s", "L/s", kExponents<dim::VolumeFlow>, 1, 1e3},
    Unit{"L_d", "L/day", "L/d", kExponents<dim::VolumeFlow>, 1, 1e3 * exact::kDay},
    Unit{"mL_min", "mL/min", "mL/min", kExponents<dim::VolumeFlow>, 1, 6e7},
    Unit{"mL_h", "mL/h", "mL/h", kExponents<dim::VolumeFlow>, 1, 3.6e9},
    Unit{"m3_h", "m³/h", "m3/h", kExponents<dim::VolumeFlow>, 1, 3600},
    Unit{"m3_s", "m³/s", "m3/s", kExponents<dim::VolumeFlow>},
    Unit{"US_gal_min",
         "US gal/min",
         "[gal_us]/min",
         kExponents<dim::VolumeFlow>,
         exact::kUsGallon,
         60},
    Unit{"gpd",
         "US gal/day",
         "[gal_us]/d",
         kExponents<dim::VolumeFlow>,
         exact::kUsGallon,
         exact::kDay},
    // Pressure, Pa
    Unit{"bar", "bar", "bar", kExponents<dim::Pressure>, 1e5},
    Unit{"mbar", "mbar", "mbar", kExponents<dim::Pressure>, 100},
    Unit{"Pa", "Pa", "Pa", kExponents<dim::Pressure>},
    Unit{"kPa", "kPa", "kPa", kExponents<dim::Pressure>, 1e3},
    Unit{"MPa", "MPa", "MPa", kExponents<dim::Pressure>, 1e6},
    Unit{"psi",
         "psi",
         "[psi]",
         kExponents<dim::Pressure>,
         exact::kPoundForce,
         exact::kInch* exact::kInch},
    Unit{"bar_per_m", "bar/m", "bar/m", kExponents<dim::PressureGradient>, 1e5},
    Unit{"bar_per_L_h", "bar/(L/h)", "bar/(L/h)", kExponents<dim::FlowResistance>, 3.6e11},
    Unit{"mL_bar", "mL/bar", "mL/bar", kExponents<dim::Compliance>, 1, 1e11},
    // Mass concentration and density, kg/m³
    Unit{"mg_L", "mg/L", "mg/L", kExponents<dim::Density>, 1, 1e3},
    Unit{"ug_L", "µg/L", "ug/L", kExponents<dim::Density>, 1, 1e6},
    Unit{"g_L", "g/L", "g/L", kExponents<dim::Density>},
    Unit{"kg_m3", "kg/m³", "kg/m3", kExponents<dim::Density>},
    Unit{"mg_L_CaCO3", "mg/L as CaCO3", "mg{CaCO3}/L", kExponents<dim::Density>, 1, 1e3},
    // Amount concentration, mol/m³; equivalents of charge alike
    Unit{"mol_L", "mol/L", "mol/L", kExponents<dim::MolarConcentration>, 1e3},
    Unit{"mmol_L", "mmol/L", "mmol/L", kExponents<dim::MolarConcentration>},
    Unit{"meq_L", "meq/L", "meq/L", kExponents<dim::MolarConcentration>},
    Unit{"mol_m3", "mol/m³", "mol/m3", kExponents<dim::MolarConcentration>},
    Unit{"mol_kg", "mol/kg", "mol/kg", kExponents<dim::Molality>},
    Unit{"g_mol", "g/mol", "g/mol", kExponents<dim::MolarMass>, 1, 1e3},
    // Conductivity, S/m
    Unit{"uS_cm", "µS/cm", "uS/cm", kExponents<dim::Conductivity>, 1, 1e4},
    Unit{"mS_cm", "mS/cm", "mS/cm", kExponents<dim::Conductivity>, 1, 10},
    Unit{"S_m", "S/m", "S/m", kExponents<dim::Conductivity>},
    Unit{"S_cm2_mol", "S·cm²/mol", "S.cm2/mol", kExponents<dim::MolarConductivity>, 1, 1e4},
    // Temperature, K
    Unit{"C", "°C", "Cel", kExponents<dim::Temperature>, 1, 1, 273.15},
    Unit{"F", "°F", "[degF]", kExponents<dim::Temperature>, 1, 1.8, 459.67},
    Unit{"K", "K", "K", kExponents<dim::Temperature>},
    // Length, m; area, m²; volume, m³
    Unit{"km", "km", "km", kExponents<dim::Length>, 1e3},
    Unit{"m", "m", "m", kExponents<dim::Length>},
    Unit{"cm", "cm", "cm", kExponents<dim::Length>, 1, 100},
    Unit{"mm", "mm", "mm", kExponents<dim::Length>, 1, 1e3},
    Unit{"um", "µm", "um", kExponents<dim::Length>, 1, 1e6},
    Unit{"in", "in", "[in_i]", kExponents<dim::Length>, exact::kInch},
    Unit{"ft", "ft", "[ft_i]", kExponents<dim::Length>, exact::kFoot},
    Unit{"m2", "m²", "m2", kExponents<dim::Area>},
    Unit{"mm2", "mm²", "mm2", kExponents<dim::Area>, 1, 1e6},
    Unit{"m3", "m³", "m3", kExponents<dim::Volume>},
    Unit{"L", "L", "L", kExponents<dim::Volume>, 1, 1e3},
    Unit{"mL", "mL", "mL", kExponents<dim::Volume>, 1, 1e6},
    Unit{"US_gal", "US gal", "[gal_us]", kExponents<dim::Volume>, exact::kUsGallon},
    // Velocity, flux and salt permeability, m/s; water permeability, m/(s·Pa)
    Unit{"m_s", "m/s", "m/s", kExponents<dim::Velocity>},
    Unit{"um_s", "µm/s", "um/s", kExponents<dim::Velocity>, 1, 1e6},
    Unit{"L_m2_h", "L/(m²·h)", "L/(m2.h)", kExponents<dim::Velocity>, 1, 3.6e6},
    Unit{"gfd",
         "US gal/(ft²·day)",
         "[gal_us]/([ft_i]2.d)",
         kExponents<dim::Velocity>,
         exact::kUsGallon,
         exact::kFoot* exact::kFoot* exact::kDay},
    Unit{"L_m2_h_bar", "L/(m²·h·bar)", "L/(m2.h.bar)", kExponents<dim::Permeability>, 1, 3.6e11},
    Unit{"m_s_Pa", "m/(s·Pa)", "m/(s.Pa)", kExponents<dim::Permeability>},
    Unit{"m_s2", "m/s²", "m/s2", kExponents<dim::Acceleration>},
    // Viscosity, Pa·s; diffusivity and kinematic viscosity, m²/s
    Unit{"mPa_s", "mPa·s", "mPa.s", kExponents<dim::Viscosity>, 1, 1e3},
    Unit{"Pa_s", "Pa·s", "Pa.s", kExponents<dim::Viscosity>},
    Unit{"m2_s", "m²/s", "m2/s", kExponents<dim::Diffusivity>},
    // Time, s; rates, 1/s
    Unit{"s", "s", "s", kExponents<dim::Time>},
    Unit{"min", "min", "min", kExponents<dim::Time>, 60},
    Unit{"h", "h", "h", kExponents<dim::Time>, 3600},
    Unit{"d", "days", "d", kExponents<dim::Time>, exact::kDay},
    Unit{"years", "years", "a_j", kExponents<dim::Time>, 365.25 * exact::kDay},
    Unit{"per_s", "1/s", "/s", kExponents<dim::Frequency>},
    Unit{"per_h", "1/h", "/h", kExponents<dim::Frequency>, 1, 3600},
    Unit{"per_d", "1/day", "/d", kExponents<dim::Frequency>, 1, exact::kDay},
    // Mass, kg; force, N; energy, J; power, W; voltage, V; current, A
    Unit{"kg", "kg", "kg", kExponents<dim::Mass>},
    Unit{"g", "g", "g", kExponents<dim::Mass>, 1, 1e3},
    Unit{"mg", "mg", "mg", kExponents<dim::Mass>, 1, 1e6},
    Unit{"N", "N", "N", kExponents<dim::Force>},
    Unit{"kN", "kN", "kN", kExponents<dim::Force>, 1e3},
    Unit{"kWh", "kWh", "kW.h", kExponents<dim::Energy>, 3.6e6},
    Unit{"W", "W", "W", kExponents<dim::Power>},
    Unit{"kW", "kW", "kW", kExponents<dim::Power>, 1e3},
    Unit{"V", "V", "V", kExponents<dim::Voltage>},
    Unit{"A", "A", "A", kExponents<dim::Current>},
    Unit{"kWh_m3", "kWh/m³", "kW.h/m3", kExponents<dim::Pressure>, 3.6e6},
    // Without dimension
    Unit{"pct", "%", "%", kExponents<One>, 1, 100},
    Unit{"ppm", "ppm", "{ppm}", kExponents<One>},
    Unit{"turns", "turns", "{turns}", kExponents<One>},
    Unit{"Kv_m3_h", "m³/h at 1 bar", "{m3/h/bar^0.5}", kExponents<One>},
};

// The index in kUnits of the unit whose suffix, after a '_' or alone, is the longest that ends the
// key; -1 if there is none: "recovery_pct" is in %, "L_h" in L/h, "name" in nothing. An index, as
// the compiler cannot compare pointers while compiling with sanitizers on.
constexpr int unit_index(std::string_view key) {
  int found = -1;
  std::size_t longest = 0;
  for (std::size_t i = 0; i < kUnits.size(); ++i) {
    const std::string_view suffix = kUnits[i].key;
    if (suffix.size() > key.size() || suffix.size() <= longest) continue;
    const std::size_t start = key.size() - suffix.size();
    if (key.substr(start) != suffix || (start > 0 && key[start - 1] != '_')) continue;
    found = static_cast<int>(i);
    longest = suffix.size();
  }
  return found;
}

// The same as a pointer into kUnits, null if there is none.
constexpr const Unit* unit_of_key(std::string_view key) {
  const int index = unit_index(key);
  return index < 0 ? nullptr : &kUnits[static_cast<std::size_t>(index)];
}

constexpr double to_si(const Unit& unit, double x) {
  return (x + unit.offset) * unit.multiply / unit.divide;
}
constexpr double from_si(const Unit& unit, double si) {
  return si * unit.divide / unit.multiply - unit.offset;
}

// As from_si, but the shortest decimal number that means the same: what was typed as 25.1 °C comes
// back as 25.1, though 298.25 − 273.15 is 25.100000000000023. Where no such number exists, the
// nearest one (off by at most the rounding of one multiplication).
double from_si_shortest(const Unit& unit, double si);

// A number as a person types it, with a point or a comma as decimal mark, or none if it is not one.
// A single mark is always the decimal mark ("1,234" is 1.234: a flow of a thousand is typed 1234).
// Where both occur, or one repeatedly, or spaces, the others group by three: "1,234.5", "1 234,5".
std::optional<double> parse_number(std::string_view typed);

}  // namespace drawoff::units
