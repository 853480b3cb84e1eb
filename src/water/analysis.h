// Analysis: a water as a laboratory reports it, and the way from there to a Composition.
//
// Each constituent is not analysed, measured (zero: looked for and absent) or below a detection
// limit; the three are kept apart. A constituent below its limit enters every sum with half the
// limit (common practice, no source), and remains marked in the Analysis.
//
// HCO3 and CO3 are what the titration gave: total alkalinity split by its two end points, not the
// free ions. speciation() finds the free ions and the dissolved CO2 from alkalinity, pH and
// temperature. The sums below (charge balance, dissolved solids) use the report as it stands.
//
//   Analysis a;
//   a.temperature = celsius(12);  a.ph = 7.3;
//   a[Species::Ca] = measured(milligram_per_litre(115));
//   a[Species::Fe] = below(milligram_per_litre(0.02));
//   base::Result<Composition> water = speciate(a);
#pragma once

#include <array>
#include <optional>

#include "base/result.h"
#include "units/quantity.h"
#include "water/composition.h"
#include "water/speciation.h"
#include "water/species.h"

namespace drawoff::water {

enum class Report { kNotAnalysed, kMeasured, kBelow };

struct Constituent {
  Report report = Report::kNotAnalysed;
  units::Density value;  // measured value, or the detection limit

  // What it counts for in a sum: the value, half the limit, or nothing.
  [[nodiscard]] units::Density counted() const;
  bool operator==(const Constituent&) const = default;
};

constexpr Constituent measured(units::Density value) { return {Report::kMeasured, value}; }
constexpr Constituent below(units::Density limit) { return {Report::kBelow, limit}; }

struct Analysis {
  units::Temperature temperature = units::celsius(25);
  double ph = 7.0;
  // Where the pH was measured; absent: at the water's own temperature. A laboratory's pH is one of
  // 20 or 25 °C; in the closed bottle it moves with temperature, by up to 0.1 in 10 °C.
  std::optional<units::Temperature> ph_temperature = std::nullopt;
  // By species, in mass concentration of the form that a report names (species.h). H, OH and CO2
  // are never reported: they follow from pH.
  std::array<Constituent, kSpeciesCount> constituents{};
  // Total alkalinity as CaCO3, in place of HCO3 and CO3.
  std::optional<units::Density> alkalinity_as_calcium_carbonate = std::nullopt;

  Constituent& operator[](Species s) { return constituents[index(s)]; }
  const Constituent& operator[](Species s) const { return constituents[index(s)]; }
};

// Alkalinity [mol of charge/m³] as reported: from the total, or from HCO3 and CO3; none if neither
// was analysed.
std::optional<units::MolarConcentration> reported_alkalinity(const Analysis& a);

// What the water holds at its own pH and temperature, told apart (speciation.h).
//
// An alkalinity of zero means that no carbonate is known: CO2 is then 0. PO4 counts as HPO4
// (species.h); of the alkalinity a titration to pH 4.5 finds, silica, borate, ammonia and phosphate
// have their part. Refuses: alkalinity given twice; a negative value; pH outside 0 … 14;
// temperature outside 0 … 60 °C; an alkalinity that is less than the pH alone needs as OH. Check:
// 115 Ca, 300 HCO3, pH 7.3, 25 °C (chalk groundwater) -> CO2 21.4 mg/L (PHREEQC: 21.36).
base::Result<Speciation> speciation(const Analysis& a);

// The same as a Composition.
base::Result<Composition> speciate(const Analysis& a);

// Charge balance error 100 (Σcations − Σanions)/(Σcations + Σanions) [%], nominal charges, the
// ions as reported (alkalinity as one anion) with H⁺ = 10^−pH; 0 when no ion was reported.
// [apha2005, 1030 E; formula as read in a secondary text].  Check: worked analysis -> 7.786
// and 7.558 meq/L, +1.48 %.
double charge_balance_error_pct(const Analysis& a);

// Σ|z|c of the cations and of the anions as that balance counts them [mol/m³, = meq/L].
struct ReportedEquivalents {
  units::MolarConcentration cations;
  units::MolarConcentration anions;
};
ReportedEquivalents reported_equivalents(const Analysis& a);

// Plain sum of the dissolved constituents as reported [kg/m³]: every ion and SiO2, B and traces,
// each in its reported form, HCO3 and CO3 whole. With an alkalinity as CaCO3 in their place it
// counts as HCO3 (factor 1.219). Other conventions count alkalinity as 0.6 of itself as CaCO3 and
// give far less. Check: worked analysis -> 567.3 mg/L (the other convention: 402.1).
units::Density dissolved_solids(const Analysis& a);

// What would stay on drying at 180 °C [kg/m³]: bicarbonate becomes carbonate and counts with 0.4917
// (from memory). Check: chalk groundwater of 528.2 mg/L -> 375.7 mg/L.
inline constexpr double kBicarbonateLeftOnDrying = 0.4917;
units::Density residue(const Analysis& a);

// Ca + Mg as CaCO3, and the alkalinity as CaCO3 [kg/m³], as reported.
units::Density hardness(const Analysis& a);
units::Density alkalinity(const Analysis& a);

}  // namespace drawoff::water
