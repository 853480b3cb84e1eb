#include "water/osmotic_curve.h"

#include <gtest/gtest.h>

#include <cmath>
#include <string>

#include "water/pitzer.h"
#include "water/waters_test.h"

namespace drawoff::water {
namespace {

using numerics::Dual;
using units::celsius;

double exact_pressure(const PitzerMixture& mixture, double s, double kelvin) {
  return mixture.osmotic_coefficient(s).x * kGasConstant * kelvin * mixture.total_molar() * s /
         (1.0 - s * mixture.volume_share());
}

void expect_follows_model(const Composition& c, units::Temperature t, const std::string& name) {
  const OsmoticCurve curve(c, t);
  const PitzerMixture mixture(c, t);
  double worst = 0;
  for (int i = 1; i <= 3000; ++i) {
    // Cubed, so that the beginning, where φ bends most, is looked at most closely.
    const double s = curve.s_max() * std::pow(i / 3000.0, 3);
    const double relative = curve.pressure(s, t.si()) / exact_pressure(mixture, s, t.si()) - 1.0;
    worst = std::max(worst, std::abs(relative));
  }
  EXPECT_LT(worst, kOsmoticCurveRelativeError) << name;
}

// Tolerance: the error that the header exports, over dilute and strong waters of every kind of
// salt.
TEST(OsmoticCurve, follows_the_pitzer_model) {
  for (const char* salt : {"NaCl", "KCl", "CaCl2", "Na2SO4", "MgSO4"}) {
    for (const double molality : {0.0005, 0.01, 0.1, 0.6}) {
      expect_follows_model(salt_solution(salt, molality, celsius(18)), celsius(18), salt);
    }
  }
  for (const double strength : {0.02, 0.2, 1.0, 10.0, 60.0}) {
    expect_follows_model(scaled(gypsum_water(), strength), celsius(12), "gypsum");
  }
  expect_follows_model(sea_salt(35, units::Density(1023)), celsius(25), "sea salt");
}

TEST(OsmoticCurve, ends_at_the_models_own_limit) {
  const OsmoticCurve weak(sodium_chloride(units::milligram_per_litre(500)), celsius(25));
  EXPECT_EQ(weak.s_max(), 60.0);
  const Composition sea = sea_salt(35, units::Density(1023));
  const OsmoticCurve strong(sea, celsius(25));
  EXPECT_LT(strong.s_max(), 10.0);
  // At its end the ionic strength is 6 mol/kg water.
  const PitzerMixture mixture(sea, celsius(25));
  const double sigma = strong.s_max() / (1.0 - strong.s_max() * mixture.volume_share());
  EXPECT_NEAR(sigma * mixture.ionic_strength(), 6.0, 1e-9);
}

TEST(OsmoticCurve, is_zero_without_salt_and_rises_always) {
  const OsmoticCurve curve(gypsum_water(), celsius(20));
  EXPECT_EQ(curve.pressure(0.0, celsius(20)).si(), 0.0);
  double last = -1;
  for (double s = 0; s < 1.2 * curve.s_max(); s += 0.01) {
    const double pi = curve.pressure(s, celsius(20)).si();
    EXPECT_GT(pi, last) << s;
    last = pi;
  }
  EXPECT_EQ(OsmoticCurve(Composition{}, celsius(20)).pressure(2.0, celsius(20)).si(), 0.0);
}

// Central differences; steps of 1e-5 in s and 0.01 K keep their own error below 1e-7 of the slope.
// 1e-6 leaves room for the curve's segments, whose slopes meet only to that.
TEST(OsmoticCurve, derivatives_are_those_of_finite_differences) {
  const units::Temperature t0 = celsius(17);
  const OsmoticCurve curve(gypsum_water(), t0);
  const double beyond = curve.s_max() * 1.1;
  for (const double s : {0.003, 0.05, 1.0, 4.321, 17.0, beyond}) {
    for (const double kelvin : {t0.si(), t0.si() + 3.0}) {
      const auto pi = curve.pressure(Dual<2>::variable(s, 0), Dual<2>::variable(kelvin, 1));
      EXPECT_EQ(pi.x, curve.pressure(s, kelvin));
      const double hs = 1e-5 * s;
      const double by_s =
          (curve.pressure(s + hs, kelvin) - curve.pressure(s - hs, kelvin)) / (2 * hs);
      EXPECT_NEAR(pi.v[0], by_s, 1e-6 * by_s) << s;
      if (s > curve.s_max()) continue;  // T slope of the tangent is approximate there
      const double by_t =
          (curve.pressure(s, kelvin + 0.01) - curve.pressure(s, kelvin - 0.01)) / 0.02;
      EXPECT_NEAR(pi.v[1], by_t, 1e-6 * std::abs(by_t)) << s;
    }
  }
}

// The slope at s = 0, where φ itself has none, is van 't Hoff's; the tangents continue it to both
// sides.
TEST(OsmoticCurve, continues_smoothly_beyond_its_ends) {
  const double t = celsius(20).si();
  const OsmoticCurve curve(gypsum_water(), celsius(20));
  const auto at = [&](double s) { return curve.pressure(Dual<1>::variable(s, 0), Dual<1>(t)); };
  const double ideal = kGasConstant * t * curve.total_molar().si();
  EXPECT_DOUBLE_EQ(at(0.0).v[0], ideal);
  EXPECT_NEAR(at(1e-12).v[0], ideal, 1e-5 * ideal);
  EXPECT_LT(at(-0.1).x, 0.0);
  const double end = curve.s_max();
  EXPECT_NEAR(at(end * (1 + 1e-12)).v[0], at(end).v[0], 1e-9 * at(end).v[0]);
  EXPECT_NEAR(at(2 * end).x, at(end).x + end * at(end).v[0], 1e-9 * at(2 * end).x);
}

// The temperature slope at T₀ is the model's; 5 K off the straight line still errs by less than
// 0.05 % of π.
TEST(OsmoticCurve, temperature_slope_is_that_of_the_model) {
  const units::Temperature t0 = celsius(20);
  const OsmoticCurve curve(gypsum_water(), t0);
  for (const double s : {0.02, 1.0, 8.0}) {
    const auto pi = curve.pressure(Dual<1>(s), Dual<1>::variable(t0.si(), 0));
    const auto phi = PitzerMixture(gypsum_water(), t0).osmotic_coefficient(s);
    EXPECT_NEAR(pi.v[0] / pi.x, 1.0 / t0.si() + phi.v[0] / phi.x, 1e-7);
    const PitzerMixture warm(gypsum_water(), celsius(25));
    const double exact = exact_pressure(warm, s, celsius(25).si());
    EXPECT_NEAR(curve.pressure(s, celsius(25).si()), exact, 5e-4 * exact) << s;
  }
}

// Geankoplis, example 13.9-1: 0.1 mol NaCl per kg of water, 997 kg/m³, 298.15 K, van 't Hoff: 4.878
// atm (R = 0.082057 L·atm/(mol·K), five digits).
TEST(OsmoticCurve, ideal_curve_is_van_t_hoff) {
  const OsmoticCurve curve =
      OsmoticCurve::ideal(units::mol_per_cubic_metre(2 * 0.1 * 997.0), celsius(25));
  EXPECT_NEAR(curve.pressure(1.0, celsius(25)) / units::pascal(101325), 4.878, 5e-4);
  EXPECT_NEAR(curve.pressure(100.0, celsius(25)) / units::pascal(101325), 487.8, 5e-2);
  EXPECT_NEAR(curve.osmotic_coefficient(3.0), 1.0, 1e-14);
}

}  // namespace
}  // namespace drawoff::water
