// A school on a hard borehole and its unit, for tests. Invented.
#pragma once

#include "visit/start_up.h"

namespace drawoff::visit {

inline SurveyEntry borehole_survey() {
  using units::milligram_per_litre;
  using water::Species;
  SurveyEntry survey{.source = SourceKind::kBorehole};
  auto& w = survey.water;
  w.temperature = units::celsius(16);
  w.ph = 7.3;
  auto ion = [&](Species s, double mg_L) {
    w.ions.constituents[water::index(s)] = water::measured(milligram_per_litre(mg_L));
  };
  ion(Species::Ca, 118);
  ion(Species::Mg, 24);
  ion(Species::Na, 46);
  ion(Species::K, 3);
  ion(Species::HCO3, 352);
  ion(Species::Cl, 62);
  ion(Species::SO4, 74);
  ion(Species::NO3, 58);
  ion(Species::F, 0.6);
  ion(Species::SiO2, 17);
  return survey;
}

inline machine::MachineEntry wall_unit_entry() {
  using namespace units;
  machine::MachineEntry m;
  m.name = "wall unit";
  m.supply.pressure = bar(2.8);
  m.supply.uncertainty = bar(0.2);
  m.supply.tube = {.length = metre(4), .bore = millimetre(9.5), .minor_loss = 8};
  m.filters = {{.kind = machine::FilterKind::kSediment},
               {.kind = machine::FilterKind::kCarbon},
               {.kind = machine::FilterKind::kPolish}};
  m.pump = machine::PumpEntry{.open_flow = litre_per_hour(420),
                              .rated_flow = litre_per_hour(300),
                              .rated_pressure = bar(5.5),
                              .bypass_pressure = bar(7.5)};
  m.element.size = "2540";
  m.element.permeate_flow = litre_per_hour(110);
  m.element.rejection = 0.97;
  m.element.test_pressure = bar(7.6);
  m.element.test_salt = milligram_per_litre(500);
  m.element.test_temperature = celsius(25);
  m.element.test_recovery = 0.15;
  m.restrictor.flow = litre_per_hour(198);
  m.restrictor.pressure = bar(7);
  m.product.height = metre(0.4);
  return m;
}

inline ReadingEntry reading(machine::Point point, double value, ReadingUnit unit) {
  return {.point = point,
          .value = value,
          .unit = unit,
          .condition = {.product_to = machine::ProductVessel::kJug}};
}

}  // namespace drawoff::visit
