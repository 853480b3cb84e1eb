// What a report's names and units mean: data/report_names.csv, data/report_units.csv.
//
//   lab_name("Nitrate-N (mg/L)")       -> {"NO3", basis "N", unit "mg/l"}
//   lab_unit("mg/L as CaCO3")          -> mass, 1e-3 kg/m³, basis "CaCO3"
//   amount("NO3", 13, unit, basis)     -> 57.5e-3 kg/m³ as NO3
//
// A basis is what a mass is counted as: of the substance itself, of its element (NO3 as N), or, for
// whatever has a charge, of the calcium carbonate of as many equivalents.
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace drawoff::water {

enum class LabUnitKind {
  kMass,         // kg/m³
  kAmount,       // mol/m³
  kEquivalents,  // mol of charge/m³
  kHardness,     // degrees: kg/m³ as CaCO3
  kConductivity,
  kCelsius,
  kFahrenheit,
  kTurbidity,
  kCount,  // in 100 mL
  kColour,
  kNone
};

struct LabUnit {
  LabUnitKind kind = LabUnitKind::kNone;
  double factor = 1;  // to SI
  std::string basis;  // "CaCO3", "N"; empty: not said
  bool operator==(const LabUnit&) const = default;
};
std::optional<LabUnit> lab_unit(std::string_view text);

enum class Fraction { kNotSaid, kDissolved, kTotal };

struct LabName {
  std::string of;     // key of a species, or "pH", "hardness", "free_chlorine", …
  std::string basis;  // that the name says
  std::string unit;   // that the name says, as text
  Fraction fraction = Fraction::kNotSaid;
  bool operator==(const LabName&) const = default;
};
std::optional<LabName> lab_name(std::string_view text);

// A basis as it may be written ("caco3", "nitrogen"), or none.
std::optional<std::string> lab_basis(std::string_view text);

// kg/m³ of the substance itself (hardness and alkalinity: as CaCO3; sulfide as S, chlorine as Cl2);
// none where unit and basis do not make one of it. An amount (mmol/L) is one of the formula;
// equivalents need a charge.
std::optional<double> mass_concentration(std::string_view given,
                                         double value,
                                         const LabUnit& unit,
                                         std::string_view basis);

// Whether it matters which basis a substance has that may be given by two: NO3, NO2, NH4, PO4.
bool basis_matters(std::string_view of);

}  // namespace drawoff::water
