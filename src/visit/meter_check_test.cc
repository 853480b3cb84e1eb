#include "visit/meter_check.h"

#include <gtest/gtest.h>

#include <boost/math/distributions/binomial.hpp>
#include <cmath>

#include "base/reference_table.h"
#include "numerics/random.h"

namespace drawoff::visit {
namespace {

using units::celsius;
using units::microsiemens_per_cm;

StandardCheck standard(double at_25, double shown) {
  return {.standard = microsiemens_per_cm(at_25), .shown = shown, .on = "2026-11-20"};
}
StandardCheck buffer(double ph, double shown) {
  return {.buffer = ph, .shown = shown, .on = "2026-11-20"};
}
CheckResult result(const MeterAsBought& meter, const StandardCheck& check) {
  return result_of({.meter = meter, .checks = {check}, .on = "2026-11-27"}, check);
}
MeterAsBought reads(MeterReads what, bool compensates = true) {
  return {.reads = what, .compensates = compensates};
}
double half(const inference::Interval& i) { return 0.5 * (i.high - i.low); }

// Pratt et al. 2001 (from memory): KCl, 0.01 mol/kg. The model is held to 0.5 % of that table. A
// meter that compensates divides by 1 + 0.02 (T − 25 °C).
TEST(MeterCheck, knows_what_a_standard_conducts_at_its_temperature) {
  const base::Csv table = base::reference_table("conductivity_kcl.csv");
  int compared = 0;
  for (std::size_t row = 0; row < table.rows(); ++row) {
    const double t = table.number(row, "T_C");
    if (table.number(row, "KCl_mol_per_kg_water") > 0.05 || t < 5 || t > 45) continue;
    StandardCheck c = standard(1408.23, 1400);
    c.temperature = celsius(t);
    const double plain = table.number(row, "SC_uS_cm_recalled");
    const double straight = plain / (1 + 0.02 * (t - 25));
    const auto shows = [&](bool compensates) {
      return result(reads(MeterReads::kMicrosiemens, compensates), c).should_show;
    };
    EXPECT_NEAR(shows(false), plain, 0.005 * plain) << t;
    EXPECT_NEAR(shows(true), straight, 0.005 * straight) << t;
    ++compared;
  }
  EXPECT_EQ(compared, 10);
  StandardCheck cold = standard(1413, 1413);
  cold.temperature = celsius(15);
  // What the straight line leaves at 15 °C, of the same table: 1141.45/1408.23/0.8 = 1.0132.
  EXPECT_NEAR(result(reads(MeterReads::kMicrosiemens), cold).should_show / 1413, 1.0132, 0.005);
}

// 1413 µS/cm on the half scale is 706.5 ppm; 720 is 13.5 or 1.911 % too much, and 706.5/720 puts it
// right. The standard's 1 % rules: nine tenths of it, 6.36 ppm, hold 90 %; thermometer (0.04 % for
// half a degree between the two curves) and half a digit round its corners by less than 0.02.
TEST(MeterCheck, a_pen_a_little_high) {
  const CheckResult r = result(reads(MeterReads::kPpm), standard(1413, 720));
  EXPECT_NEAR(r.should_show, 706.5, 1e-9);
  EXPECT_NEAR(r.error.middle, 13.5, 1e-9);
  EXPECT_NEAR(half(r.error), 6.36, 0.02);
  ASSERT_TRUE(r.error_share && r.factor);
  EXPECT_NEAR(r.error_share->middle, 13.5 / 706.5, 1e-9);
  EXPECT_NEAR(half(*r.error_share), 6.36 / 706.5 * 720 / 706.5, 5e-5);
  EXPECT_NEAR(r.factor->middle, 706.5 / 720, 1e-9);
  EXPECT_NEAR(r.factor->low, 1 / (1 + r.error_share->high), 1e-12);
  EXPECT_FALSE(r.shift);
  EXPECT_EQ(r.age, 7);
  EXPECT_TRUE(r.vouches);
}

// 84 µS/cm are 42 ppm: of an ordinary pen half a digit, 0.5, weighs more than 1 %, 0.42. Two bounds
// a > b: P(S > w) = (a + b − w)²/(8 a b) in the corner, 0.05 at w = 0.92 − √0.084 = 0.630.
TEST(MeterCheck, rounding_rules_where_little_is_shown) {
  EXPECT_NEAR(half(result(reads(MeterReads::kPpm), standard(84, 42)).error), 0.630, 0.002);
}

// An ordinary pen: 2 % of 706.5 and 2 digits, 16.13; what a check shows is ±6.4 uncertain.
TEST(MeterCheck, says_whether_it_is_as_bought) {
  const auto as_bought_at = [](double shown) {
    return result(reads(MeterReads::kPpm), standard(1413, shown)).as_bought;
  };
  EXPECT_NEAR(result(reads(MeterReads::kPpm), standard(1413, 700)).bought_for, 16.13, 1e-9);
  EXPECT_EQ(as_bought_at(706), AsBought::kWithin);
  EXPECT_EQ(as_bought_at(698), AsBought::kWithin);
  EXPECT_EQ(as_bought_at(720), AsBought::kCannotTell);
  EXPECT_EQ(as_bought_at(740), AsBought::kBeyond);
  EXPECT_EQ(as_bought_at(670), AsBought::kBeyond);
  MeterAsBought coarse = reads(MeterReads::kPpm);
  coarse.instrument = {.full_scale = 1999, .share_of_full_scale = 0.02, .last_digit = 1};
  EXPECT_EQ(result(coarse, standard(1413, 745)).as_bought, AsBought::kCannotTell);
  EXPECT_NEAR(result(coarse, standard(84, 42)).bought_for, 0.02 * 1999, 1e-9);
}

TEST(MeterCheck, a_scale_of_its_own_and_a_finer_digit) {
  MeterAsBought own = reads(MeterReads::kPpm);
  own.instrument = {.scale = water::MeterScale::kCalibrated, .calibrated_factor = 0.64};
  EXPECT_NEAR(result(own, standard(1413, 900)).should_show, 1413 * 0.64, 1e-9);
  own.instrument.last_digit = 0.1;  // said; its accuracy is not
  EXPECT_FALSE(accuracy_stated(own, 50));
  EXPECT_DOUBLE_EQ(half_digit_of(own, 50), 0.05);
}

// Half a degree of 1.92 %/K: as wide as the standard's own 1 %. Two alike: w = 2 − √0.4 times the
// one.
TEST(MeterCheck, without_compensation_the_thermometer_counts) {
  const CheckResult r = result(reads(MeterReads::kMicrosiemens, false), standard(1413, 1413));
  EXPECT_NEAR(half(r.error), (2 - std::sqrt(0.4)) * 14.13, 0.5);
}

TEST(MeterCheck, a_meter_that_shows_nothing_has_no_factor) {
  const CheckResult r = result(reads(MeterReads::kPpm), standard(1413, 0));
  EXPECT_FALSE(r.factor);
  EXPECT_DOUBLE_EQ(r.error_share->middle, -1);
  EXPECT_EQ(r.as_bought, AsBought::kBeyond);
}

// A buffer's ±0.02 and half a digit of 0.01: again w = 0.9 · 0.02, but for the corners.
TEST(MeterCheck, a_pH_pen_is_shifted) {
  const CheckResult r = result(reads(MeterReads::kPh), buffer(7.00, 7.12));
  ASSERT_TRUE(r.shift);
  EXPECT_NEAR(r.shift->middle, -0.12, 1e-12);
  EXPECT_NEAR(half(*r.shift), 0.018, 0.001);
  EXPECT_FALSE(r.factor || r.error_share);
  EXPECT_NEAR(r.bought_for, 0.1, 1e-12);
  // By Nernst: 7 − 2.99 · 288.15/298.15 = 4.1103.
  StandardCheck cold = buffer(4.01, 4.1);
  cold.temperature = celsius(15);
  EXPECT_NEAR(result(reads(MeterReads::kPh, false), cold).should_show, 4.1103, 1e-4);
  EXPECT_DOUBLE_EQ(result(reads(MeterReads::kPh), cold).should_show, 4.01);
}

TEST(MeterCheck, vouches_for_ninety_days) {
  StandardCheck c = standard(1413, 706);
  c.on = "2026-08-29";
  EXPECT_EQ(result(reads(MeterReads::kPpm), c).age, 90);
  EXPECT_TRUE(result(reads(MeterReads::kPpm), c).vouches);
  c.on = "2026-08-28";
  EXPECT_FALSE(result(reads(MeterReads::kPpm), c).vouches);
}

// Meters with a gain of their own, standards off by as much as they may be, thermometers and makers
// too: the 90 % interval of the correction holds the true one in 90 % of 4,000 checks, within what
// the binomial distribution allows at 1 %.
TEST(MeterCheck, the_correction_holds_the_truth_as_often_as_it_says) {
  numerics::Random random(20261127);
  constexpr int kTrials = 4000;
  int inside = 0;
  for (int i = 0; i < kTrials; ++i) {
    const MeterAsBought meter = reads(
        random.chance(0.5) ? MeterReads::kPpm : MeterReads::kMicrosiemens, random.chance(0.7));
    const double gain = 1 + random.uniform(-0.12, 0.12);
    const double label = random.chance(0.5) ? 84 : 1413;
    const double thermometer = random.uniform(12, 35);
    StandardCheck truth = standard(label * (1 + random.uniform(-0.01, 0.01)), 1);
    const double t = thermometer + random.uniform(-0.5, 0.5);
    truth.temperature = celsius(t);
    double display = gain * result(reads(meter.reads, false), truth).should_show;
    if (meter.compensates) display /= 1 + random.uniform(0.019, 0.021) * (t - 25);
    StandardCheck check = standard(label, std::round(display));
    check.temperature = celsius(thermometer);
    const CheckResult r = result(meter, check);
    ASSERT_TRUE(r.factor);
    inside += r.factor->low <= 1 / gain && 1 / gain <= r.factor->high ? 1 : 0;
  }
  const boost::math::binomial exact(kTrials, inference::kExpectedLevel);
  EXPECT_GE(inside, boost::math::quantile(exact, 0.005));
  EXPECT_LE(inside, boost::math::quantile(exact, 0.995));
}

}  // namespace
}  // namespace drawoff::visit
