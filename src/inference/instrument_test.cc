#include "inference/instrument.h"

#include <gtest/gtest.h>

#include <cmath>

namespace drawoff::inference {
namespace {

// [jcgm2008, 4.3.7]: bounds of ±a and nothing else known: u = a/√3. A bound of 20 -> 11.547, to
// the digits as printed.
TEST(Instrument, a_bound_of_20_has_an_uncertainty_of_11_547) {
  const Accuracy pen{.full_scale = 999, .share_of_full_scale = 20.0 / 999};
  EXPECT_NEAR(error_bound(pen, 65), 20, 1e-12);
  EXPECT_NEAR(standard_uncertainty(pen, 65), 11.547, 5e-4);
}

// A cheap pen is as far off at 5 as at 900.
TEST(Instrument, a_share_of_full_scale_does_not_shrink_with_the_reading) {
  const Accuracy pen{.full_scale = 999, .share_of_full_scale = 0.02};
  EXPECT_DOUBLE_EQ(error_bound(pen, 5), error_bound(pen, 900));
  EXPECT_DOUBLE_EQ(error_bound(pen, 5), 19.98);
}

// 2 % of 400 + 1 % of 1000 + 2 digits of 1 = 20.
TEST(Instrument, parts_of_a_bound_add) {
  const Accuracy accuracy{.share_of_reading = 0.02,
                          .full_scale = 1000,
                          .share_of_full_scale = 0.01,
                          .last_digit = 1,
                          .digits = 2};
  EXPECT_DOUBLE_EQ(error_bound(accuracy, 400), 20);
  EXPECT_DOUBLE_EQ(error_bound(accuracy, -400), 20);
}

// Rounding to a last digit of 10 is even within ±5: u = 5/√3, also for a perfect instrument. A
// stated bound wider than that holds it already.
TEST(Instrument, the_display_rounds) {
  EXPECT_DOUBLE_EQ(standard_uncertainty({.last_digit = 10}, 100), 5 / std::sqrt(3.0));
  const Accuracy both{.last_digit = 10, .digits = 1};
  EXPECT_DOUBLE_EQ(standard_uncertainty(both, 100), 10 / std::sqrt(3.0));
}

}  // namespace
}  // namespace drawoff::inference
