#include "water/mixing.h"

#include <gtest/gtest.h>

#include "base/reference_table.h"
#include "water/diffusivity.h"
#include "water/waters_test.h"

namespace drawoff::water {
namespace {

using units::celsius;
using units::litre_per_hour;

// US Army TM 5-813-8, appendix A: 500 wanted from 303 and 800 mg/L needs 39.6 % raw water.
TEST(Mixing, raw_share_of_the_published_example) {
  EXPECT_NEAR(raw_share({.target = 500, .product = 303, .raw = 800}), 0.396, 5e-4);
}

TEST(Mixing, raw_share_and_mix_agree) {
  const Composition raw = sodium_chloride(units::milligram_per_litre(800));
  const Composition product = sodium_chloride(units::milligram_per_litre(303));
  const double b = raw_share({.target = 500, .product = 303, .raw = 800});
  const Composition mix =
      mixed({product, litre_per_hour(10 * (1 - b))}, {raw, litre_per_hour(10 * b)});
  EXPECT_NEAR(total_dissolved(mix) / units::milligram_per_litre(1), 500.0, 1e-9);
}

TEST(Mixing, mass_is_kept) {
  const Stream a{gypsum_water(), litre_per_hour(3)};
  const Stream b{sodium_chloride(units::milligram_per_litre(20)), litre_per_hour(11)};
  const Composition mix = mixed(a, b);
  for (std::size_t i = 0; i < mix.mol_m3.size(); ++i) {
    const double in = 3 * a.composition.mol_m3[i] + 11 * b.composition.mol_m3[i];
    EXPECT_NEAR(14 * mix.mol_m3[i], in, 1e-13 * (1 + in));
  }
  EXPECT_EQ(mixed({gypsum_water(), litre_per_hour(0)}, {Composition{}, litre_per_hour(0)}),
            gypsum_water());
}

// Nernst-Hartley from CRC mobilities at infinite dilution, 1e-9 m²/s, to the digits given.
TEST(Diffusivity, single_salts_at_25_degrees) {
  const auto d = [](const char* salt) {
    return salt_diffusivity_25(salt_solution(salt, 0.01, celsius(25))).si() * 1e9;
  };
  EXPECT_NEAR(d("NaCl"), 1.611, 6e-4);
  EXPECT_NEAR(d("KCl"), 1.994, 6e-4);
  EXPECT_NEAR(d("CaCl2"), 1.335, 6e-4);
  EXPECT_NEAR(d("MgCl2"), 1.250, 6e-4);
  EXPECT_NEAR(d("Na2SO4"), 1.230, 6e-4);
  EXPECT_NEAR(d("MgSO4"), 0.849, 6e-4);
  EXPECT_NEAR(salt_diffusivity_25(Composition{}).si() * 1e9, 1.611, 6e-4);
}

// The D column of the mass-transfer table: 1.611e-9 at 25 °C scaled by T/µ, six digits, with IAPWS
// 2008 viscosity there and the 0.1 MPa form here.
TEST(Diffusivity, temperature_scaling_of_the_reference_table) {
  const base::Csv table = base::reference_table("schock_miquel.csv");
  for (std::size_t row = 0; row < table.rows(); ++row) {
    const units::Temperature t = celsius(table.number(row, "T_C"));
    const double expected = table.number(row, "D_m2_s");
    EXPECT_NEAR(diffusivity_at(units::Diffusivity(1.611e-9), t).si(),
                expected,
                kViscosityRelativeError * expected)
        << t.si();
  }
}

}  // namespace
}  // namespace drawoff::water
