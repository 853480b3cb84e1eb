// calc water: what a fully analysed water is.
//
// The input is the analysis as a laboratory reports it (water/analysis_entry.h). The sums over the
// report (charge balance, dissolved solids, residue, hardness, alkalinity) use it as it stands;
// all else comes from the forms that they take at the water's own temperature (water/speciation.h);
// the conductivity at 25 °C is that of the closed water there.
//
// null: hardness without both Ca and Mg, alkalinity and CO2 without an alkalinity, CO2 also with
// an alkalinity of zero; an index one of whose substances was not analysed or is not there.
// Viscosity is that of pure water at the temperature: dissolved salts raise it by about 0.1 % per
// g/L (from memory), less than the plates of this trade are good for.
//
//   TRY(WaterOutput out, ask_water(entry, working));   out.osmotic / bar(1)
#pragma once

#include <optional>
#include <tuple>

#include "api/question.h"
#include "water/analysis_entry.h"

namespace drawoff::api {

struct SaturationIndices {
  std::optional<double> calcite, aragonite, gypsum, barite, celestite, fluorite, silica;
};

struct WaterOutput {
  double charge_balance_error = 0;           // share, nominal charges
  units::Density dissolved;                  // Σ of the constituents as reported
  units::Density residue;                    // left on drying at 180 °C
  std::optional<units::Density> hardness;    // Ca + Mg as CaCO3
  std::optional<units::Density> alkalinity;  // as CaCO3
  double ph = 7;                             // at the water's temperature
  units::MolarConcentration ionic_strength;  // of the free species and complexes
  units::Conductivity conductivity;          // at the water's temperature
  units::Conductivity conductivity_25;
  units::Pressure osmotic;     // against pure water
  units::Density density;      // of the solution
  units::Viscosity viscosity;  // of pure water
  std::optional<units::Density> carbon_dioxide;
  SaturationIndices saturation;
  std::optional<double> langelier;
  std::optional<double> ryznar;
  std::optional<units::Density> precipitation;  // CCPP, as CaCO3
};

base::Result<WaterOutput> ask_water(const water::AnalysisEntry& in, Working& working);

}  // namespace drawoff::api

namespace drawoff::fields {

template <>
struct Table<api::SaturationIndices> {
  using T = api::SaturationIndices;
  static constexpr std::string_view name = "saturation_indices";
  static constexpr auto list = std::make_tuple(field("calcite", &T::calcite, kNullWhenAbsent),
                                               field("aragonite", &T::aragonite, kNullWhenAbsent),
                                               field("gypsum", &T::gypsum, kNullWhenAbsent),
                                               field("barite", &T::barite, kNullWhenAbsent),
                                               field("celestite", &T::celestite, kNullWhenAbsent),
                                               field("fluorite", &T::fluorite, kNullWhenAbsent),
                                               field("silica", &T::silica, kNullWhenAbsent));
};
template <>
struct Table<api::WaterOutput> {
  using T = api::WaterOutput;
  static constexpr std::string_view name = "water_output";
  static constexpr auto list =
      std::make_tuple(field("charge_balance_error_pct", &T::charge_balance_error),
                      field("tds_mg_L", &T::dissolved),
                      field("residue_mg_L", &T::residue),
                      field("hardness_mg_L_CaCO3", &T::hardness, kNullWhenAbsent),
                      field("alkalinity_mg_L_CaCO3", &T::alkalinity, kNullWhenAbsent),
                      field("pH", &T::ph),
                      field("ionic_strength_mol_L", &T::ionic_strength),
                      field("conductivity_uS_cm", &T::conductivity),
                      field("conductivity_25_uS_cm", &T::conductivity_25),
                      field("osmotic_pressure_bar", &T::osmotic),
                      field("density_kg_m3", &T::density),
                      field("viscosity_mPa_s", &T::viscosity),
                      field("CO2_mg_L", &T::carbon_dioxide, kNullWhenAbsent),
                      field("saturation_index", &T::saturation),
                      field("langelier_index", &T::langelier, kNullWhenAbsent),
                      field("ryznar_index", &T::ryznar, kNullWhenAbsent),
                      field("ccpp_mg_L_CaCO3", &T::precipitation, kNullWhenAbsent));
};

}  // namespace drawoff::fields
