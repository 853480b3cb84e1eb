#include "water/saturation.h"
#include <gtest/gtest.h>
#include <cmath>
#include "base/reference_table.h"
#include "water/analysis.h"
namespace drawoff::water {
namespace {
Analysis reference_water(const std::string& name) {
  const auto inputs = base::reference_table("phreeqc_inputs.csv");
  for (std::size_t w = 0; w < inputs.rows(); ++w) {
    if (inputs.text(w, "water") != name) continue;
    Analysis a;
    a.ph = inputs.number(w, "pH_25C");
    const auto put = [&](Species s, const char* column) {
      a[s] = measured(units::milligram_per_litre(inputs.number(w, column)));
    };
    put(Species::Ca, "Ca_mg_L");
    put(Species::Mg, "Mg_mg_L");
    put(Species::Na, "Na_mg_L");
    put(Species::K, "K_mg_L");
    put(Species::HCO3, "Alk_mg_L_as_HCO3");
    put(Species::Cl, "Cl_mg_L");
    put(Species::SO4, "SO4_mg_L");
    put(Species::NO3, "NO3_mg_L");
    put(Species::Ba, "Ba_mg_L");
    put(Species::Sr, "Sr_mg_L");
    put(Species::F, "F_mg_L");
    put(Species::SiO2, "SiO2_mg_L");
    return a;
  }
  ADD_FAILURE();
  return {};
}
TEST(Speciation, reproduces_phreeqc) {
  const auto results = base::reference_table("phreeqc_results.csv");
  for (std::size_t r = 0; r < results.rows(); ++r) {
    if (results.text(r, "database") != "wateq4f.dat") continue;
    const auto T = units::celsius(results.number(r, "T_C"));
    Analysis a = reference_water(results.text(r, "water"));
    const bool closed = results.text(r, "method")[0] == 'A';
    Composition c;
    for (int i = 0; i < kSpeciesCount; ++i)
      c.mol_m3[i] = a.constituents[i].counted().si() / molar_mass_of(species_at(i));
    const auto alk = *reported_alkalinity(a);
    Speciation s = speciation_at_ph(c, alk, a.ph, closed ? units::celsius(25) : T);
    if (closed) s = closed_speciation(s.total, T);
    auto d = [&](const char* n, double v) {
      std::printf(" %s %+.4f", n, v - results.number(r, n));
    };
    std::printf("%s %c %g:",
                results.text(r, "water").c_str(),
                closed ? 'A' : 'B',
                results.number(r, "T_C"));
    d("pH", s.ph);
    std::printf(" I%% %+.3f",
                (s.ionic_strength / results.number(r, "ionic_strength_mol_kgw") - 1) * 100);
    d("SI_calcite", saturation_index(s, Mineral::kCalcite));
    d("SI_gypsum", saturation_index(s, Mineral::kGypsum));
    d("SI_fluorite", saturation_index(s, Mineral::kFluorite));
    d("SI_SiO2", saturation_index(s, Mineral::kSilica));
    d("SI_barite", saturation_index(s, Mineral::kBarite));
    d("SI_celestite", saturation_index(s, Mineral::kCelestite));
    std::printf(
        " Ca%% %+.3f",
        (s.free[Species::Ca] / s.water / results.number(r, "Ca_free_mmol_kgw") * 1e3 - 1) * 100);
    std::printf(
        " HCO3%% %+.3f",
        (s.free[Species::HCO3] / s.water / results.number(r, "HCO3_free_mmol_kgw") * 1e3 - 1) *
            100);
    std::printf(" gCa %+.4f",
                std::exp(s.log_activity(Species::Ca)) / (s.free[Species::Ca] / s.water) -
                    results.number(r, "gamma_Ca"));
    std::printf(" gHCO3 %+.4f\n",
                std::exp(s.log_activity(Species::HCO3)) / (s.free[Species::HCO3] / s.water) -
                    results.number(r, "gamma_HCO3"));
  }
  const auto cc = base::reference_table("phreeqc_ccpp.csv");
  for (std::size_t r = 0; r < cc.rows(); ++r) {
    if (cc.text(r, "database") != "wateq4f.dat") continue;
    const auto T = units::celsius(cc.number(r, "T_C"));
    Analysis a = reference_water(cc.text(r, "water"));
    Composition c;
    for (int i = 0; i < kSpeciesCount; ++i)
      c.mol_m3[i] = a.constituents[i].counted().si() / molar_mass_of(species_at(i));
    Speciation s = speciation_at_ph(c, *reported_alkalinity(a), a.ph, units::celsius(25));
    const auto p = calcite_precipitation(s.total, T);
    std::printf("%s %g: %.3f vs %.3f, pH %.4f vs %.4f\n",
                cc.text(r, "water").c_str(),
                cc.number(r, "T_C"),
                p.calcium_carbonate * 100.0869 / s.water * 1000,
                cc.number(r, "CCPP_mg"),
                p.after.ph,
                cc.number(r, "pH_after"));
  }
}
}  // namespace
}  // namespace drawoff::water
