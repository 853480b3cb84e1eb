#include "transients/plant.h"

#include <cmath>

#include "plumbing/fluid.h"
#include "water/properties.h"

namespace drawoff::transients {

using machine::Parameter;

Controls controls_of(const machine::MachineEntry& entry) {
  Controls c{.pump = entry.pump.has_value(), .solenoid = entry.solenoid.has_value()};
  const auto pressures = [](const machine::SwitchEntry& s) {
    return Thresholds{.stops = s.cut_out.si(), .starts = s.cut_in.si()};
  };
  if (entry.high_pressure_switch && (c.pump || c.solenoid)) {
    c.high = pressures(*entry.high_pressure_switch);
  }
  if (entry.low_pressure_switch && c.pump) c.low = pressures(*entry.low_pressure_switch);
  if (entry.hydraulic_shut_off) {
    c.shut_off = Thresholds{.stops = entry.hydraulic_shut_off->closes_at,
                            .starts = entry.hydraulic_shut_off->opens_at};
  }
  return c;
}

machine::Condition at_lowest_outlet(const machine::MachineEntry& entry,
                                    machine::Condition condition) {
  condition.height = lowest_outlet(entry, condition);
  condition.vessel_pressure = units::pascal(0);
  return condition;
}

Plant plant_of(const machine::MachineEntry& entry,
               const machine::Specimen& specimen,
               const machine::Feed& feed,
               const machine::Condition& condition,
               const VolumeFactors& factors) {
  const units::Temperature temperature(feed.water.temperature.si() +
                                       specimen.parameters[Parameter::kTemperature]);
  const double weight = water::density(temperature).si() * plumbing::kGravity;
  const machine::Machine& m = specimen.machine;
  double fed = m.supply.pressure.si() * specimen.parameters[Parameter::kSupplyPressure] +
               weight * m.supply.height.si();
  if (m.regulator) fed = std::fmin(fed, m.regulator->set_pressure.si());
  return {.curve = ResponseCurve(specimen, feed, at_lowest_outlet(entry, condition)),
          .store = store_of(entry, condition, factors, weight),
          .held = held_water(entry, specimen, factors),
          .controls = controls_of(entry),
          .weight = weight,
          .static_feed = fed};
}

}  // namespace drawoff::transients
