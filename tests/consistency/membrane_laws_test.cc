#include <gtest/gtest.h>

#include "membrane/channel.h"
#include "membrane/sizes.h"
#include "support/random_machine.h"

namespace drawoff {
namespace {

// The joined law is k³ = k_spacer³ + k_slit³, so k cannot fall below the slit's at any flow; two
// cube roots may differ by a rounding.
TEST(MembraneLaws, k_never_below_slit) {
  const membrane::Fluid<double> fluid{997.0, 0.89e-3, 1.5e-9};
  for (const auto& size : membrane::element_sizes()) {
    for (double flow = 1e-9; flow < 1e-2; flow *= 3) {
      SCOPED_TRACE(size.name);
      EXPECT_GE(membrane::mass_transfer(
                    membrane::MassTransferLaw::kJoined, size.channel, flow, fluid),
                membrane::slit_mass_transfer(size.channel, flow, fluid) * (1 - 1e-15));
    }
  }
}

}  // namespace
}  // namespace drawoff
