#include "visit/shares_read.h"

#include <cmath>
#include <vector>

#include "numerics/sample.h"
#include "visit/day.h"
#include "water/conductivity.h"

namespace drawoff::visit {

namespace {

using machine::Point;

// What passes the membranes is the same whether the blend is shut or not; what leaves the unit is
// not.
bool runs_as_set(Point point, const machine::Condition& c) {
  const bool blend = c.blend == machine::BlendState::kAsSet || point == Point::kPermeateQuality;
  return blend && c.pump == machine::PumpState::kOn && c.flush_valve != machine::FlushState::kOpen;
}

// The last one of a point in SI, if it is more than nothing.
std::optional<double> last_of(Point point, const StartUp& s) {
  std::optional<double> value;
  for (const JudgedReading& r : s.readings) {
    const bool counts =
        sets_the_water(point) || (r.judgement && runs_as_set(point, r.reading.condition));
    if (r.reading.point != point || !counts) continue;
    const double si = measured(r.reading).value;
    if (si > 0) value = si;
  }
  return value;
}

// φ: how much less a mass its conductivity stands for in the product than in the raw water.
double mass_factor(const StartUp& s) {
  std::vector<double> factors;
  for (const machine::Streams& w : s.streams) {
    factors.push_back(water::total_dissolved(w.product) / water::total_dissolved(w.raw) *
                      (water::conductivity_25(w.raw) / water::conductivity_25(w.product)));
  }
  return numerics::quantile(numerics::sorted(factors), 0.5);
}

}  // namespace

SharesRead shares_read(const StartUp& s) {
  SharesRead out;
  const auto flow = last_of(Point::kProductFlow, s);
  const auto reject = last_of(Point::kRejectFlow, s);
  const auto raw = last_of(Point::kRawQuality, s);
  const auto product = last_of(Point::kProductQuality, s);
  const auto permeate = last_of(Point::kPermeateQuality, s);
  std::optional<double> blended = 0.0;
  if (s.median.blend_flow > 0) {
    blended.reset();
    if (raw && product && permeate && *raw > *permeate && *product < *raw) {
      blended = std::fmax(0.0, (*product - *permeate) / (*raw - *permeate));
    }
  }
  if (flow && reject && blended) {
    const double made = *flow * (1 - *blended);
    out.recovery = made / (made + *reject);
  }
  if (raw && product) {
    out.reduction_ppm = 1 - *product / *raw;
    if (!s.streams.empty()) out.reduction_mass = 1 - mass_factor(s) * *product / *raw;
  }
  return out;
}

}  // namespace drawoff::visit
