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

namespace {

units::Temperature temperature_of(const machine::Specimen& specimen,
                                  const machine::FeedWater& water) {
  return units::Temperature(water.temperature.si() + specimen.parameters[Parameter::kTemperature]);
}

double weight_of(units::Temperature temperature) {
  return water::density(temperature).si() * plumbing::kGravity;
}

}  // namespace

double resting_feed(const machine::Specimen& specimen, const machine::FeedWater& water) {
  const machine::Machine& m = specimen.machine;
  const double fed = m.supply.pressure.si() * specimen.parameters[Parameter::kSupplyPressure] +
                     weight_of(temperature_of(specimen, water)) * m.supply.height.si();
  return m.regulator ? std::fmin(fed, m.regulator->set_pressure.si()) : fed;
}

Plant plant_of(const machine::MachineEntry& entry,
               const machine::Specimen& specimen,
               const machine::Feed& feed,
               const machine::Condition& condition,
               const VolumeFactors& factors,
               Reach reach) {
  const double weight = weight_of(temperature_of(specimen, feed.water));
  return {.curve = ResponseCurve(specimen, feed, at_lowest_outlet(entry, condition), reach),
          .store = store_of(entry, condition, factors, weight),
          .held = held_water(entry, specimen, factors),
          .controls = controls_of(entry),
          .weight = weight,
          .static_feed = resting_feed(specimen, feed.water)};
}

}  // namespace drawoff::transients
