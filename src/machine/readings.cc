#include "machine/readings.h"

#include <cmath>
#include <limits>
#include <numbers>

#include "machine/tolerances.h"
#include "membrane/sizes.h"
#include "water/conductivity.h"
#include "water/mixing.h"

namespace drawoff::machine {

Machine in_condition(Machine machine, const Condition& condition) {
  // A jug stands open at the unit's own height unless said otherwise; cooler and tank as built.
  if (condition.product_to == ProductVessel::kJug) {
    machine.product_height = units::metre(0);
    machine.product_pressure = units::pascal(0);
  }
  if (condition.product_to == ProductVessel::kCooler) machine.product_pressure = units::pascal(0);
  if (condition.height) machine.product_height = *condition.height;
  if (condition.vessel_pressure) machine.product_pressure = *condition.vessel_pressure;
  if (condition.blend == BlendState::kShut) machine.blend.reset();
  // A stopped pump's valves let water pass; what they take is left out.
  if (condition.pump == PumpState::kOff) machine.pump.reset();
  return machine;
}

water::Composition permeate_of(const Specimen& specimen,
                               const Feed& feed,
                               const OperatingPoint<double>& point) {
  const auto& p = specimen.parameters;
  const double temperature = feed.water.temperature.si() + p[Parameter::kTemperature];
  const auto raw = water::scaled(feed.composition, point.feed_salt);
  return membrane::permeate_composition(
      raw,
      specimen.passage,
      point.permeate_salt / point.feed_salt,
      {.flux = point.flux,
       .salt_permeability =
           specimen.salt_permeability.si() * p[Parameter::kSaltPermeability] *
           membrane::arrhenius(specimen.machine.membranes.coefficients.salt, temperature),
       .polarisation = point.polarisation});
}

PointValues values_at(const Specimen& specimen, const Feed& feed, const Condition& condition) {
  PointValues values;
  values.fill(std::numeric_limits<double>::quiet_NaN());
  auto at = [&](Point p) -> double& { return values[static_cast<std::size_t>(p)]; };
  const Machine machine = in_condition(specimen.machine, condition);
  const auto point = operating_point(machine, feed.water, specimen.parameters);

  at(Point::kTemperature) =
      feed.water.temperature.si() + specimen.parameters[Parameter::kTemperature];
  const auto raw = water::scaled(feed.composition, specimen.parameters[Parameter::kFeedSalt]);
  auto meter = [&](const water::Composition& c) {
    return specimen.conductivity * water::conductivity_25(c).si();
  };
  at(Point::kRawQuality) = meter(raw);
  if (point.outcome == Outcome::kNotSolved) return values;
  at(Point::kInletPressure) = point.unit_inlet_pressure;
  at(Point::kFilteredPressure) = point.filtered_pressure;
  at(Point::kMembranePressure) = point.membrane_pressure;
  at(Point::kRejectPressure) = point.reject_pressure;
  at(Point::kProductFlow) = point.product_flow;
  at(Point::kRejectFlow) = point.reject_flow;
  if (point.outcome == Outcome::kNothingFlows) {
    if (point.product_flow > 0) at(Point::kProductQuality) = meter(raw);
    return values;
  }
  if (point.outcome == Outcome::kOverConcentrates) return values;
  // All salts of the reject alike: the little that passed hardly changes their proportions.
  at(Point::kRejectQuality) = meter(water::scaled(feed.composition, point.reject_salt));
  if (point.permeate_flow > 0) {
    const auto permeate = permeate_of(specimen, feed, point);
    at(Point::kPermeateQuality) = meter(permeate);
    at(Point::kProductQuality) =
        meter(water::mixed({permeate, units::VolumeFlow(point.permeate_flow)},
                           {raw, units::VolumeFlow(point.blend_flow)}));
  } else if (point.product_flow > 0) {
    at(Point::kProductQuality) = meter(raw);
  }
  return values;
}

units::Time settled_after(const MachineEntry& entry, units::VolumeFlow product_flow) {
  const auto* size = membrane::find_element_size(entry.element.size);
  const double elements = entry.element.in_series * entry.element.in_parallel;
  double mixed = size == nullptr ? 0
                                 : elements * size->channel.area.si() *
                                       tolerance("permeate_water_volume") * 1e-3;
  for (const FilterEntry& filter : entry.filters) {
    if (filter.kind == FilterKind::kPolish) mixed += tolerance("filter_water_volume") * 1e-3;
  }
  const double bore = entry.product.tube.bore.si();
  const double tube = entry.product.tube.length.si() * std::numbers::pi * bore * bore / 4;
  return units::Time((3 * mixed + tube) / std::fmax(product_flow.si(), 1e-9));
}

}  // namespace drawoff::machine
