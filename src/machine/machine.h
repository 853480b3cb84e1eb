// A unit as assembled: supply -> filters -> pump -> membranes -> restrictor -> drain, and
// permeate + blend -> filters -> product. What it is, in values; how it runs: operating_point.h.
#pragma once

#include <memory>
#include <optional>

#include "membrane/rating.h"
#include "plumbing/loss.h"
#include "plumbing/pump.h"
#include "plumbing/tube.h"
#include "water/osmotic_curve.h"

namespace drawoff::machine {

// Heights are measured upwards from the unit.
struct Supply {
  units::Pressure pressure;  // static, gauge, at the supply's own height
  units::Length height;
  plumbing::Tube tube;  // stop valve and tube to the unit
};

struct Membranes {
  membrane::Channel channel;
  membrane::MassTransferLaw law = membrane::MassTransferLaw::kJoined;
  units::Permeability water;  // A at 25 °C
  units::Velocity salt;       // B at 25 °C, of this raw water's salts
  membrane::TemperatureCoefficients coefficients;
  int in_series = 1;    // elements one behind the other
  int in_parallel = 1;  // such rows side by side
};

// Raw water led past the membrane into the product, taken after the filters, before the pump.
struct Blend {
  plumbing::Loss valve;         // metering valve as it is set; see set_valve()
  units::Pressure check_valve;  // opens above this
};

struct Machine {
  Supply supply;
  plumbing::Loss pre_filters;  // all of them, clean
  std::optional<plumbing::Pump> pump;
  Membranes membranes;
  plumbing::Loss restrictor;
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

// The raw water as the machine sees it.
struct FeedWater {
  std::shared_ptr<const water::OsmoticCurve> osmotic;  // s = 1 is this water
  units::Temperature temperature;
  units::Diffusivity diffusivity;  // of its salts, at 25 °C
};

}  // namespace drawoff::machine
