#include "plumbing/loss.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "numerics/random.h"
#include "water/properties.h"

namespace drawoff::plumbing {
namespace {

using numerics::Dual;
using units::bar;
using units::litre_per_hour;

Fluid<double> water_at(double celsius) {
  const auto t = units::celsius(celsius);
  return {water::density(t).si(), water::viscosity(t).si()};
}

TEST(Loss, plate_gives_back_its_own_point) {
  const auto fluid = water_at(20);
  for (const double share : {0.0, 0.1, 0.5, 1.0}) {
    const Loss loss =
        loss_from_plate({.flow = litre_per_hour(18), .pressure = bar(4), .laminar_share = share});
    const double q = litre_per_hour(18).si();
    EXPECT_NEAR(pressure_of(loss, q, fluid) / 4e5, 1, 1e-14);
    EXPECT_NEAR(loss.a * fluid.viscosity * q / 4e5, share, 1e-14);
  }
}

// 998.2072 kg/m³ is water's density at 20 °C, IAPWS-95, to its relative error here.
TEST(Loss, turbulent_plate_check_value) {
  const Loss loss =
      loss_from_plate({.flow = litre_per_hour(1), .pressure = bar(1), .laminar_share = 0});
  const double q = 1e-3 / 3600;
  EXPECT_EQ(loss.a, 0);
  EXPECT_NEAR(loss.b / (1e5 / (998.2072 * q * q)), 1, water::kDensityRelativeError);
}

// A valve by its coefficient, Q = Kv √(Δp/SG) [m³/h, bar], is a turbulent plate: Kv 0.05 at 2 bar
// passes 70.7 L/h, Kv 0.1 at 3 bar 173.2 L/h (closed form, four digits).
TEST(Loss, valve_coefficient_check_values) {
  struct Valve {
    double coefficient, pressure_bar, flow;
  };
  for (const auto& valve : {Valve{0.05, 2, 70.7}, Valve{0.1, 3, 173.2}}) {
    const Loss loss = loss_from_plate(
        {.flow = litre_per_hour(valve.coefficient * 1e3), .pressure = bar(1), .laminar_share = 0});
    const double q = flow_of(loss, bar(valve.pressure_bar).si(), water_at(20));
    EXPECT_NEAR(q * 3.6e6, valve.flow, 0.06);
  }
}

// An orifice, Q = Cd A √(2Δp/ρ) with Cd 0.61, is a loss with b = 1/(2 (Cd A)²): 1.0 mm at 300 kPa
// passes 42.3 L/h, 0.8 mm at 400 kPa 31.2, 0.5 mm at 300 kPa 10.6 (computed, three digits).
TEST(Loss, orifice_check_values) {
  struct Orifice {
    double millimetres, kilopascals, flow;
  };
  for (const auto& o :
       {Orifice{1.0, 300, 42.3}, Orifice{0.8, 400, 31.2}, Orifice{0.5, 300, 10.6}}) {
    const double opening = 0.61 * std::numbers::pi * o.millimetres * o.millimetres * 1e-6 / 4;
    const Loss loss{.a = 0, .b = 1 / (2 * opening * opening)};
    EXPECT_NEAR(flow_of(loss, o.kilopascals * 1e3, water_at(20)) * 3.6e6, o.flow, 0.06);
  }
}

// A capillary of 0.5 mm and 0.5 m takes 181.4 kPa at 2.0 L/h and 20 °C (Hagen-Poiseuille, µ
// 1.0016 mPa·s, four digits), and passes 66 % of its flow at 5 °C (two digits).
TEST(Loss, capillary_check_values) {
  const Loss loss{.a = 128 * 0.5 / (std::numbers::pi * std::pow(0.5e-3, 4)), .b = 0};
  const double q = litre_per_hour(2).si();
  EXPECT_NEAR(pressure_of(loss, q, water_at(20)) / 181.4e3, 1, 5e-4);
  EXPECT_NEAR(flow_of(loss, 1e5, water_at(5)) / flow_of(loss, 1e5, water_at(20)), 0.66, 0.005);
}

// Flow and pressure are each other's inverse, from mostly laminar to purely turbulent, both ways
// round, over twelve decades: to a few roundings, as the form of flow_of does not cancel.
TEST(Loss, flow_is_the_inverse_of_pressure) {
  numerics::Random random(22);
  const auto fluid = water_at(20);
  for (int i = 0; i < 2000; ++i) {
    const double share = i % 5 == 0 ? 0.0 : i % 5 == 1 ? 1.0 : random.uniform();
    const Loss loss = loss_from_plate({.flow = litre_per_hour(std::exp(random.uniform(-2, 7))),
                                       .pressure = bar(std::exp(random.uniform(-4, 2))),
                                       .laminar_share = share});
    const double q = std::exp(random.uniform(-28, 0)) * (random.chance(0.5) ? 1 : -1);
    EXPECT_NEAR(flow_of(loss, pressure_of(loss, q, fluid), fluid) / q, 1, 1e-14) << i;
  }
  EXPECT_EQ(flow_of(Loss{.a = 1e12, .b = 1e20}, 0.0, fluid), 0);
  EXPECT_EQ(flow_of(Loss{.a = 0, .b = 1e20}, 0.0, fluid), 0);
}

// Central differences of relative step 1e-6: error 1e-10 by rounding, 1e-12 by curvature.
TEST(Loss, derivatives_match_finite_differences) {
  using S = Dual<3>;
  constexpr double kDifference = 1e-9;
  numerics::Random random(23);
  for (int i = 0; i < 200; ++i) {
    const Loss loss = loss_from_plate({.flow = litre_per_hour(std::exp(random.uniform(0, 6))),
                                       .pressure = bar(random.uniform(0.1, 5)),
                                       .laminar_share = random.uniform()});
    const double q = std::exp(random.uniform(-18, -9)) * (random.chance(0.5) ? 1 : -1);
    const double p = random.uniform(-8e5, 8e5);
    const Fluid<S> fluid{S::variable(998, 1), S::variable(1e-3, 2)};
    const auto plain = [](double rho, double mu) { return Fluid<double>{998 * rho, 1e-3 * mu}; };
    const auto check = [&](const S& exact, double x, auto at) {
      const double h = 1e-6;
      const double scale = kDifference * std::fabs(exact.x);
      EXPECT_EQ(exact.x, at(1.0, 1.0, 1.0));
      EXPECT_NEAR(exact.v[0] * x, (at(1 + h, 1, 1) - at(1 - h, 1, 1)) / (2 * h), scale) << i;
      EXPECT_NEAR(exact.v[1] * 998, (at(1, 1 + h, 1) - at(1, 1 - h, 1)) / (2 * h), scale) << i;
      EXPECT_NEAR(exact.v[2] * 1e-3, (at(1, 1, 1 + h) - at(1, 1, 1 - h)) / (2 * h), scale) << i;
    };
    check(pressure_of(loss, S::variable(q, 0), fluid), q, [&](double x, double rho, double mu) {
      return pressure_of(loss, q * x, plain(rho, mu));
    });
    check(flow_of(loss, S::variable(p, 0), fluid), p, [&](double x, double rho, double mu) {
      return flow_of(loss, p * x, plain(rho, mu));
    });
  }
}

}  // namespace
}  // namespace drawoff::plumbing
