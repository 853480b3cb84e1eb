#include "water/properties.h"

#include <gtest/gtest.h>

#include "base/reference_table.h"

namespace drawoff::water {
namespace {

using numerics::Dual;
using units::celsius;

// IAPWS-95 density, 2008 viscosity, 1997 permittivity at 0.101325 MPa. Tolerance: each
// correlation's own kRelativeError, plus the rounding of the table's last digit.
TEST(Properties, are_those_of_iapws) {
  const base::Csv table = base::reference_table("water_iapws.csv");
  ASSERT_GE(table.rows(), 11u);
  for (std::size_t row = 0; row < table.rows(); ++row) {
    const units::Temperature t = celsius(table.number(row, "T_C"));
    const double rho = table.number(row, "density_kg_m3");
    const double mu = table.number(row, "dyn_viscosity_mPa_s");
    const double epsilon = table.number(row, "static_permittivity");
    EXPECT_NEAR(density(t).si(), rho, kDensityRelativeError * rho + 5e-5) << t.si();
    EXPECT_NEAR(viscosity(t).si() * 1e3, mu, kViscosityRelativeError * mu + 5e-6) << t.si();
    EXPECT_NEAR(relative_permittivity(t), epsilon, kPermittivityRelativeError * epsilon + 5e-4)
        << t.si();
  }
}

// The same literals as in the header, 25 °C: IAPWS density and viscosity; for the permittivity the
// value that the release itself gives for its fit (from memory).
TEST(Properties, check_values_of_the_header) {
  EXPECT_NEAR(density(celsius(25)).si(), 997.0476, 1e-3);
  EXPECT_NEAR(viscosity(celsius(25)).si() * 1e3, 0.89002, 1e-4);
  EXPECT_NEAR(relative_permittivity(celsius(25)), 78.3752, 1e-4);
}

// [tanaka2001]: the maximum of density lies at 3.983 °C.
TEST(Properties, density_has_its_maximum_at_4_degrees) {
  const auto slope = [](double t) {
    return density(TemperatureOf<Dual<1>>(Dual<1>::variable(celsius(t).si(), 0))).si().v[0];
  };
  EXPECT_GT(slope(3.97), 0);
  EXPECT_LT(slope(4.00), 0);
}

// Central difference with a step of 0.01 K: its own error is below 1e-6 of the slope here.
TEST(Properties, derivatives_are_those_of_finite_differences) {
  const auto expect_slope = [](auto f, double t) {
    const double step = 0.01;
    const Dual<1> x = Dual<1>::variable(celsius(t).si(), 0);
    const double exact = f(TemperatureOf<Dual<1>>(x)).v[0];
    const double difference = (f(celsius(t + step)) - f(celsius(t - step))) / (2 * step);
    EXPECT_NEAR(exact, difference, 2e-6 * std::abs(exact)) << t;
  };
  for (const double t : {1.0, 10.0, 25.0, 45.0}) {
    expect_slope([](auto x) { return density(x).si(); }, t);
    expect_slope([](auto x) { return viscosity(x).si(); }, t);
    expect_slope([](auto x) { return relative_permittivity(x); }, t);
  }
}

}  // namespace
}  // namespace drawoff::water
