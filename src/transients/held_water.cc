#include "transients/held_water.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "machine/tolerances.h"
#include "numerics/random.h"

namespace drawoff::transients {

namespace {

using machine::ProductVessel;
using machine::tolerance;

double tube_volume(const machine::TubeEntry& tube) {
  const double bore = tube.bore.si();
  return tube.length.si() * std::numbers::pi * bore * bore / 4;
}

double usual_volume(ProductVessel vessel) {
  switch (vessel) {
    case ProductVessel::kJug:
      return 0;
    case ProductVessel::kCooler:
      return tolerance("usual_cooler_volume") * 1e-3;
    case ProductVessel::kTank:
      return tolerance("usual_tank_volume") * 1e-3;
    case ProductVessel::kOpenTank:
      return tolerance("usual_open_tank_volume") * 1e-3;
  }
  return 0;
}

}  // namespace

VolumeFactors draw_volume_factors(std::uint64_t seed, int index) {
  // Far from the streams of specimens, which count up from nothing.
  constexpr std::uint64_t kStreams = std::uint64_t{1} << 40;
  numerics::Random random(seed, kStreams + static_cast<std::uint64_t>(index));
  const double held = tolerance("held_water_spread");
  return {.membrane = std::exp(held * random.normal()),
          .filters = std::exp(held * random.normal()),
          .air = std::exp(tolerance("trapped_air_spread") * random.normal())};
}

Chain HeldWater::behind_tee() const { return {.mixed = post_filters, .plug = product_tube}; }

Chain HeldWater::product_side() const {
  Chain chain = behind_tee();
  chain.mixed.insert(chain.mixed.begin(), permeate_side);
  return chain;
}

Chain HeldWater::feed_side() const {
  Chain chain{.mixed = pre_filters, .plug = drain_tube};
  chain.mixed.push_back(feed_channel);
  return chain;
}

HeldWater held_water(const machine::MachineEntry& entry,
                     const machine::Specimen& specimen,
                     const VolumeFactors& factors) {
  const membrane::Channel& channel = specimen.machine.membranes.channel;
  const double area = channel.area.si() * entry.element.in_series * entry.element.in_parallel;
  HeldWater held;
  held.feed_channel = channel.porosity * channel.height.si() * area / 2;
  held.permeate_side = area * tolerance("permeate_water_volume") * 1e-3 * factors.membrane;
  for (const machine::FilterEntry& filter : entry.filters) {
    if (machine::after_membrane(filter.kind)) {
      held.post_filters.push_back(tolerance("filter_water_volume") * 1e-3 * factors.filters);
    } else {
      held.pre_filters.push_back(tolerance("housing_water_volume") * 1e-3 * factors.filters);
    }
  }
  held.product_tube = tube_volume(entry.product.tube);
  held.drain_tube = tube_volume(entry.drain.tube);
  return held;
}

ProductVessel vessel_of(const machine::MachineEntry& entry, const machine::Condition& condition) {
  return condition.product_to.value_or(entry.product.vessel);
}

units::Length lowest_outlet(const machine::MachineEntry& entry,
                            const machine::Condition& condition) {
  const ProductVessel vessel = vessel_of(entry, condition);
  if (condition.height) return *condition.height;
  if (vessel == ProductVessel::kJug && condition.product_to) return units::metre(0);
  units::Length lowest = entry.product.height;
  if (vessel == ProductVessel::kCooler) {
    for (const machine::CoolerEntry& cooler : entry.product.coolers) {
      if (cooler.height < lowest) lowest = cooler.height;
    }
  }
  return lowest;
}

Store store_of(const machine::MachineEntry& entry,
               const machine::Condition& condition,
               const VolumeFactors& factors,
               double weight) {
  const double water = tube_volume(entry.product.tube);
  const double bore = entry.product.tube.bore.si();
  const double wall = wall_give({.bore = bore,
                                 .thickness = bore * tolerance("tube_wall_share"),
                                 .modulus = tolerance("tube_modulus") * 1e9,
                                 .poisson = tolerance("tube_poisson")});
  Store store;
  store.line = {.compliance = water * (wall + kWaterGive),
                .air = tolerance("trapped_air_volume") * 1e-6 * factors.air};
  const ProductVessel vessel = vessel_of(entry, condition);
  const double volume = entry.product.volume ? entry.product.volume->si() : usual_volume(vessel);
  if (vessel == ProductVessel::kTank) {
    const double usual = tolerance("usual_precharge") * 1e5;
    store.tank =
        AirTank{.volume = volume,
                .precharge = entry.product.precharge ? entry.product.precharge->si() : usual};
  } else if (vessel != ProductVessel::kJug) {
    const double lowest = lowest_outlet(entry, condition).si();
    const double own = condition.height.value_or(entry.product.height).si();
    store.open.push_back({.volume = volume, .head = weight * (own - lowest)});
    if (vessel == ProductVessel::kCooler) {
      for (const machine::CoolerEntry& cooler : entry.product.coolers) {
        store.open.push_back({.volume = cooler.volume.si(),
                              .head = std::fmax(0.0, weight * (cooler.height.si() - lowest))});
      }
    }
    std::sort(store.open.begin(), store.open.end(), [](const auto& a, const auto& b) {
      return a.head < b.head;
    });
  }
  return store;
}

units::Volume vessels_of(const machine::MachineEntry& entry, const machine::Condition& condition) {
  const Store store = store_of(entry, condition, {}, 0);
  double whole = store.tank ? store.tank->volume : 0;
  for (const auto& vessel : store.open) whole += vessel.volume;
  return units::Volume(whole);
}

double float_share() { return tolerance("float_share"); }

}  // namespace drawoff::transients
