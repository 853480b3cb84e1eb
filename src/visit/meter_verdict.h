// Is this meter good enough, for the raw water and for the product, as it is or with a correction?
//
// The nearest standard vouches, by its latest check, if it is within a factor of 4 of what is to be
// read (a buffer within 2 of pH) and not older than 90 days. Needed: the raw water to ±5 %, the
// product to ±10 % or ±10 µS/cm (5 ppm on the half scale), whichever is more, a pH to ±0.2. A meter
// more than a quarter off, or 0.5 of pH, is out of order, and no correction makes it good. All
// common practice, no source.
//
//   as it is     R max|1 − c| + d/2        over the 90 % interval of the factor c, last digit d
//   corrected    R max|c − c_mid| + c_mid d/2
//   pH           max|s| + 0.05 |R_s − R| + d/2, max|s − s_mid| + …: one buffer leaves the slope
//   open
//
// A pressure gauge is judged by visit/gauge_verdict.h.
#pragma once

#include <optional>
#include <vector>

#include "base/message.h"
#include "visit/meter_check.h"

namespace drawoff::visit {

enum class Purpose { kRaw, kProduct, kInlet, kMembrane, kHold };
enum class MeterVerdict { kGood, kGoodCorrected, kNotGood, kNotChecked };

struct PurposeResult {
  Purpose purpose = Purpose::kRaw;
  double reading = 0;  // what is to be read
  double need = 0;     // how far off it may be
  MeterVerdict verdict = MeterVerdict::kNotChecked;
  std::optional<std::size_t> by;  // the check that vouches, or would if it were younger
  std::optional<double> off;      // how far off it may be as it is
  std::optional<double> left;     // and corrected
  base::Message why;
};

struct MeterResult {
  std::vector<CheckResult> checks;
  std::vector<PurposeResult> purposes;  // raw, product; of a gauge inlet, membrane, hold
  base::Message need;
  std::vector<base::Message> remarks;
};

MeterResult check_meter(const CheckedMeter& meter);

}  // namespace drawoff::visit
