#include "membrane/channel.h"

#include <gtest/gtest.h>

#include <algorithm>

#include "base/reference_table.h"

namespace drawoff::membrane {
namespace {

// schock_miquel.csv, computed with IAPWS density and viscosity: six digits, and water's density
// and viscosity in the table are rounded to six digits too.
constexpr double kTableDigits = 2e-5;

TEST(Channel, reproduces_the_spacer_correlation_table) {
  const auto table = base::reference_table("schock_miquel.csv");
  ASSERT_EQ(table.rows(), 15U);
  for (std::size_t row = 0; row < table.rows(); ++row) {
    SCOPED_TRACE(row);
    const Channel channel{.area = units::square_metre(1.0),
                          .length = units::metre(1.0),
                          .height = units::metre(table.number(row, "h_m")),
                          .porosity = table.number(row, "porosity")};
    const Fluid<double> fluid{
        table.number(row, "rho_kg_m3"), table.number(row, "mu_Pa_s"), table.number(row, "D_m2_s")};
    const double flow = table.number(row, "u_m_s") * channel_width(channel) * channel.height.si() *
                        channel.porosity;
    EXPECT_NEAR(hydraulic_diameter(channel) / table.number(row, "d_h_m"), 1, kTableDigits);
    const double k = spacer_mass_transfer(channel, flow, fluid);
    EXPECT_NEAR(k / table.number(row, "k_m_s"), 1, kTableDigits);
    EXPECT_NEAR(mass_transfer(MassTransferLaw::kSchockMiquel, channel, flow, fluid), k, 0);
    EXPECT_NEAR(
        channel_friction(channel, flow, fluid) / table.number(row, "dP/L_Pa_m"), 1, kTableDigits);
  }
}

// Not below the slit and finite at rest, over every size of the trade and a wide range of flows.
TEST(Channel, joined_mass_transfer_is_never_below_the_laminar_slit) {
  const Fluid<double> fluid{997.0, 0.89e-3, 1.6e-9};
  for (const double height_mm : {0.4, 0.6, 0.8}) {
    for (const double area : {0.4, 2.6, 7.6}) {
      const Channel channel{
          units::square_metre(area), units::metre(0.25), units::millimetre(height_mm)};
      const double at_rest = mass_transfer(MassTransferLaw::kJoined, channel, 0.0, fluid);
      // Fully developed: Sh 7.541 on 2h. [shah1978]
      EXPECT_NEAR(at_rest, 7.541 * 1.6e-9 / (2e-3 * height_mm), 1e-12 * at_rest);
      double before = at_rest;
      for (double flow = 1e-12; flow < 1e-3; flow *= 3) {
        const double k = mass_transfer(MassTransferLaw::kJoined, channel, flow, fluid);
        // Up to the rounding of a cube and its root.
        const double floor = 1 - 1e-15;
        EXPECT_GE(k, floor * slit_mass_transfer(channel, flow, fluid));
        EXPECT_GE(k, floor * spacer_mass_transfer(channel, flow, fluid));
        EXPECT_GE(k, floor * before);
        before = k;
      }
    }
  }
}

// models.md's trap: below Re about 35 the spacer correlation alone lies under an empty slit.
TEST(Channel, spacer_correlation_alone_is_not_credible_at_low_flow) {
  const Channel small{units::square_metre(0.5), units::metre(0.23), units::millimetre(0.6)};
  const Fluid<double> fluid{997.0, 0.89e-3, 1.6e-9};
  const double reject_of_a_small_unit = 30.0 / 3.6e6;
  EXPECT_LT(spacer_mass_transfer(small, reject_of_a_small_unit, fluid),
            slit_mass_transfer(small, reject_of_a_small_unit, fluid));
}

}  // namespace
}  // namespace drawoff::membrane
