#include "visit/meter_verdict.h"

#include <gtest/gtest.h>

#include <string_view>

namespace drawoff::visit {
namespace {

StandardCheck standard(double at_25, double shown, const char* on = "2026-11-20") {
  return {.standard = units::microsiemens_per_cm(at_25), .shown = shown, .on = on};
}
StandardCheck buffer(double ph, double shown) {
  return {.buffer = ph, .shown = shown, .on = "2026-11-20"};
}
CheckedMeter pen(std::vector<StandardCheck> checks, MeterReads what = MeterReads::kPpm) {
  return {.meter = {.reads = what}, .checks = std::move(checks), .on = "2026-11-27"};
}
PurposeResult raw(const CheckedMeter& m) { return check_meter(m).purposes[0]; }
PurposeResult product(const CheckedMeter& m) { return check_meter(m).purposes[1]; }
bool remarks(const CheckedMeter& m, std::string_view id) {
  for (const base::Message& remark : check_meter(m).remarks) {
    if (remark.id == id) return true;
  }
  return false;
}

// Of 706.5 ppm 5 % are 35; of 42 a tenth is 4.2, so 5 ppm count.
TEST(MeterVerdict, a_sound_pen_is_good_for_both) {
  const CheckedMeter m = pen({standard(84, 42), standard(1413, 706)});
  EXPECT_EQ(raw(m).verdict, MeterVerdict::kGood);
  EXPECT_NEAR(raw(m).need, 0.05 * 706.5, 1e-9);
  EXPECT_EQ(raw(m).by, 1U);
  EXPECT_EQ(product(m).verdict, MeterVerdict::kGood);
  EXPECT_NEAR(product(m).need, 5, 1e-12);
  EXPECT_EQ(product(m).by, 0U);
  EXPECT_EQ(check_meter(m).need.id, "meter.need");
}

// 47 for 42: a tenth too much. c = 42/47 = 0.894, so 42 may be 4.5 + 0.6 + 0.5 off, above 5;
// corrected 0.6 + 0.45. At 46 it is 3.7 + 0.6 + 0.5, still below.
TEST(MeterVerdict, a_pen_too_high_is_good_with_the_correction) {
  const CheckedMeter m = pen({standard(84, 47)});
  const PurposeResult p = product(m);
  EXPECT_EQ(p.verdict, MeterVerdict::kGoodCorrected);
  EXPECT_NEAR(*p.off, 5.5, 0.15);
  EXPECT_NEAR(*p.left, 1.0, 0.15);
  EXPECT_EQ(p.why.id, "meter.why.factor");
  EXPECT_EQ(product(pen({standard(84, 46)})).verdict, MeterVerdict::kGood);
  EXPECT_TRUE(remarks(m, "meter.remark.low_standard"));
  EXPECT_FALSE(remarks(pen({standard(84, 37)}), "meter.remark.low_standard"));
  EXPECT_FALSE(remarks(pen({standard(1413, 760)}), "meter.remark.low_standard"));
  EXPECT_EQ(raw(pen({standard(1413, 760)})).verdict, MeterVerdict::kGoodCorrected);
}

TEST(MeterVerdict, more_than_a_quarter_off_is_out_of_order) {
  EXPECT_EQ(raw(pen({standard(1413, 880)})).verdict, MeterVerdict::kGoodCorrected);
  EXPECT_EQ(raw(pen({standard(1413, 890)})).why.id, "meter.why.too_far");
  EXPECT_EQ(raw(pen({standard(1413, 0)})).why.id, "meter.why.too_far");
  EXPECT_EQ(raw(pen({standard(1413, 0)})).verdict, MeterVerdict::kNotGood);
}

// On the 0.7 scale 1413 µS/cm are 989.
TEST(MeterVerdict, sees_the_other_scale) {
  EXPECT_TRUE(remarks(pen({standard(1413, 990)}), "meter.remark.other_scale"));
  EXPECT_TRUE(remarks(pen({standard(1413, 1410)}), "meter.remark.other_scale"));
  EXPECT_FALSE(remarks(pen({standard(1413, 1200)}), "meter.remark.other_scale"));
  EXPECT_FALSE(remarks(pen({standard(1413, 706)}), "meter.remark.other_scale"));
}

// Half a digit of 10 alone is the 5 ppm that the product allows.
TEST(MeterVerdict, no_correction_makes_steps_finer) {
  CheckedMeter m = pen({standard(84, 40)});
  m.meter.instrument.last_digit = 10;
  EXPECT_EQ(product(m).verdict, MeterVerdict::kNotGood);
  EXPECT_EQ(product(m).why.id, "meter.why.too_coarse");
}

TEST(MeterVerdict, ends_where_its_scale_ends) {
  CheckedMeter m = pen({standard(84, 42)});
  m.meter.instrument.full_scale = 199.9;
  EXPECT_EQ(raw(m).why.id, "meter.why.beyond_scale");
  EXPECT_EQ(raw(m).verdict, MeterVerdict::kNotGood);
  EXPECT_EQ(product(m).verdict, MeterVerdict::kGood);
}

// A factor of 4 either way: 1413 vouches from 353 to 5652 µS/cm.
TEST(MeterVerdict, a_standard_vouches_for_its_neighbourhood) {
  CheckedMeter m = pen({standard(1413, 706)});
  EXPECT_EQ(product(m).verdict, MeterVerdict::kNotChecked);
  EXPECT_EQ(product(m).why.id, "meter.why.unchecked");
  EXPECT_FALSE(product(m).by);
  m.product = 706.5 / 4;
  EXPECT_EQ(product(m).verdict, MeterVerdict::kGood);
  m.product = 176;
  EXPECT_EQ(product(m).verdict, MeterVerdict::kNotChecked);
  m.raw = 706.5 * 4;
  EXPECT_EQ(raw(m).verdict, MeterVerdict::kGood);
  m.raw = 2830;
  EXPECT_EQ(raw(m).verdict, MeterVerdict::kNotChecked);
  EXPECT_EQ(raw(pen({})).verdict, MeterVerdict::kNotChecked);
}

TEST(MeterVerdict, an_old_check_does_not_vouch) {
  EXPECT_EQ(raw(pen({standard(1413, 706, "2026-08-29")})).verdict, MeterVerdict::kGood);
  const PurposeResult p = raw(pen({standard(1413, 706, "2026-08-28")}));
  EXPECT_EQ(p.verdict, MeterVerdict::kNotChecked);
  EXPECT_EQ(p.why.id, "meter.why.old");
}

TEST(MeterVerdict, the_nearest_standard_by_its_latest_check) {
  const CheckedMeter m = pen({standard(1413, 800, "2026-11-01"),
                              standard(1413, 706, "2026-11-20"),
                              standard(2000, 1000, "2026-11-26")});
  EXPECT_EQ(raw(m).by, 1U);
  // The nearest is too old: the next one stands in for it.
  const CheckedMeter n =
      pen({standard(1413, 706, "2026-01-20"), standard(2000, 1000, "2026-11-26")});
  EXPECT_EQ(raw(n).by, 1U);
}

// To ±0.2 at 7.5: 0.12 + 0.018 + 0.005 + a twentieth of the 0.5 from the buffer; 0.30 is to be
// taken off.
TEST(MeterVerdict, a_pH_pen) {
  EXPECT_EQ(raw(pen({buffer(7.00, 7.12)}, MeterReads::kPh)).verdict, MeterVerdict::kGood);
  const PurposeResult p = raw(pen({buffer(7.00, 7.30)}, MeterReads::kPh));
  EXPECT_EQ(p.verdict, MeterVerdict::kGoodCorrected);
  EXPECT_EQ(p.why.id, "meter.why.shift");
  EXPECT_NEAR(*p.left, 0.048, 0.002);
  EXPECT_EQ(raw(pen({buffer(7.00, 7.6)}, MeterReads::kPh)).why.id, "meter.why.too_far");
  EXPECT_EQ(raw(pen({buffer(10.01, 10)}, MeterReads::kPh)).why.id, "meter.why.unchecked_pH");
  // From 4.01 to 7.00 it goes 2.40 of 2.99: 80 %.
  const CheckedMeter worn = pen({buffer(7.00, 7.0), buffer(4.01, 4.6)}, MeterReads::kPh);
  EXPECT_TRUE(remarks(worn, "meter.remark.slope"));
  EXPECT_EQ(raw(worn).why.id, "meter.why.worn");
  const CheckedMeter sound = pen({buffer(7.00, 7.0), buffer(4.01, 4.1)}, MeterReads::kPh);
  EXPECT_FALSE(remarks(sound, "meter.remark.slope"));
  EXPECT_EQ(raw(sound).verdict, MeterVerdict::kGood);
}

TEST(MeterVerdict, says_what_it_assumes) {
  CheckedMeter m = pen({standard(1413, 706)});
  EXPECT_TRUE(remarks(m, "meter.remark.usual"));
  m.meter.instrument.share_of_reading = 0.01;
  EXPECT_FALSE(remarks(m, "meter.remark.usual"));
  EXPECT_FALSE(remarks(m, "meter.remark.not_compensated"));
  m.meter.compensates = false;
  EXPECT_TRUE(remarks(m, "meter.remark.not_compensated"));
  m.product = 706.5;
  EXPECT_EQ(check_meter(m).need.id, "meter.need_alone");
}

}  // namespace
}  // namespace drawoff::visit
