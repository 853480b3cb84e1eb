#include "api/water_question.h"

#include <array>
#include <cmath>
#include <numbers>

#include "water/carbonate.h"
#include "water/conductivity.h"
#include "water/pitzer.h"
#include "water/properties.h"
#include "water/saturation.h"

namespace drawoff::api {

namespace {

using water::Analysis;
using water::Composition;
using water::Mineral;
using water::Report;
using water::Speciation;
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

// The free species and complexes, as inputs of a sum.
std::vector<WorkingInput> forms(const Speciation& w) {
  std::vector<WorkingInput> inputs;
  for (int i = 0; i < water::kSpeciesCount; ++i) {
    const Species s = water::species_at(i);
    if (w.free[s] > 0) inputs.push_back({water::species_data(s).key, w.free[s], "mmol/L"});
  }
  for (std::size_t i = 0; i < w.complexes.size(); ++i) {
    if (w.complexes[i] > 0) {
      inputs.push_back({water::complexes()[i].formula, w.complexes[i], "mmol/L"});
    }
  }
  return inputs;
}

struct IndexOf {
  const char* key;
  Mineral mineral;
  std::optional<double> SaturationIndices::*index;
};
constexpr std::array kIndices{
    IndexOf{"calcite", Mineral::kCalcite, &SaturationIndices::calcite},
    IndexOf{"aragonite", Mineral::kAragonite, &SaturationIndices::aragonite},
    IndexOf{"gypsum", Mineral::kGypsum, &SaturationIndices::gypsum},
    IndexOf{"barite", Mineral::kBarite, &SaturationIndices::barite},
    IndexOf{"celestite", Mineral::kCelestite, &SaturationIndices::celestite},
    IndexOf{"fluorite", Mineral::kFluorite, &SaturationIndices::fluorite},
    IndexOf{"silica", Mineral::kSilica, &SaturationIndices::silica}};
static_assert(kIndices.size() == water::kMineralCount);

// An activity as the paper has it.
WorkingInput log_activity(const Speciation& w, Species s) {
  return {"log a(" + water::species_data(s).key + ")", w.log_activity(s) / std::numbers::ln10, ""};
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

void explain_solution(const Speciation& w, const WaterOutput& out, Working& working) {
  const double strength = out.ionic_strength.si() * 1e-3;  // mol/L
  const Composition& c = w.total;
  const WorkingInput celsius{"t", units::in_celsius(w.temperature), "°C"};
  const WorkingInput kelvin{"T", w.temperature.si(), "K"};
  const auto ions = forms(w);
  working.add({.result = "pH",
               .symbol = "pH",
               .formula = "pH = −log a(H)",
               .inputs = {log_activity(w, Species::H), celsius},
               .value = w.ph,
               .unit = "",
               .source = "plummer1982"});
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
  const double share = water::PitzerMixture(c, w.temperature).volume_share();
  const double ideal = water::kGasConstant * w.temperature.si() * whole / (1 - share);
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
  const double pure = water::density(w.temperature).si();
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
         .formula = "CO2 = M(CO2) ρ_w a(HCO3) a(H)/(K₁ γ(CO2))",
         .inputs = {{"M(CO2)", water::molar_mass_of(Species::CO2) * 1e3, "g/mol"},
                    log_activity(w, Species::HCO3),
                    log_activity(w, Species::H),
                    {"log K₁", water::kLogK1.at(w.temperature), ""},
                    {"γ(CO2)",
                     std::exp(w.log_activity(Species::CO2)) / (w.free[Species::CO2] / w.water),
                     ""},
                    {"ρ_w", w.water, "kg/m³"}},
         .value = milligrams(*out.carbon_dioxide),
         .unit = "mg/L",
         .source = "plummer1982"});
  }
}

void explain_saturation(const Speciation& w, const WaterOutput& out, Working& working) {
  for (const IndexOf& row : kIndices) {
    if (!(out.saturation.*row.index)) continue;
    const water::MineralData& m = water::mineral(row.mineral);
    std::vector<WorkingInput> inputs;
    for (const auto& p : m.parts) inputs.push_back(log_activity(w, p.species));
    inputs.push_back({"log K", m.log_k.at(w.temperature), ""});
    if (m.water > 0) inputs.push_back({"log a(H2O)", water::log_water_activity(w), ""});
    working.add({.result = std::string("saturation_index.") + row.key,
                 .symbol = "SI",
                 .formula = "SI = Σ ν log a − log K",
                 .inputs = std::move(inputs),
                 .value = *(out.saturation.*row.index),
                 .unit = "",
                 .source = m.source});
  }
  if (out.langelier) {
    const double saturation_ph = w.ph - *out.langelier;
    working.add(
        {.result = "langelier_index",
         .symbol = "LI",
         .formula = "LI = pH − pH_s,  pH_s = log K − log K₂ − log a(Ca) − log a(HCO3)",
         .inputs = {{"pH", w.ph, ""},
                    {"pH_s", saturation_ph, ""},
                    log_activity(w, Species::Ca),
                    log_activity(w, Species::HCO3),
                    {"log K₂", water::kLogK2.at(w.temperature), ""},
                    {"log K", water::mineral(Mineral::kCalcite).log_k.at(w.temperature), ""}},
         .value = *out.langelier,
         .unit = "",
         .source = "apha2005"});
    working.add({.result = "ryznar_index",
                 .symbol = "RI",
                 .formula = "RI = 2 pH_s − pH",
                 .inputs = {{"pH", w.ph, ""}, {"pH_s", saturation_ph, ""}},
                 .value = *out.ryznar,
                 .unit = "",
                 .source = "apha2005"});
  }
  if (out.precipitation) {
    working.add({.result = "ccpp_mg_L_CaCO3",
                 .symbol = "CCPP",
                 .formula = "SI(Ca − x, C − x, Alk − 2 x) = 0,  CCPP = x M(CaCO3)",
                 .inputs = {{"Ca", w.total[Species::Ca], "mmol/L"},
                            {"C", water::carbonate_of(w.total), "mmol/L"},
                            {"Alk", water::alkalinity_of(w.total), "meq/L"},
                            {"M(CaCO3)", water::kCalciumCarbonate * 1e3, "g/mol"}},
                 .value = milligrams(*out.precipitation),
                 .unit = "mg/L as CaCO3",
                 .source = "plummer1982"});
  }
}

// An index for each mineral whose substances are there.
SaturationIndices indices_of(const Speciation& w) {
  SaturationIndices out;
  for (const IndexOf& row : kIndices) {
    const double index = water::saturation_index(w, row.mineral);
    if (std::isfinite(index)) out.*row.index = index;
  }
  return out;
}

}  // namespace

base::Result<WaterOutput> ask_water(const water::AnalysisEntry& in, Working& working) {
  const Analysis a = water::analysis_of(in);
  TRY(const Speciation w, water::speciation(a));

  WaterOutput out;
  out.charge_balance_error = water::charge_balance_error_pct(a) / 100;
  out.dissolved = water::dissolved_solids(a);
  out.residue = water::residue(a);
  if (analysed(a, Species::Ca) && analysed(a, Species::Mg)) out.hardness = water::hardness(a);
  if (water::reported_alkalinity(a)) out.alkalinity = water::alkalinity(a);
  // From an alkalinity of zero nothing can be said of the carbon dioxide.
  const bool carbonate = out.alkalinity && out.alkalinity->si() > 0;
  if (carbonate) {
    out.carbon_dioxide = units::Density(w.free[Species::CO2] * water::molar_mass_of(Species::CO2));
  }
  out.ph = w.ph;
  out.ionic_strength = units::mol_per_cubic_metre(w.ionic_strength * w.water);
  const units::Temperature reference = units::celsius(25);
  out.conductivity = water::conductivity(w);
  out.conductivity_25 = w.temperature == reference
                            ? out.conductivity
                            : water::conductivity(water::closed_speciation(w.total, reference));
  out.osmotic = water::osmotic_pressure(w.total, w.temperature);
  out.density = water::solution_density(w.total, w.temperature);
  out.viscosity = water::viscosity(w.temperature);
  out.saturation = indices_of(w);
  if (out.saturation.calcite) {
    const auto balance = water::calcite_balance(w);
    out.langelier = balance.langelier;
    out.ryznar = balance.ryznar;
  }
  if (carbonate && analysed(a, Species::Ca)) {
    out.precipitation =
        units::Density(water::calcite_precipitation(w.total, w.temperature).calcium_carbonate *
                       water::kCalciumCarbonate);
  }

  if (working.asked()) {
    explain_report(a, out, working);
    explain_solution(w, out, working);
    explain_saturation(w, out, working);
  }
  return out;
}

}  // namespace drawoff::api
