#include "water/analysis.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <string>
#include <utility>
#include <vector>

namespace drawoff::water {
namespace {

constexpr double kHalfCalciumCarbonate = kCalciumCarbonate / 2;  // kg per mole of charge
// Titration finds an alkalinity to about this [mol/m³]: 2.5 mg/L as CaCO3 (common practice, no
// source). A report and a pH that disagree by less do not contradict each other.
constexpr double kAlkalinityResolution = 0.05;

base::Error data_error(std::string id,
                       std::vector<std::pair<std::string, base::Argument>> arguments = {}) {
  return {base::ErrorKind::kData, {std::move(id), std::move(arguments)}};
}

double molar(const Analysis& a, Species s) { return a[s].counted().si() / molar_mass_of(s); }

bool analysed(const Analysis& a, Species s) { return a[s].report != Report::kNotAnalysed; }

bool is_reported_form(Species s) {
  return s != Species::H && s != Species::OH && s != Species::CO2;
}

}  // namespace

units::Density Constituent::counted() const {
  switch (report) {
    case Report::kMeasured:
      return value;
    case Report::kBelow:
      return value * 0.5;
    case Report::kNotAnalysed:
      break;
  }
  return units::Density(0.0);
}

std::optional<units::MolarConcentration> reported_alkalinity(const Analysis& a) {
  if (a.alkalinity_as_calcium_carbonate) {
    return units::mol_per_cubic_metre(a.alkalinity_as_calcium_carbonate->si() /
                                      kHalfCalciumCarbonate);
  }
  if (!analysed(a, Species::HCO3) && !analysed(a, Species::CO3)) return std::nullopt;
  return units::mol_per_cubic_metre(molar(a, Species::HCO3) + 2 * molar(a, Species::CO3));
}

base::Result<Speciation> speciation(const Analysis& a) {
  const double t = units::in_celsius(a.temperature);
  if (!(t >= 0 && t <= 60)) {
    return data_error("water.temperature_range", {{"value", base::Number{t, "°C"}}});
  }
  if (!(a.ph >= 0 && a.ph <= 14)) {
    return data_error("water.ph_range", {{"value", base::Number{a.ph, ""}}});
  }
  if (a.alkalinity_as_calcium_carbonate &&
      (analysed(a, Species::HCO3) || analysed(a, Species::CO3))) {
    return data_error("water.alkalinity_twice");
  }
  if (a.alkalinity_as_calcium_carbonate && !(a.alkalinity_as_calcium_carbonate->si() >= 0)) {
    const double shown = *a.alkalinity_as_calcium_carbonate / units::milligram_per_litre(1);
    return data_error("water.alkalinity_negative", {{"value", base::Number{shown, "mg/L"}}});
  }

  Composition c;
  for (int i = 0; i < kSpeciesCount; ++i) {
    const Species s = species_at(i);
    if (!is_reported_form(s)) continue;
    if (!(a[s].value.si() >= 0)) {
      return data_error(
          "water.value_negative",
          {{"constituent", species_data(s).key},
           {"value", base::Number{a[s].value / units::milligram_per_litre(1), "mg/L"}}});
    }
    c[s] = molar(a, s);
  }

  const auto reported = reported_alkalinity(a);
  // Phosphate counts as HPO4 in a Composition, as H2PO4 in a titration.
  const auto alkalinity = reported.value_or(units::MolarConcentration(0)).si() - c[Species::PO4];
  const units::Temperature at = a.ph_temperature.value_or(a.temperature);
  const Speciation found = speciation_at_ph(c, units::mol_per_cubic_metre(alkalinity), a.ph, at);
  if (reported && alkalinity_of(found.total) - alkalinity > kAlkalinityResolution) {
    return data_error(
        "water.alkalinity_below_hydroxide",
        {{"value", base::Number{reported->si() * kHalfCalciumCarbonate * 1e3, "mg/L"}},
         {"ph", base::Number{a.ph, ""}}});
  }
  return at == a.temperature ? found : closed_speciation(found.total, a.temperature);
}

base::Result<Composition> speciate(const Analysis& a) {
  TRY(const Speciation found, speciation(a));
  return found.total;
}

ReportedEquivalents reported_equivalents(const Analysis& a) {
  double cations = std::pow(10.0, 3.0 - a.ph);
  double anions = reported_alkalinity(a).value_or(units::mol_per_cubic_metre(0)).si();
  for (int i = 0; i < kSpeciesCount; ++i) {
    const Species s = species_at(i);
    if (!is_reported_form(s) || s == Species::HCO3 || s == Species::CO3) continue;
    const int z = charge_of(s);
    (z > 0 ? cations : anions) += std::abs(z) * molar(a, s);
  }
  return {units::mol_per_cubic_metre(cations), units::mol_per_cubic_metre(anions)};
}

double charge_balance_error_pct(const Analysis& a) {
  bool any_ion = reported_alkalinity(a).has_value();
  for (int i = 0; i < kSpeciesCount; ++i) {
    any_ion = any_ion || (charge_of(species_at(i)) != 0 && analysed(a, species_at(i)));
  }
  if (!any_ion) return 0.0;
  const auto [cations, anions] = reported_equivalents(a);
  return 100.0 * ((cations - anions) / (cations + anions));
}

units::Density dissolved_solids(const Analysis& a) {
  double sum = 0;
  for (int i = 0; i < kSpeciesCount; ++i) {
    if (is_reported_form(species_at(i))) sum += a[species_at(i)].counted().si();
  }
  if (a.alkalinity_as_calcium_carbonate) {
    sum += reported_alkalinity(a)->si() * molar_mass_of(Species::HCO3);
  }
  return units::Density(sum);
}

units::Density residue(const Analysis& a) {
  const double bicarbonate = a.alkalinity_as_calcium_carbonate
                                 ? reported_alkalinity(a)->si() * molar_mass_of(Species::HCO3)
                                 : a[Species::HCO3].counted().si();
  return units::Density(dissolved_solids(a).si() - bicarbonate * (1.0 - kBicarbonateLeftOnDrying));
}

units::Density hardness(const Analysis& a) {
  Composition c;
  c[Species::Ca] = molar(a, Species::Ca);
  c[Species::Mg] = molar(a, Species::Mg);
  return hardness(c);
}

units::Density alkalinity(const Analysis& a) {
  const auto charge = reported_alkalinity(a);
  return units::Density(charge ? charge->si() * kHalfCalciumCarbonate : 0.0);
}

}  // namespace drawoff::water
