// For tests only: plants of the two example machines, with vessels and switches. Values of ours.
#pragma once

#include "machine/example_entry_test.h"
#include "machine/example_test.h"
#include "transients/plant.h"

namespace drawoff::transients {

struct Example {
  machine::MachineEntry entry = machine::full_plates();
  machine::Condition condition;
  units::Temperature temperature = units::celsius(18);
  machine::Feed feed;
  machine::Specimen specimen;
  Plant plant;

  // After a change of the entry.
  void build() {
    feed =
        machine::feed_of({.composition = machine::hard_water(), .temperature = temperature}, entry);
    specimen = machine::nominal(entry, feed).specimen;
    plant = plant_of(entry, specimen, feed, condition, {});
  }
};

// Pump, solenoid, high-pressure switch and a 12 L tank on the machine of full plates.
inline Example with_tank() {
  using namespace units;
  Example e;
  e.entry.solenoid = machine::SolenoidEntry{};
  e.entry.high_pressure_switch = machine::SwitchEntry{.cut_out = bar(2.5), .cut_in = bar(1.5)};
  e.entry.product.vessel_pressure = bar(0);
  e.entry.product.volume = litre(12);
  e.entry.product.precharge = bar(0.5);
  e.build();
  return e;
}

// The 2012 of models.md: 14 L/h, a polish filter, on supply pressure alone.
inline Example small_wall_unit() {
  using namespace units;
  Example e;
  e.entry = machine::MachineEntry{};
  e.entry.supply.pressure = bar(4);
  e.entry.filters = {{.kind = machine::FilterKind::kSediment},
                     {.kind = machine::FilterKind::kCarbon},
                     {.kind = machine::FilterKind::kPolish}};
  e.entry.element = {.size = "2012",
                     .permeate_flow = litre_per_hour(14),
                     .rejection = 0.96,
                     .test_pressure = bar(4.1)};
  e.entry.restrictor = {.flow = litre_per_hour(30)};
  e.entry.product.tube.length = metre(3);
  e.entry.product.vessel = machine::ProductVessel::kCooler;
  e.entry.product.volume = litre(4);
  e.build();
  return e;
}

}  // namespace drawoff::transients
