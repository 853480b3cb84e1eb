// Recovery and reductions as they were read, beside what is expected of them.
//
//   recovery            R = P/(P + D),   P = Q (1 − b),  b = (κ − κ_p)/(κ_r − κ_p)
//   reduction by meter  1 − κ/κ_r
//   reduction by mass   1 − φ κ/κ_r,     φ the median over the machines that run of (m/κ)/(m_r/κ_r)
//
// Q product flow, D reject flow, κ conductivity of product, κ_p of the permeate before the blend,
// κ_r of the raw water, all as read [µS/cm at 25 °C]; m dissolved solids as computed [mg/L]; b raw
// water in the product, 0 without a blend. A pen's ppm is no mg/L, and its factor is another in raw
// water than in product: so the two reductions differ. Check: κ_r 600, κ 60, φ 0.9 -> 90 %, 91 %.
#pragma once

#include <optional>

#include "visit/start_up.h"

namespace drawoff::visit {

struct SharesRead {  // none where a reading is missing
  std::optional<double> recovery;
  std::optional<double> reduction_ppm;
  std::optional<double> reduction_mass;
};

// From the readings that were judged in the state in which the machine runs as set, and that of the
// raw water.
SharesRead shares_read(const StartUp& start_up);

}  // namespace drawoff::visit
