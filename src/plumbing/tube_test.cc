#include "plumbing/tube.h"

#include <gtest/gtest.h>

#include <cmath>

#include "base/reference_table.h"
#include "numerics/random.h"

namespace drawoff::plumbing {
namespace {

using numerics::Dual;

// The water of hydraulics_check.csv: 20 °C.
constexpr Fluid<double> kTableWater{998.21, 1.0016e-3};
constexpr double kTableRoughness = 1.5e-6;  // [m]

// Check values of the formula. The first row is printed in the documentation of an open library
// of fluid formulas, eight digits; the others were computed with the same library.
TEST(Tube, friction_factor_matches_published_values) {
  struct Row {
    double reynolds, roughness, factor;
  };
  for (const auto& row : {Row{1e5, 1e-4, 0.018462625},
                          Row{4000, 0, 0.04058973},
                          Row{1e4, 0, 0.03100213},
                          Row{1e5, 0, 0.01787482},
                          Row{1e5, 1e-3, 0.02234324},
                          Row{1e6, 1e-4, 0.01350820},
                          Row{1e6, 1e-2, 0.03799150},
                          Row{1e4, 3.5e-4, 0.03161076}}) {
    EXPECT_NEAR(friction_factor(row.reynolds, row.roughness), row.factor, 1e-8) << row.reynolds;
  }
  EXPECT_NEAR(friction_factor(128.0, 0.0), 0.5, 1e-9);  // 64/Re, read in the same place
}

// White, Fluid Mechanics, example 6.7: oil, V 6.3662 m/s, Re 127324, ε/D 0.0013. Colebrook there
// gives f 0.022724 and a head of 117.39 m; Churchill lies within 1 % of Colebrook. [white2011]
TEST(Tube, textbook_example_of_oil_in_a_rough_pipe) {
  const Tube pipe{
      .length = units::metre(500), .bore = units::metre(0.2), .roughness = units::millimetre(0.26)};
  const Fluid<double> oil{900, 900e-5};
  const double flow = 0.2;
  const double speed = flow / (std::numbers::pi * 0.04 / 4);
  EXPECT_NEAR(speed, 6.3662, 5e-5);
  EXPECT_NEAR(speed * 0.2 / 1e-5, 127324, 0.5);
  EXPECT_NEAR(friction_factor(127324.0, 0.0013) / 0.022724, 1, 0.01);
  EXPECT_NEAR(pressure_of(pipe, flow, oil) / (900 * kGravity) / 117.39, 1, 0.01);
}

// Moody's own example as White gives it: 6 inch asphalted cast iron (ε 0.0004 ft), 6 ft/s, 200 ft:
// chart 4.5 ft; Colebrook f 0.01983, head 4.43 ft at ν 1.1e-5 ft²/s. [white2011]
TEST(Tube, textbook_example_of_water_in_cast_iron) {
  constexpr double kFoot = 0.3048;
  const Tube pipe{.length = units::metre(200 * kFoot),
                  .bore = units::metre(0.5 * kFoot),
                  .roughness = units::metre(0.0004 * kFoot)};
  const double kinematic = 1.1e-5 * kFoot * kFoot;
  const Fluid<double> water{998, 998 * kinematic};
  const double flow = 6 * kFoot * std::numbers::pi * 0.25 * kFoot * kFoot / 4;
  EXPECT_NEAR(friction_factor(6 * 0.5 / 1.1e-5, 0.0008) / 0.01983, 1, 0.01);
  EXPECT_NEAR(pressure_of(pipe, flow, water) / (998 * kGravity) / kFoot / 4.43, 1, 0.01);
}

// White, example 6.4 (from memory, recomputed): laminar oil, Q 0.00765 m³/s with 4.90 m of head
// over 10 m of a 6 cm pipe, three digits.
TEST(Tube, textbook_example_of_laminar_oil) {
  const Tube pipe{.length = units::metre(10), .bore = units::metre(0.06), .roughness = {}};
  const Fluid<double> oil{900, 900 * 2e-4};
  EXPECT_NEAR(pressure_of(pipe, 0.00765, oil) / (900 * kGravity) / 4.90, 1, 2e-3);
}

// hydraulics_check.csv: small tubes. Reynolds number to one decimal, factor to six; pressure is
// given by 64/Re or Colebrook, from which Churchill may differ by what its own column says.
TEST(Tube, reproduces_the_table_of_small_tubes) {
  const auto table = base::reference_table("hydraulics_check.csv");
  ASSERT_GE(table.rows(), 78U);
  for (std::size_t row = 0; row < table.rows(); ++row) {
    SCOPED_TRACE(row);
    const double bore = table.number(row, "ID_m");
    const double flow = table.number(row, "Q_L_per_h") / 3.6e6;
    const double speed = flow / (std::numbers::pi * bore * bore / 4);
    const double reynolds = kTableWater.density * speed * bore / kTableWater.viscosity;
    EXPECT_NEAR(speed / table.number(row, "V_m_s"), 1, 3e-4);
    EXPECT_NEAR(reynolds, table.number(row, "Re"), 0.06 + 2e-5 * reynolds);
    const double churchill = table.number(row, "f_Churchill1977");
    EXPECT_NEAR(
        friction_factor(reynolds, kTableRoughness / bore), churchill, 1e-6 + 5e-5 * churchill);

    const Tube tube{.length = units::metre(1),
                    .bore = units::metre(bore),
                    .roughness = units::metre(kTableRoughness)};
    const bool laminar = table.text(row, "regime") == "laminar";
    const double stated = table.number(row, laminar ? "f_laminar" : "f_Colebrook");
    EXPECT_NEAR(pressure_of(tube, flow, kTableWater) * stated / churchill /
                    table.number(row, "dP_Pa_per_m (laminar if Re<2040 else Colebrook)"),
                1,
                3e-4);
  }
}

TEST(Tube, minor_losses_add_velocity_heads) {
  const Tube plain{.length = units::metre(1), .bore = units::millimetre(6.35)};
  Tube fitted = plain;
  fitted.minor_loss = 3;
  for (const double litres : {0.001, 1.0, 40.0, 400.0}) {
    const double flow = litres / 3.6e6;
    const double speed = flow / (std::numbers::pi * 6.35e-3 * 6.35e-3 / 4);
    const double head = 3 * kTableWater.density * speed * speed / 2;
    const double more =
        pressure_of(fitted, flow, kTableWater) - pressure_of(plain, flow, kTableWater);
    // The difference of two sums cancels down to the rounding of the larger.
    EXPECT_NEAR(more, head, 1e-14 * pressure_of(fitted, flow, kTableWater));
  }
}

// The laminar branch and the full formula meet at Re 100, and the sign follows the flow.
TEST(Tube, is_odd_monotone_and_without_a_step) {
  const Tube tube{.length = units::metre(2), .bore = units::millimetre(4), .minor_loss = 2};
  const double at_switch =
      kPlainLaminar * kTableWater.viscosity / kTableWater.density * std::numbers::pi * 4e-3 / 4;
  // A relative step of 1e-12 in flow on either side moves the pressure by about as much.
  EXPECT_NEAR(pressure_of(tube, at_switch * (1 + 1e-12), kTableWater) /
                  pressure_of(tube, at_switch * (1 - 1e-12), kTableWater),
              1,
              1e-11);
  EXPECT_EQ(pressure_of(tube, 0.0, kTableWater), 0);
  double before = 0;
  for (double flow = 1e-12; flow < 1e-3; flow *= 1.1) {
    const double pressure = pressure_of(tube, flow, kTableWater);
    EXPECT_GT(pressure, before) << flow;
    EXPECT_EQ(pressure_of(tube, -flow, kTableWater), -pressure);
    before = pressure;
  }
}

// Exact derivatives against central differences of relative step 1e-6: the difference's own error
// is some 1e-10 by rounding and, where the formula bends most (Re 2000-4000), 1e-9 by its curve.
TEST(Tube, derivatives_match_finite_differences) {
  using S = Dual<3>;
  numerics::Random random(21);
  for (int i = 0; i < 200; ++i) {
    const Tube tube{.length = units::metre(random.uniform(0.5, 20)),
                    .bore = units::millimetre(random.uniform(2, 12)),
                    .minor_loss = random.uniform(0, 10)};
    const double flow = std::exp(random.uniform(-20, -7)) * (random.chance(0.3) ? -1 : 1);
    const Fluid<S> fluid{S::variable(998, 1), S::variable(1e-3, 2)};
    const S exact = pressure_of(tube, S::variable(flow, 0), fluid);
    const auto at = [&](double q, double rho, double mu) {
      return pressure_of(tube, flow * q, Fluid<double>{998 * rho, 1e-3 * mu});
    };
    EXPECT_EQ(exact.x, at(1, 1, 1));
    const double h = 1e-6;
    const double scale = 1e-7 * std::fabs(exact.x);
    EXPECT_NEAR(exact.v[0] * flow, (at(1 + h, 1, 1) - at(1 - h, 1, 1)) / (2 * h), scale) << i;
    EXPECT_NEAR(exact.v[1] * 998, (at(1, 1 + h, 1) - at(1, 1 - h, 1)) / (2 * h), scale) << i;
    EXPECT_NEAR(exact.v[2] * 1e-3, (at(1, 1, 1 + h) - at(1, 1, 1 - h)) / (2 * h), scale) << i;
  }
}

// At rest the slope is the laminar one, 128 µ L/(π D⁴): finite, so that a solver can leave zero.
TEST(Tube, has_a_slope_at_zero_flow) {
  using S = Dual<1>;
  const Tube tube{.length = units::metre(1), .bore = units::millimetre(0.5), .minor_loss = 2};
  const Fluid<S> fluid{S(998.21), S(1.0016e-3)};
  const double slope = pressure_of(tube, S::variable(0, 0), fluid).v[0];
  EXPECT_NEAR(slope / (128 * 1.0016e-3 / (std::numbers::pi * std::pow(0.5e-3, 4))), 1, 1e-14);
}

}  // namespace
}  // namespace drawoff::plumbing
