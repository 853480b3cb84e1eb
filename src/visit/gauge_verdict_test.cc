#include "visit/gauge_verdict.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <string_view>

namespace drawoff::visit {
namespace {

using units::bar;

const GaugeCheck kZero{.shown = 0, .on = "2026-11-20"};
GaugeCheck beside(double other, double shown) {
  return {.against = GaugeAgainst::kGauge,
          .other = bar(other),
          .other_off = bar(0.05),
          .shown = shown,
          .on = "2026-11-20"};
}
CheckedMeter gauge(std::vector<GaugeCheck> checks, double accuracy = 0.016, double mark = 0.2) {
  return {.meter = {.reads = MeterReads::kBar,
                    .instrument = {.full_scale = 10,
                                   .share_of_full_scale = accuracy,
                                   .last_digit = mark}},
          .on = "2026-11-27",
          .gauge_checks = std::move(checks)};
}
PurposeResult of(const CheckedMeter& g, Purpose purpose) {
  const auto all = check_meter(g).purposes;
  return *std::find_if(
      all.begin(), all.end(), [&](const PurposeResult& p) { return p.purpose == purpose; });
}
bool remarks(const CheckedMeter& g, std::string_view id) {
  const auto all = check_meter(g).remarks;
  return std::any_of(all.begin(), all.end(), [&](const base::Message& m) { return m.id == id; });
}

// Class 1.6 of 10 bar and half a mark of 0.2: 0.16 + 0.1 = 0.26 bar, within 0.3. Half a mark is the
// 0.1 bar that a hold must show.
TEST(GaugeVerdict, an_ordinary_gauge_that_returns_to_zero_is_good) {
  const CheckedMeter g = gauge({kZero});
  for (const Purpose p : {Purpose::kInlet, Purpose::kMembrane, Purpose::kHold}) {
    EXPECT_EQ(of(g, p).verdict, MeterVerdict::kGood);
  }
  EXPECT_NEAR(*of(g, Purpose::kInlet).off, 0.26, 1e-12);
  EXPECT_NEAR(of(g, Purpose::kMembrane).need, 0.3, 1e-12);
  EXPECT_NEAR(*of(g, Purpose::kHold).off, 0.1, 1e-12);
  EXPECT_EQ(check_meter(g).need.id, "meter.need_gauge");
  EXPECT_TRUE(check_meter(g).remarks.empty());
}

TEST(GaugeVerdict, unchecked_or_long_ago_it_vouches_for_nothing) {
  EXPECT_EQ(of(gauge({}), Purpose::kInlet).verdict, MeterVerdict::kNotChecked);
  EXPECT_EQ(of(gauge({}), Purpose::kInlet).why.id, "meter.why.gauge_unchecked");
  GaugeCheck old = kZero;
  old.on = "2026-08-20";  // 99 days before
  EXPECT_EQ(of(gauge({old}), Purpose::kHold).why.id, "meter.why.old");
  // Beside another gauge alone it may still hang above zero.
  EXPECT_EQ(of(gauge({beside(3, 3)}), Purpose::kInlet).verdict, MeterVerdict::kNotChecked);
}

// 0.4 bar in air, less 0.09 of its marks, is beyond the 0.16 of its class.
TEST(GaugeVerdict, one_that_does_not_return_to_zero_is_good_for_nothing) {
  GaugeCheck bent = kZero;
  bent.shown = 0.4;
  for (const Purpose p : {Purpose::kInlet, Purpose::kMembrane, Purpose::kHold}) {
    EXPECT_EQ(of(gauge({bent}), p).verdict, MeterVerdict::kNotGood);
    EXPECT_EQ(of(gauge({bent}), p).why.id, "meter.why.gauge_zero");
  }
  // Of two looks on one day the later in the list, and then it stands at zero.
  EXPECT_EQ(of(gauge({bent, kZero}), Purpose::kInlet).verdict, MeterVerdict::kGood);
}

// Class 4 alone allows 0.4 + 0.1 bar. Beside a better one at 3 bar it was off by what that may be
// off, 0.05, and half a mark, at most: 0.15 + 0.1, and less by the interval's tails.
TEST(GaugeVerdict, a_coarse_one_is_good_where_it_was_seen_to_be_right) {
  EXPECT_EQ(of(gauge({kZero}, 0.04), Purpose::kInlet).why.id, "meter.why.gauge_coarse");
  const CheckedMeter seen = gauge({kZero, beside(3, 3)}, 0.04);
  EXPECT_EQ(of(seen, Purpose::kInlet).verdict, MeterVerdict::kGood);
  EXPECT_LT(*of(seen, Purpose::kInlet).off, 0.25);
  EXPECT_EQ(of(seen, Purpose::kInlet).by, 1U);
  // A quarter of the scale is 2.5 bar: 5 bar is near 3, 8 is not.
  CheckedMeter high = seen;
  high.membrane = 8;
  EXPECT_EQ(of(high, Purpose::kMembrane).verdict, MeterVerdict::kNotGood);
}

TEST(GaugeVerdict, one_that_was_seen_to_be_off_is_off) {
  // Half a mark contradicts no class: 0.26 bar, as without that check.
  EXPECT_NEAR(*of(gauge({kZero, beside(3, 3.1)}), Purpose::kInlet).off, 0.26, 1e-12);
  const CheckedMeter off = gauge({kZero, beside(3, 3.6)});
  EXPECT_EQ(of(off, Purpose::kInlet).why.id, "meter.why.gauge_coarse");
  CheckedMeter far = off;
  far.membrane = 7;
  EXPECT_EQ(of(far, Purpose::kMembrane).why.id, "meter.why.gauge_off");
}

TEST(GaugeVerdict, coarse_marks_hide_a_fall) {
  EXPECT_EQ(of(gauge({kZero}, 0.016, 0.5), Purpose::kHold).why.id, "meter.why.hold_coarse");
  EXPECT_EQ(of(gauge({kZero}, 0.016, 0.1), Purpose::kHold).why.id, "meter.why.hold_good");
}

// Of 10 bar a quarter is 2.5 and three quarters 7.5.
TEST(GaugeVerdict, says_where_it_works_at_an_end_of_its_scale) {
  CheckedMeter g = gauge({kZero});
  g.inlet = 2.4;
  EXPECT_TRUE(remarks(g, "meter.remark.low_on_scale"));
  g.inlet = 2.5;
  g.membrane = 7.5;
  EXPECT_TRUE(check_meter(g).remarks.empty());
  g.membrane = 7.6;
  EXPECT_TRUE(remarks(g, "meter.remark.high_on_scale"));
  g.membrane = 10.5;
  EXPECT_EQ(of(g, Purpose::kMembrane).why.id, "meter.why.beyond_scale");
}

TEST(GaugeVerdict, says_what_it_took_as_usual) {
  CheckedMeter g = gauge({kZero});
  g.meter.instrument = {};
  EXPECT_TRUE(remarks(g, "meter.remark.usual_gauge"));
  // Class 2.5 of 10 bar and half of a fiftieth: 0.25 + 0.1.
  EXPECT_NEAR(*of(g, Purpose::kInlet).off, 0.35, 1e-12);
  g = gauge({kZero, beside(3, 3)});
  EXPECT_FALSE(remarks(g, "meter.remark.usual_other_gauge"));
  g.gauge_checks[1].other_off = {};
  EXPECT_TRUE(remarks(g, "meter.remark.usual_other_gauge"));
}

// 0.3 bar are 4.35 psi, 3 bar 43.5 psi.
TEST(GaugeVerdict, in_psi_the_same) {
  CheckedMeter g = gauge({kZero});
  g.meter.reads = MeterReads::kPsi;
  g.meter.instrument = {.full_scale = 160, .share_of_full_scale = 0.016, .last_digit = 2};
  EXPECT_NEAR(of(g, Purpose::kInlet).reading, 43.51, 0.01);
  EXPECT_NEAR(of(g, Purpose::kInlet).need, 4.351, 0.001);
  EXPECT_NEAR(*of(g, Purpose::kInlet).off, 2.56 + 1, 1e-9);
  EXPECT_EQ(of(g, Purpose::kHold).verdict, MeterVerdict::kGood);
}

}  // namespace
}  // namespace drawoff::visit
