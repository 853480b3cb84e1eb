#include "machine/readings.h"

#include <cmath>
#include <limits>
#include <numbers>

#include "machine/streams.h"
#include "machine/tolerances.h"
#include "membrane/sizes.h"
#include "water/conductivity.h"

namespace drawoff::machine {

Machine in_condition(Machine machine, const Condition& condition) {
  // A jug stands open at the unit's own height unless said otherwise; cooler and tank as built.
  if (condition.product_to == ProductVessel::kJug) {
    machine.product_height = units::metre(0);
    machine.product_pressure = units::pascal(0);
  }
  if (condition.product_to == ProductVessel::kCooler ||
      condition.product_to == ProductVessel::kOpenTank) {
    machine.product_pressure = units::pascal(0);
  }
  if (condition.height) machine.product_height = *condition.height;
  if (condition.vessel_pressure) machine.product_pressure = *condition.vessel_pressure;
  if (condition.blend == BlendState::kShut && machine.blend) {
    if (machine.blend->shut) {
      machine.blend->valve = *machine.blend->shut;
    } else {
      machine.blend.reset();
    }
  }
  if (condition.pump == PumpState::kOff && machine.pump) {
    // A stopped pump's valves or stages let water pass; what they take is left out. The vanes of a
    // rotary pump block the way but for their slip.
    if (machine.pump->kind == PumpKind::kVane) {
      machine.pump->speed = 0;
    } else {
      machine.pump.reset();
    }
  }
  machine.flushing = condition.flush_valve == FlushState::kOpen;
  return machine;
}

PointValues values_at(const Specimen& specimen, const Feed& feed, const Condition& condition) {
  PointValues values;
  values.fill(std::numeric_limits<double>::quiet_NaN());
  auto at = [&](Point p) -> double& { return values[static_cast<std::size_t>(p)]; };
  const Machine machine = in_condition(specimen.machine, condition);
  const auto point = operating_point(machine, feed.water, specimen.parameters);

  at(Point::kTemperature) =
      feed.water.temperature.si() + specimen.parameters[Parameter::kTemperature];
  const double strength = specimen.parameters[Parameter::kFeedSalt];
  auto meter = [&](const water::Composition& c) {
    return specimen.conductivity * water::conductivity_25(c).si();
  };
  at(Point::kRawQuality) = meter(water::scaled(feed.raw, strength));
  if (point.outcome == Outcome::kNotSolved) return values;
  at(Point::kInletPressure) = point.unit_inlet_pressure;
  at(Point::kFilteredPressure) = point.filtered_pressure;
  at(Point::kMembranePressure) = point.membrane_pressure;
  at(Point::kRejectPressure) = point.reject_pressure;
  at(Point::kProductFlow) = point.product_flow;
  at(Point::kRejectFlow) = point.drain_flow;
  if (point.outcome == Outcome::kOverConcentrates) return values;
  const auto streams = streams_at(specimen, machine, feed, point);
  if (point.product_flow > 0) at(Point::kProductQuality) = meter(streams.product);
  if (point.outcome == Outcome::kNothingFlows) return values;
  at(Point::kRejectQuality) = meter(streams.reject);
  if (point.permeate_flow > 0) at(Point::kPermeateQuality) = meter(streams.permeate);
  return values;
}

units::Time settled_after(const MachineEntry& entry, units::VolumeFlow product_flow) {
  const auto* size = membrane::find_element_size(entry.element.size);
  const double elements = entry.element.in_series * entry.element.in_parallel;
  double mixed = size == nullptr ? 0
                                 : elements * size->channel.area.si() *
                                       tolerance("permeate_water_volume") * 1e-3;
  for (const FilterEntry& filter : entry.filters) {
    if (filter.kind == FilterKind::kPolish || filter.kind == FilterKind::kMineral)
      mixed += tolerance("filter_water_volume") * 1e-3;
  }
  const double bore = entry.product.tube.bore.si();
  const double tube = entry.product.tube.length.si() * std::numbers::pi * bore * bore / 4;
  return units::Time((3 * mixed + tube) / std::fmax(product_flow.si(), 1e-9));
}

}  // namespace drawoff::machine
