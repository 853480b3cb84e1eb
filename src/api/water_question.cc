#include "api/water_question.h"

#include <cmath>

#include "water/activity.h"
#include "water/carbonate.h"
#include "water/conductivity.h"
#include "water/pitzer.h"
#include "water/properties.h"

namespace drawoff::api {

namespace {

using water::Analysis;
using water::Composition;
using water::Report;
using water::Species;

bool analysed(const Analysis& a, Species s) { return a[s].report != Report::kNotAnalysed; }

double milligrams(units::Density d) { return d / units::milligram_per_litre(1); }

// The constituents as reported, as inputs of a sum.
std::vector<WorkingInput> reported(const Analysis& a) {
  std::vector<WorkingInput> inputs;
  for (int i = 0; i < water::kSpeciesCount; ++i) {
    const Species s = water::species_at(i);
    if (!analysed(a, s)) continue;
    inputs.push_back({water::species_data(s).key, milligrams(a[s].counted()), "mg/L"});
  }
  if (a.alkalinity_as_calcium_carbonate) {
    inputs.push_back({"Alk", milligrams(*a.alkalinity_as_calcium_carbonate), "mg/L as CaCO3"});
  }
  return inputs;
}

// The free species, as inputs of a sum.
std::vector<WorkingInput> free_species(const Composition& c) {
  std::vector<WorkingInput> inputs;
  for (int i = 0; i < water::kSpeciesCount; ++i) {
    const Species s = water::species_at(i);
    if (c[s] > 0) inputs.push_back({water::species_data(s).key, c[s], "mmol/L"});
  }
  return inputs;
}

void explain_report(const Analysis& a, const WaterOutput& out, Working& working) {
  const auto sums = water::reported_equivalents(a);
  working.add({.result = "charge_balance_error_pct",
               .symbol = "E",
               .formula = "E = 100 (Σ⁺ − Σ⁻)/(Σ⁺ + Σ⁻)",
               .inputs = {{"Σ⁺", sums.cations.si(), "meq/L"}, {"Σ⁻", sums.anions.si(), "meq/L"}},
               .value = out.charge_balance_error * 100,
               .unit = "%",
               .source = "apha2005"});
  working.add(
      {.result = "tds_mg_L",
       .symbol = "TDS",
       .formula = a.alkalinity_as_calcium_carbonate ? "TDS = Σ cᵢ + 1.2192 Alk" : "TDS = Σ cᵢ",
       .inputs = reported(a),
       .value = milligrams(out.dissolved),
       .unit = "mg/L",
       .source = "apha2005"});
  working.add(
      {.result = "residue_mg_L",
       .symbol = "R180",
       .formula = "R180 = TDS − (1 − f) c(HCO3)",
       .inputs = {{"TDS", milligrams(out.dissolved), "mg/L"},
                  {"f", water::kBicarbonateLeftOnDrying, ""},
                  {"c(HCO3)",
                   milligrams(out.dissolved - out.residue) / (1 - water::kBicarbonateLeftOnDrying),
                   "mg/L"}},
       .value = milligrams(out.residue),
       .unit = "mg/L",
       .source = "apha2005"});
  if (out.hardness) {
    working.add({.result = "hardness_mg_L_CaCO3",
                 .symbol = "H",
                 .formula = "H = M(CaCO3) (Ca/M(Ca) + Mg/M(Mg))",
                 .inputs = {{"Ca", milligrams(a[Species::Ca].counted()), "mg/L"},
                            {"Mg", milligrams(a[Species::Mg].counted()), "mg/L"}},
                 .value = milligrams(*out.hardness),
                 .unit = "mg/L as CaCO3",
                 .source = "apha2005"});
  }
  if (out.alkalinity) {
    working.add({.result = "alkalinity_mg_L_CaCO3",
                 .symbol = "Alk",
                 .formula = "Alk = a M(CaCO3)/2,  a = c(HCO3) + 2 c(CO3)",
                 .inputs = {{"a", water::reported_alkalinity(a)->si(), "meq/L"}},
                 .value = milligrams(*out.alkalinity),
                 .unit = "mg/L as CaCO3",
                 .source = "apha2005"});
  }
}

void explain_solution(const Analysis& a,
                      const Composition& c,
                      const WaterOutput& out,
                      Working& working) {
  const double strength = out.ionic_strength.si() * 1e-3;  // mol/L
  const WorkingInput celsius{"t", units::in_celsius(a.temperature), "°C"};
  const WorkingInput kelvin{"T", a.temperature.si(), "K"};
  const auto ions = free_species(c);
  working.add({.result = "ionic_strength_mol_L",
               .symbol = "I",
               .formula = "I = ½ Σ zᵢ² cᵢ",
               .inputs = ions,
               .value = strength,
               .unit = "mol/L",
               .source = "robinson1959"});

  const auto carrying = [&](WorkingInput at) {
    auto inputs = ions;
    inputs.push_back({"I", strength, "mol/L"});
    inputs.push_back(std::move(at));
    return inputs;
  };
  constexpr auto kCarried = "κ = Σ |zᵢ| cᵢ [λᵢ − (B₁ |zᵢ| z_o λᵢ + B₂ |zᵢ|) √I/(1 + B a √I)]";
  working.add({.result = "conductivity_uS_cm",
               .symbol = "κ",
               .formula = kCarried,
               .inputs = carrying(celsius),
               .value = out.conductivity / units::microsiemens_per_cm(1),
               .unit = "µS/cm",
               .source = "robinson1959"});
  working.add({.result = "conductivity_25_uS_cm",
               .symbol = "κ₂₅",
               .formula = kCarried,
               .inputs = carrying({"t", 25, "°C"}),
               .value = out.conductivity_25 / units::microsiemens_per_cm(1),
               .unit = "µS/cm",
               .source = "robinson1959"});

  const double whole = water::total_molar(c).si();
  const double share = water::PitzerMixture(c, a.temperature).volume_share();
  const double ideal = water::kGasConstant * a.temperature.si() * whole / (1 - share);
  working.add({.result = "osmotic_pressure_bar",
               .symbol = "π",
               .formula = "π = φ R T Σc/(1 − v)",
               .inputs = {{"φ", out.osmotic.si() / ideal, ""},
                          {"R", water::kGasConstant, "J/(mol·K)"},
                          kelvin,
                          {"Σc", whole, "mmol/L"},
                          {"v", share, ""}},
               .value = out.osmotic / units::bar(1),
               .unit = "bar",
               .source = "pitzer1991"});
  const double pure = water::density(a.temperature).si();
  working.add({.result = "density_kg_m3",
               .symbol = "ρ",
               .formula = "ρ = ρ_w + Σ cᵢ (Mᵢ − ρ_w Vᵢ)",
               .inputs = {{"ρ_w", pure, "kg/m³"}, {"Σ", out.density.si() - pure, "kg/m³"}, celsius},
               .value = out.density.si(),
               .unit = "kg/m³",
               .source = "millero1971"});
  working.add({.result = "viscosity_mPa_s",
               .symbol = "µ",
               .formula =
                   "µ = 280.68 τ^−1.9 + 511.45 τ^−7.7 + 61.131 τ^−19.6 + 0.45903 τ^−40 [µPa·s], "
                   "τ = T/300 K",
               .inputs = {kelvin},
               .value = out.viscosity.si() * 1e3,
               .unit = "mPa·s",
               .source = "iapws2008"});
  if (out.carbon_dioxide) {
    working.add(
        {.result = "CO2_mg_L",
         .symbol = "CO2",
         .formula = "CO2 = M(CO2) γ c(HCO3) 10^(−pH)/K₁",
         .inputs = {{"M(CO2)", water::molar_mass_of(Species::CO2) * 1e3, "g/mol"},
                    {"γ", std::exp(water::davies_log_activity(strength, a.temperature)), ""},
                    {"c(HCO3)", c[Species::HCO3], "mmol/L"},
                    {"pH", a.ph, ""},
                    {"log K₁", water::kLogK1.at(a.temperature), ""}},
         .value = milligrams(*out.carbon_dioxide),
         .unit = "mg/L",
         .source = "plummer1982"});
  }
}

}  // namespace

base::Result<WaterOutput> ask_water(const water::AnalysisEntry& in, Working& working) {
  const Analysis a = water::analysis_of(in);
  TRY(const Composition c, water::speciate(a));

  WaterOutput out;
  out.charge_balance_error = water::charge_balance_error_pct(a) / 100;
  out.dissolved = water::dissolved_solids(a);
  out.residue = water::residue(a);
  if (analysed(a, Species::Ca) && analysed(a, Species::Mg)) out.hardness = water::hardness(a);
  if (water::reported_alkalinity(a)) out.alkalinity = water::alkalinity(a);
  // From an alkalinity of zero nothing can be said of the carbon dioxide.
  if (out.alkalinity && out.alkalinity->si() > 0) {
    out.carbon_dioxide = units::Density(c[Species::CO2] * water::molar_mass_of(Species::CO2));
  }
  out.ionic_strength = water::ionic_strength(c);
  out.conductivity = water::conductivity(c, a.temperature);
  out.conductivity_25 = water::conductivity_25(c);
  out.osmotic = water::osmotic_pressure(c, a.temperature);
  out.density = water::solution_density(c, a.temperature);
  out.viscosity = water::viscosity(a.temperature);

  if (working.asked()) {
    explain_report(a, out, working);
    explain_solution(a, c, out, working);
  }
  return out;
}

}  // namespace drawoff::api
