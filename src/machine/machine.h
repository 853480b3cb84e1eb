// A unit as assembled: supply -> regulator -> valves -> filters -> pump -> membranes -> restrictor
// -> drain, part of the reject perhaps back before the pump, and permeate + blend -> filters ->
// product. What it is, in values; how it runs: operating_point.h.
#pragma once

#include <memory>
#include <optional>
#include <vector>

#include "membrane/rating.h"
#include "plumbing/loss.h"
#include "plumbing/pump.h"
#include "plumbing/regulator.h"
#include "plumbing/tube.h"
#include "water/osmotic_curve.h"

namespace drawoff::machine {

// Heights are measured upwards from the unit.
struct Supply {
  units::Pressure pressure;  // static, gauge, at the supply's own height; none in a raw tank
  units::Length height;
  plumbing::Tube tube;  // stop valve and tube to the unit
};

// How an element differs from the membrane of its plate.
struct Position {
  double water_permeability = 1;  // × A
  double salt_permeability = 1;   // × B
};

struct Membranes {
  membrane::Channel channel;
  membrane::MassTransferLaw law = membrane::MassTransferLaw::kJoined;
  units::Permeability water;  // A at 25 °C
  units::Velocity salt;       // B at 25 °C, of this raw water's salts
  membrane::TemperatureCoefficients coefficients;
  int in_series = 1;    // elements one behind the other
  int in_parallel = 1;  // such rows side by side
  // The elements along the water, the first where the feed enters; the rest as their plate. Up to
  // a row of them: every row is so. More: row by row.
  std::vector<Position> positions;
};

inline bool rows_alike(const Membranes& m) {
  return m.in_parallel == 1 || m.positions.size() <= static_cast<std::size_t>(m.in_series);
}
// Of the element in place i of that row, both from 0.
inline Position position_of(const Membranes& m, int row, int i) {
  const auto place = static_cast<std::size_t>(rows_alike(m) ? i : row * m.in_series + i);
  return place < m.positions.size() ? m.positions[place] : Position{};
}

// Raw water led past the membrane into the product, taken after the filters: before the pump, or
// behind it.
struct Blend {
  plumbing::Loss valve;         // metering valve as it is set
  units::Pressure check_valve;  // opens above this
  bool pressurised = false;     // taken behind the pump, as strong as what the membranes are fed
  std::optional<plumbing::Loss> shut;  // what the shut valve still lets through
};

struct Machine {
  Supply supply;
  std::optional<plumbing::Regulator> regulator;
  plumbing::Loss feed_valves;  // solenoid and hydraulic shut-off, open
  plumbing::Loss pre_filters;  // all of them, clean
  std::optional<plumbing::Pump> pump;
  Membranes membranes;
  plumbing::Loss restrictor;
  std::optional<plumbing::Loss> flush_valve;  // beside the restrictor
  bool flushing = false;                      // the flush valve stands open
  // Valve through which reject goes back before the pump; its check valve lets none the other way.
  // Without a pump nothing does.
  std::optional<plumbing::Loss> recirculation;
  plumbing::Tube drain;
  units::Length drain_height;
  std::optional<Blend> blend;           // absent, or shut: none
  units::Pressure product_check_valve;  // opens above this
  plumbing::Loss post_filters;
  plumbing::Tube product;
  units::Length product_height;      // of the outlet: jug, cooler or tank
  units::Pressure product_pressure;  // in the vessel it ends in, gauge; 0 for a jug
  units::Pressure housing_rating;    // highest pressure the membrane housing may see
};

// The water that the membranes are fed with, or would be without recirculation.
struct FeedWater {
  std::shared_ptr<const water::OsmoticCurve> osmotic;  // s = 1 is this water
  units::Temperature temperature;
  units::Diffusivity diffusivity;  // of its salts, at 25 °C
};

}  // namespace drawoff::machine
