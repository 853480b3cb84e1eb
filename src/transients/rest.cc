#include "transients/rest.h"

#include <algorithm>
#include <cmath>

#include "numerics/bracket.h"
#include "plumbing/loss.h"
#include "water/properties.h"

namespace drawoff::transients {

using machine::BlendFrom;
using machine::Parameter;

// ---- Creep -----------------------------------------------------------------------------------

double creep_time_constant(const Sides& sides, double exchange) {
  return 1 / (exchange * (1 / sides.permeate_volume + 1 / sides.feed_volume));
}

Sides crept(const Sides& at_stop, double exchange, double time) {
  Sides s = at_stop;
  // The feed side's share of the water; 1 where it is without bound.
  const double share = 1 / (1 + at_stop.permeate_volume / at_stop.feed_volume);
  const double even = share * at_stop.feed_salt + (1 - share) * at_stop.permeate_salt;
  const double left = std::exp(-time / creep_time_constant(at_stop, exchange));
  s.permeate_salt = even + (at_stop.permeate_salt - even) * left;
  s.feed_salt = even + (at_stop.feed_salt - even) * left;
  return s;
}

double salt_exchange(const machine::Specimen& specimen, const machine::Feed& feed) {
  const auto& m = specimen.machine.membranes;
  const double kelvin = feed.water.temperature.si() + specimen.parameters[Parameter::kTemperature];
  return m.salt.si() * specimen.parameters[Parameter::kSaltPermeability] *
         membrane::arrhenius(m.coefficients.salt, kelvin) * m.channel.area.si() * m.in_series *
         m.in_parallel;
}

// ---- First draw ------------------------------------------------------------------------------

namespace {

// The draw's mixed volumes in water drawn, and what of the rest's excess each holds at first.
struct Excess {
  std::vector<double> mixed;
  std::vector<double> held;
};
Excess excess_of(const FirstDraw& draw) {
  Excess e{.mixed = draw.held.post_filters, .held = {}};
  // Only the permeate works on the space behind the membrane: in water drawn it is the larger.
  e.mixed.insert(e.mixed.begin(), draw.held.permeate_side / draw.permeate_share);
  e.held.assign(e.mixed.size(), 0.0);
  e.held.front() = draw.held.permeate_side * (draw.rested - draw.permeate);
  return e;
}

}  // namespace

double strength_after(const FirstDraw& draw, double drawn) {
  const double through = drawn - draw.held.product_tube;
  if (!(through > 0)) return draw.product;
  const Excess e = excess_of(draw);
  return draw.product + held_after(e.mixed, e.held, through).back() / e.mixed.back();
}

double mean_strength(const FirstDraw& draw, double drawn) {
  const double through = drawn - draw.held.product_tube;
  if (!(through > 0)) return draw.product;
  const Excess e = excess_of(draw);
  double left = 0;
  for (const double salt : held_after(e.mixed, e.held, through)) left += salt;
  return draw.product + (e.held.front() - left) / drawn;
}

double settled_from(const FirstDraw& draw, double share) {
  const Excess e = excess_of(draw);
  const double allowed = share * draw.product;
  auto beyond = [&](double through) {
    return std::fabs(held_after(e.mixed, e.held, through).back() / e.mixed.back()) - allowed;
  };
  double sum = 0;
  for (const double v : e.mixed) sum += v;
  // From where it is settled for good, back to the last step at which it is not.
  double high = sum;
  constexpr int kDoublings = 20;
  for (int i = 0; i < kDoublings && beyond(high) > 0; ++i) high *= 2;
  double low = high;
  const double step = sum / 64;
  while (low > 0 && !(beyond(low) > 0)) {
    high = low;
    low = std::fmax(0.0, low - step);
    if (low == 0 && !(beyond(low) > 0)) return 0;
  }
  const auto root =
      numerics::find_root(beyond, {.low = low, .high = high, .tolerance = 1e-10, .scale = sum});
  return draw.held.product_tube + root.root;
}

// ---- Blend at rest ---------------------------------------------------------------------------

namespace {

// Whether raw water reaches the branch while the machine stands.
bool fed_at_rest(const machine::MachineEntry& entry) {
  switch (entry.blend->from) {
    case BlendFrom::kBeforePump:
      return true;
    case BlendFrom::kAfterSolenoid:
    case BlendFrom::kPressurised:
      // A stopped pump's valves let water pass.
      return !entry.solenoid && !entry.hydraulic_shut_off;
  }
  return false;
}

}  // namespace

BlendAtRest blend_at_rest(const machine::MachineEntry& entry,
                          const machine::Specimen& specimen,
                          const machine::Feed& feed,
                          const machine::Condition& condition,
                          const Plant& plant,
                          const RestState& state) {
  BlendAtRest out{.held = state.held};
  const auto blend = machine::in_condition(specimen.machine, condition).blend;
  const double factor = specimen.parameters[Parameter::kBlendFlow];
  if (!blend || !(factor > 0) || !fed_at_rest(entry)) return out;
  const units::Temperature temperature(feed.water.temperature.si() +
                                       specimen.parameters[Parameter::kTemperature]);
  const plumbing::Fluid<double> fluid{water::density(temperature).si(),
                                      water::viscosity(temperature).si()};
  const double check = blend->check_valve.si();
  const double head = plant.curve.head();
  // Forwards through the check valve; back only where there is none.
  const auto flow_at = [&](double p) {
    const double push = plant.static_feed - p - head;
    if (push > 0)
      return factor * plumbing::flow_of(blend->valve, std::fmax(0.0, push - check), fluid);
    return check > 0 ? 0.0 : factor * plumbing::flow_of(blend->valve, push, fluid);
  };
  const double first = flow_at(state.outlet_pressure);
  out.flow = std::fabs(first);
  if (first == 0) return out;
  out.seep = first > 0 ? Seep::kRawSeepsIn : Seep::kRunsBack;

  if (!plant.store.open.empty() && (state.room > 0 || first < 0)) {
    // An open vessel stands at its height: into it until its float shuts; out of it none, its inlet
    // stands above its water.
    if (first < 0) {
      out = {.held = state.held};
      return out;
    }
    out.volume = std::fmin(state.room, first * state.time);
    return out;
  }
  if (!plant.store.tank && plant.store.open.empty()) {
    // An open outlet: it runs on.
    out.volume = first * state.time;
    return out;
  }
  // Into line and tank: pressures at which the flow has ended, and how far the rest leads to it.
  const double even = plant.static_feed - head - (first > 0 ? check : 0.0);
  const auto time_to = [&](double p) {
    // Simpson in the root of what is left to go: there the flow ends as a power of it.
    constexpr int kSteps = 200;
    const double whole = std::sqrt(std::fabs(even - state.outlet_pressure));
    const double last = std::sqrt(std::fabs(even - p));
    double sum = 0;
    for (int i = 0; i <= kSteps; ++i) {
      const double y = last + (whole - last) * i / kSteps;
      const double at = first > 0 ? even - y * y : even + y * y;
      const double weight = i == 0 || i == kSteps ? 1 : (i % 2 == 1 ? 4 : 2);
      sum += weight * give(plant.store, at) * 2 * y / std::fabs(flow_at(at));
    }
    return sum * (whole - last) / (3 * kSteps);
  };
  const double nearly = even - (even - state.outlet_pressure) * 1e-6;
  double reached = nearly;
  if (time_to(nearly) > state.time) {
    const auto root = numerics::find_root([&](double p) { return time_to(p) - state.time; },
                                          {.low = std::fmin(nearly, state.outlet_pressure),
                                           .high = std::fmax(nearly, state.outlet_pressure),
                                           .tolerance = 1e-12,
                                           .scale = std::fabs(even)});
    if (root.status != numerics::BracketStatus::kNoSignChange) reached = root.root;
  }
  out.volume =
      std::fabs(content(plant.store, reached) - content(plant.store, state.outlet_pressure));
  return out;
}

double strength_after(const BlendAtRest& blend, double product, double raw) {
  if (blend.seep != Seep::kRawSeepsIn || !(blend.held + blend.volume > 0)) return product;
  return (blend.held * product + blend.volume * raw) / (blend.held + blend.volume);
}

}  // namespace drawoff::transients
