#include "visit/blend_ratio.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "machine/operating_point.h"
#include "machine/readings.h"
#include "transients/held_water.h"

namespace drawoff::visit {
namespace {

using machine::Feed;
using machine::Parameter;
using machine::Parameters;

// Where nothing stops a machine its tank fills until what pushes the raw water is nearly reached
// (common practice, no source).
constexpr double kNearlyAll = 0.98;
// What the tee lacks of its closing pressure, added: that pressure hardly hangs on it.
constexpr int kSteps = 4;

using Point = machine::OperatingPoint<double>;

Point at(const machine::Machine& machine, const Feed& feed, Parameters<double> p, double pressure) {
  p[Parameter::kProductBackPressure] += pressure;
  return machine::operating_point(machine, feed.water, p);
}

double ratio(const Point& p) {
  if (!(p.blend_flow > 0)) return 0;
  // Where the membranes give nothing, raw water may still run on alone.
  return p.permeate_flow > 0 ? p.blend_flow / p.permeate_flow
                             : std::numeric_limits<double>::infinity();
}

}  // namespace

BlendRatio::BlendRatio(const machine::MachineEntry& entry, const machine::Specimen& specimen)
    : machine_(specimen.machine), controls_(transients::controls_of(entry)) {
  const auto tank = transients::store_of(entry, {}, {}, 0).tank;
  if (!tank) return;
  machine_ = machine::in_condition(machine_, transients::at_lowest_outlet(entry, {}));
  empty_ = tank->precharge;
}

double BlendRatio::set(const Feed& feed, const Parameters<double>& parameters) const {
  const double open = ratio(at(machine_, feed, parameters, 0));
  return empty_ ? std::min(open, ratio(at(machine_, feed, parameters, *empty_))) : open;
}

double BlendRatio::most(const Feed& feed, const Parameters<double>& parameters) const {
  if (!empty_) return ratio(at(machine_, feed, parameters, 0));
  return std::max(ratio(at(machine_, feed, parameters, *empty_)), full(feed, parameters));
}

double BlendRatio::full(const Feed& feed, const Parameters<double>& parameters) const {
  double pressure = *empty_;
  Point p = at(machine_, feed, parameters, pressure);
  for (int i = 0; i < kSteps && p.permeate_flow > 0; ++i) {
    const double pushes =
        machine_.blend && machine_.blend->pressurised ? p.membrane_pressure : p.filtered_pressure;
    double stops = kNearlyAll * pushes;
    if (controls_.high) stops = std::min(stops, controls_.high->stops);
    if (controls_.shut_off)
      stops = std::min(stops, controls_.shut_off->stops * p.filtered_pressure);
    pressure = std::max(*empty_, pressure + stops - p.tee_pressure);
    p = at(machine_, feed, parameters, pressure);
  }
  return ratio(p);
}

}  // namespace drawoff::visit
