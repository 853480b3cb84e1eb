#include "water/analysis.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <string>
#include <utility>
#include <vector>

#include "water/activity.h"
#include "water/carbonate.h"

namespace drawoff::water {
namespace {

constexpr double kHalfCalciumCarbonate = 0.1000869 / 2;  // kg per mole of charge
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

base::Result<Composition> speciate(const Analysis& a) {
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

  const double alkalinity =
      reported_alkalinity(a).value_or(units::mol_per_cubic_metre(0)).si() * 1e-3;  // mol/L
  const double k1 = std::pow(10.0, kLogK1.at(a.temperature));
  const double k2 = std::pow(10.0, kLogK2.at(a.temperature));
  const double kw = std::pow(10.0, kLogKw.at(a.temperature));
  const double hydrogen = std::pow(10.0, -a.ph);  // activity
  c[Species::HCO3] = alkalinity * 1e3;
  c[Species::CO3] = 0;
  // The ionic strength depends on the split a little, the split on it a little: a few rounds
  // settle.
  double missing = 0;
  for (int round = 0; round < 12; ++round) {
    const double g1 = std::exp(davies_log_activity(ionic_strength(c).si() * 1e-3, a.temperature));
    const double g2 = g1 * g1 * g1 * g1;
    const double free_hydrogen = hydrogen / g1;
    const double free_hydroxide = kw / (hydrogen * g1);
    const double carbonate_alkalinity =
        alkalinity > 0 ? alkalinity - free_hydroxide + free_hydrogen : 0.0;
    missing = -1e3 * (alkalinity - free_hydroxide + free_hydrogen);
    const double ratio = k2 * g1 / (hydrogen * g2);  // [CO3]/[HCO3]
    const double bicarbonate = std::max(carbonate_alkalinity, 0.0) / (1.0 + 2.0 * ratio);
    c[Species::H] = free_hydrogen * 1e3;
    c[Species::OH] = free_hydroxide * 1e3;
    c[Species::HCO3] = bicarbonate * 1e3;
    c[Species::CO3] = bicarbonate * ratio * 1e3;
    c[Species::CO2] = hydrogen * bicarbonate * g1 / k1 * 1e3;
  }
  if (reported_alkalinity(a) && missing > kAlkalinityResolution) {
    return data_error("water.alkalinity_below_hydroxide",
                      {{"value", base::Number{alkalinity * 1e6 * kHalfCalciumCarbonate, "mg/L"}},
                       {"ph", base::Number{a.ph, ""}}});
  }
  return c;
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
