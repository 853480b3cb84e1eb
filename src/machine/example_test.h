// Two machines for tests: a wall unit with a booster pump, and a small unit on supply pressure
// alone. All values of ours.
#pragma once

#include <memory>

#include "machine/machine.h"
#include "membrane/sizes.h"
#include "water/diffusivity.h"

namespace drawoff::machine {

// A hard borehole water, mol/m³, about 610 mg/L.
inline water::Composition hard_water() {
  water::Composition c;
  using water::Species;
  c[Species::Ca] = 2.5;
  c[Species::Mg] = 0.9;
  c[Species::Na] = 1.6;
  c[Species::K] = 0.08;
  c[Species::HCO3] = 5.4;
  c[Species::Cl] = 1.4;
  c[Species::SO4] = 0.6;
  c[Species::NO3] = 0.48;
  c[Species::SiO2] = 0.25;
  return c;
}

inline FeedWater feed_water(const water::Composition& c, units::Temperature t) {
  return {.osmotic = std::make_shared<const water::OsmoticCurve>(c, t),
          .temperature = t,
          .diffusivity = water::salt_diffusivity_25(c)};
}

inline Machine machine_of(const char* size, double flow_L_h, double pressure_bar) {
  using namespace units;
  const membrane::RatingTest test{.permeate_flow = litre_per_hour(flow_L_h),
                                  .rejection = 0.97,
                                  .pressure = bar(pressure_bar),
                                  .salt = milligram_per_litre(500),
                                  .temperature = celsius(25),
                                  .recovery = 0.15};
  const auto& element = *membrane::find_element_size(size);
  const auto rating =
      membrane::invert_rating(test, membrane::rating_water(test), {.channel = element.channel});
  Machine m;
  m.supply = {.pressure = bar(3),
              .tube = {.length = metre(4), .bore = millimetre(6.35), .minor_loss = 6}};
  m.pre_filters = plumbing::loss_from_plate(
      {.flow = litre_per_hour(300), .pressure = bar(0.3), .laminar_share = 0.8});
  m.membranes = {.channel = element.channel, .water = rating.water, .salt = rating.salt};
  m.drain = {.length = metre(3), .bore = millimetre(6.35), .minor_loss = 2};
  m.product_check_valve = bar(0.05);
  m.post_filters = plumbing::loss_from_plate(
      {.flow = litre_per_hour(100), .pressure = bar(0.1), .laminar_share = 0.8});
  m.product = {.length = metre(3), .bore = millimetre(6.35), .minor_loss = 4};
  m.product_height = metre(0.5);
  m.housing_rating = bar(10);
  return m;
}

inline Machine wall_unit() {
  using namespace units;
  Machine m = machine_of("2540", 100, 7.6);
  m.pump = plumbing::Pump{.open_flow = litre_per_hour(420),
                          .rated_flow = litre_per_hour(300),
                          .rated_pressure = bar(6),
                          .bypass_pressure = bar(7.5)};
  m.restrictor = plumbing::loss_from_plate(
      {.flow = litre_per_hour(180), .pressure = bar(7), .laminar_share = 0.15});
  m.blend = Blend{.valve = plumbing::loss_from_plate(
                      {.flow = litre_per_hour(8), .pressure = bar(1), .laminar_share = 0.5}),
                  .check_valve = bar(0.05)};
  return m;
}

inline Machine small_unit() {
  using namespace units;
  Machine m = machine_of("2012", 13, 4.1);
  m.supply.pressure = bar(3.8);
  m.restrictor = plumbing::loss_from_plate(
      {.flow = litre_per_hour(30), .pressure = bar(4), .laminar_share = 0.15});
  return m;
}

}  // namespace drawoff::machine
