// A wall unit by its plates, for tests: complete, or as bare as plates often are. Values of ours.
#pragma once

#include "machine/plates.h"

namespace drawoff::machine {

inline MachineEntry full_plates() {
  using namespace units;
  MachineEntry e;
  e.supply = {.pressure = bar(3), .tube = {.length = metre(4), .bore = millimetre(6.35)}};
  e.filters = {{.kind = FilterKind::kSediment},
               {.kind = FilterKind::kCarbon},
               {.kind = FilterKind::kPolish, .flow = litre_per_hour(200), .loss = bar(0.05)}};
  e.pump = PumpEntry{.open_flow = litre_per_hour(500),
                     .rated_flow = litre_per_hour(320),
                     .rated_pressure = bar(5),
                     .bypass_pressure = bar(7)};
  e.element = {.size = "2540",
               .permeate_flow = litre_per_hour(100),
               .rejection = 0.97,
               .test_pressure = bar(7.6),
               .test_salt = milligram_per_litre(500),
               .test_temperature = celsius(25),
               .test_recovery = 0.15};
  e.restrictor = {.flow = litre_per_hour(200), .pressure = bar(6)};
  e.blend = BlendEntry{.full_open_flow = litre_per_hour(100), .opening = 0.05};
  e.product.height = metre(1);
  e.product.vessel = ProductVessel::kTank;
  e.product.vessel_pressure = bar(1);
  e.housing_rating = bar(12);
  return e;
}

inline MachineEntry bare_plates() {
  MachineEntry e = full_plates();
  e.element.rejection.reset();
  e.element.test_salt.reset();
  e.element.test_temperature.reset();
  e.element.test_recovery.reset();
  return e;
}

}  // namespace drawoff::machine
