#include "water/lab_units.h"

#include <gtest/gtest.h>

#include "water/species.h"

namespace drawoff::water {
namespace {

double converted(const char* of, double value, const char* unit, const char* basis = "") {
  const auto u = lab_unit(unit);
  EXPECT_TRUE(u) << unit;
  if (!u) return -1;
  const std::string counted = *basis != '\0' ? basis : u->basis;
  return mass_concentration(of, value, *u, counted).value_or(-1) * 1e3;
}

// 10 mg/L as N = 44.27 mg/L as NO3; 1 as N = 3.28 as NO2: 40 CFR 141.62 as the shared table of
// limits reads it. 0.5 as N = 0.644 as NH4, 45 as NO3 = 10.17 as N (the same table).
TEST(LabUnits, nitrogen_by_both_bases) {
  EXPECT_NEAR(converted("NO3", 10, "mg/L as N"), 44.27, 0.005);
  EXPECT_NEAR(converted("NO2", 1, "mg/L as N"), 3.284, 0.005);
  EXPECT_NEAR(converted("NH4", 0.5, "mg/L", "N"), 0.644, 0.0005);
  EXPECT_NEAR(converted("NO3", 10.17, "mg N/L"), 45, 0.03);
  EXPECT_NEAR(converted("NO3", 45, "mg/L as NO3"), 45, 1e-9);
}

// Degrees of hardness: German 17.85, French 10, English 14.25 mg/L as CaCO3; a grain a US gallon
// 17.1 (definitions; from memory).
TEST(LabUnits, hardness_in_every_degree) {
  EXPECT_NEAR(converted("hardness", 1, "°dH"), 17.85, 0.005);
  EXPECT_NEAR(converted("hardness", 1, "°fH"), 10, 1e-9);
  EXPECT_NEAR(converted("hardness", 1, "°Clark"), 14.254, 0.001);
  EXPECT_NEAR(converted("hardness", 1, "gpg"), 17.118, 0.001);
  EXPECT_NEAR(converted("hardness", 1, "grains per US gallon"), 17.118, 0.001);
  EXPECT_NEAR(converted("hardness", 1, "mmol/L"), 100.087, 0.001);
  EXPECT_NEAR(converted("hardness", 1, "meq/L"), 50.043, 0.001);
  EXPECT_NEAR(converted("hardness", 1, "mg/L as Ca"), 2.497, 0.001);
  EXPECT_NEAR(converted("hardness", 1, "mg CaO/L"), 1.7848, 0.0001);
}

TEST(LabUnits, the_rest_of_the_bases) {
  // 2.497 and 4.118: CaCO3 to Ca and to Mg (handbook factors, from memory).
  EXPECT_NEAR(converted("Ca", 100, "mg/L as CaCO3"), 100 / 2.497, 0.01);
  EXPECT_NEAR(converted("Mg", 100, "mg/L as CaCO3"), 100 / 4.118, 0.01);
  EXPECT_NEAR(converted("HCO3", 100, "mg/L as CaCO3"), 121.9, 0.05);
  EXPECT_NEAR(converted("alkalinity", 122, "mg/L as HCO3"), 100.06, 0.05);
  EXPECT_NEAR(converted("alkalinity", 2, "mmol/L"), 100.087, 0.001);
  EXPECT_NEAR(converted("SiO2", 10, "mg/L as Si"), 21.39, 0.01);
  EXPECT_NEAR(converted("PO4", 1, "mg/L as P"), 3.066, 0.001);
  EXPECT_NEAR(converted("PO4", 1, "mg/L P2O5"), 1.338, 0.001);
  EXPECT_NEAR(converted("SO4", 1, "mg/L", "S"), 2.996, 0.001);
  EXPECT_NEAR(converted("B", 1, "mg/L as H3BO3"), 0.1748, 0.0002);
  EXPECT_NEAR(converted("Ca", 1, "meq/L"), 20.04, 0.01);
  EXPECT_NEAR(converted("Fe", 200, "µg/L"), 0.2, 1e-12);
  EXPECT_NEAR(converted("As5", 5, "ppb"), 0.005, 1e-12);
  // What has no charge has no equivalents.
  EXPECT_EQ(mass_concentration("SiO2", 1, *lab_unit("meq/L"), ""), std::nullopt);
  // Nor is calcium counted as nitrogen.
  EXPECT_EQ(mass_concentration("Ca", 1, *lab_unit("mg/L"), "N"), std::nullopt);
}

// There and back, for every ion in every unit that can hold it.
TEST(LabUnits, round_trips) {
  for (int i = 0; i < kSpeciesCount; ++i) {
    const Species s = species_at(i);
    const std::string key = species_data(s).key;
    for (const char* text : {"mg/L",
                             "ug/L",
                             "g/L",
                             "ng/L",
                             "ppm",
                             "ppb",
                             "mmol/L",
                             "umol/L",
                             "mol/L",
                             "meq/L",
                             "ueq/L",
                             "eq/L",
                             "mval/L",
                             "gpg",
                             "mg/L as CaCO3",
                             "mg/kg"}) {
      const auto unit = lab_unit(text);
      ASSERT_TRUE(unit) << text;
      const auto one = mass_concentration(key, 1, *unit, unit->basis);
      if (!one) {
        EXPECT_EQ(charge_of(s), 0) << key << " in " << text;
        continue;
      }
      const double wanted = 0.037;  // kg/m³
      EXPECT_NEAR(mass_concentration(key, wanted / *one, *unit, unit->basis).value(), wanted, 1e-14)
          << key << " in " << text;
    }
    // An amount times the molar mass.
    EXPECT_NEAR(
        mass_concentration(key, 1, *lab_unit("mmol/L"), "").value(), molar_mass_of(s), 1e-15);
  }
}

TEST(LabUnits, ways_to_write_a_unit) {
  for (const char* text : {"mg/L",
                           "mg/l",
                           "mg l-1",
                           "mg·L⁻¹",
                           "mg / L",
                           "mg per litre",
                           "mg/dm³",
                           "milligrams per liter",
                           "MG/L",
                           "mg.l-1",
                           "ppm",
                           "g/m³"}) {
    const auto unit = lab_unit(text);
    ASSERT_TRUE(unit) << text;
    EXPECT_EQ(unit->kind, LabUnitKind::kMass) << text;
    EXPECT_DOUBLE_EQ(unit->factor, 1e-3) << text;
  }
  for (const char* text : {"µg/L", "μg/l", "ug/L", "mcg/L", "ppb"}) {
    const auto unit = lab_unit(text);
    ASSERT_TRUE(unit) << text;
    EXPECT_DOUBLE_EQ(unit->factor, 1e-6) << text;
  }
  for (const char* text : {"mg/L as CaCO3",
                           "mg/L CaCO3",
                           "mg CaCO3/L",
                           "mg/L (as CaCO3)",
                           "mg/L as CaCO₃",
                           "ppm as CaCO3",
                           "mg/L-CaCO3"}) {
    const auto unit = lab_unit(text);
    ASSERT_TRUE(unit) << text;
    EXPECT_EQ(unit->basis, "CaCO3") << text;
  }
  EXPECT_EQ(lab_unit("furlongs"), std::nullopt);
  EXPECT_EQ(lab_unit(""), std::nullopt);
}

TEST(LabUnits, ways_to_write_a_name) {
  const auto is =
      [](const char* text, const char* of, const char* basis = "", const char* unit = "") {
        const auto n = lab_name(text);
        ASSERT_TRUE(n) << text;
        EXPECT_EQ(n->of, of) << text;
        EXPECT_EQ(n->basis, basis) << text;
        EXPECT_EQ(n->unit, unit) << text;
      };
  is("Calcium", "Ca");
  is("Calcium (Ca)", "Ca", "Ca");
  is("Ca2+", "Ca");
  is("Ca²⁺ (mg/L)", "Ca", "", "mg/l");
  is("Calcium [mg/L]", "Ca", "", "mg/l");
  is("Calcium, mg/L", "Ca", "", "mg/l");
  is("Calcium, dissolved", "Ca");
  is("SO4--", "SO4");
  is("Sulphate", "SO4");
  is("Nitrate", "NO3");
  is("Nitrate as N", "NO3", "N");
  is("Nitrate (as NO3)", "NO3", "NO3");
  is("NO3-N", "NO3", "N");
  is("Nitrate-Nitrogen (mg/L)", "NO3", "N", "mg/l");
  is("Total Hardness (as CaCO3)", "hardness", "CaCO3");
  is("Hardness, Ca, Mg", "hardness", "CaCO3");
  is("Alkalinity, total", "alkalinity", "CaCO3");
  is("Chlorine, Free Residual", "free_chlorine");
  is("Escherichia coli", "e_coli");
  is("Leitfähigkeit (25 °C)", "conductivity");
  is("Dureza total", "hardness", "CaCO3");
  is("pH (lab)", "pH");
  EXPECT_EQ(lab_name("Iron (total)")->of, "iron_total");
  EXPECT_EQ(lab_name("Iron, dissolved")->of, "Fe");
  EXPECT_EQ(lab_name("Atrazine"), std::nullopt);
  EXPECT_EQ(lab_name(""), std::nullopt);
}

}  // namespace
}  // namespace drawoff::water
