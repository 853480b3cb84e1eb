// The equations of a machine, for operating_point.cc: every part as pressure against flow, and what
// the balances lack of being true at given unknowns. Templates on the scalar: double for values,
// Dual<N> for slopes.
#pragma once

#include <cmath>
#include <type_traits>

#include "machine/operating_point.h"
#include "machine/rows.h"
#include "numerics/bracket.h"
#include "water/diffusivity.h"
#include "water/properties.h"

namespace drawoff::machine::network {

using membrane::ElementStatus;
using numerics::Dual;
using numerics::value_of;

// From the supply to the membranes.
template <class S>
struct FeedLine {
  const Machine* machine;
  plumbing::Fluid<S> fluid;
  S head;  // [Pa] of the supply at the unit's height, nothing flowing
  S supply_loss;
  S filter_loss;
  S pump_flow;
};

// The machine with its parameters applied, at the temperature of its water.
template <class S>
struct Network {
  const Machine* machine;
  Parameters<S> parameters;
  FeedLine<S> line;
  membrane::Membrane<S> membrane;
  membrane::Surroundings<S> around;
  S outlet_head;  // [Pa] at the tee, nothing flowing
  S drain_head;   // [Pa] behind the restrictor, nothing flowing
};

template <class S>
Network<S> network(const Machine& m, const FeedWater& water, const Parameters<S>& p) {
  using P = Parameter;
  const S temperature = water.temperature.si() + p[P::kTemperature];
  const units::Quantity<units::dim::Temperature, S> t(temperature);
  const plumbing::Fluid<S> fluid{water::density(t).si(), water::viscosity(t).si()};
  const S weight = fluid.density * plumbing::kGravity;  // [Pa/m]
  Network<S> n{.machine = &m, .parameters = p};
  n.line = {.machine = &m,
            .fluid = fluid,
            .head = m.supply.pressure.si() * p[P::kSupplyPressure] + weight * m.supply.height.si(),
            .supply_loss = p[P::kSupplyLoss],
            .filter_loss = p[P::kPreFilterLoss],
            .pump_flow = p[P::kPumpFlow]};
  const S diffusivity = water::diffusivity_at(water.diffusivity, t).si();
  const auto& c = m.membranes.coefficients;
  const S a =
      m.membranes.water.si() * p[P::kWaterPermeability] * membrane::arrhenius(c.water, temperature);
  n.membrane = {.water_permeability = a,
                .salt_permeability = m.membranes.salt.si() * p[P::kSaltPermeability] *
                                     membrane::arrhenius(c.salt, temperature),
                .leak = a * p[P::kLeak],
                .mass_transfer = p[P::kMassTransfer],
                .channel_friction = p[P::kChannelFriction]};
  n.around = {.osmotic = water.osmotic.get(),
              .temperature = temperature,
              .fluid = {fluid.density, fluid.viscosity, diffusivity},
              .law = m.membranes.law};
  n.outlet_head =
      m.product_pressure.si() + p[P::kProductBackPressure] + weight * m.product_height.si();
  n.drain_head = weight * m.drain_height.si();
  return n;
}

// Reject goes back before the pump only where a pump makes it.
template <class S>
bool recirculates(const Network<S>& n) {
  return n.machine->recirculation && n.machine->pump;
}

// What remains to be found. Without recirculation the last two are not looked at.
template <class S>
struct Unknowns {
  S fresh_flow{};  // from the supply, past the blend, to the membranes
  S tee_pressure{};
  S recirculation{};
  S feed_salt{};
};

template <class S>
struct State {
  ElementStatus status = ElementStatus::kSolved;
  OperatingPoint<S> point;
  // What the balances lack of being true [Pa]; the last two as a share of feed flow and raw
  // strength, times 1 bar, so that all four are of one size.
  S drain_balance{};
  S product_balance{};
  S recirculation_balance{};
  S salt_balance{};
};

template <class S>
S inlet_pressure(const FeedLine<S>& line, const S& flow) {
  const Machine& m = *line.machine;
  const S before =
      line.head - line.supply_loss * plumbing::pressure_of(m.supply.tube, flow, line.fluid);
  return m.regulator ? plumbing::pressure_behind(*m.regulator, before, flow) : before;
}

template <class S>
S filtered_pressure(const FeedLine<S>& line, const S& flow) {
  return inlet_pressure(line, flow) -
         plumbing::pressure_of(line.machine->feed_valves, flow, line.fluid) -
         line.filter_loss * plumbing::pressure_of(line.machine->pre_filters, flow, line.fluid);
}

template <class S>
S pump_pressure(const FeedLine<S>& line, const S& flow) {
  if (!line.machine->pump) return S(0.0);
  return plumbing::pressure_added(*line.machine->pump, flow, line.pump_flow);
}

// A part whose flow at a pressure is `factor` times that of `loss`.
template <class S>
S scaled_pressure(const plumbing::Loss& loss,
                  const S& factor,
                  const S& q,
                  const plumbing::Fluid<S>& fluid) {
  return plumbing::pressure_of(loss, S(q / factor), fluid);
}

template <class S>
S product_pressure(const Network<S>& n, const S& flow) {
  return n.outlet_head +
         n.parameters[Parameter::kPostFilterLoss] *
             plumbing::pressure_of(n.machine->post_filters, flow, n.line.fluid) +
         plumbing::pressure_of(n.machine->product, flow, n.line.fluid);
}

template <class S>
plumbing::Fluid<double> plain(const plumbing::Fluid<S>& fluid) {
  return {value_of(fluid.density), value_of(fluid.viscosity)};
}

// Pressure over the restrictor and, beside it, the flush valve where that stands open: one share of
// the flow gives both the same.
template <class S>
S restrictor_pressure(const Network<S>& n, const S& flow) {
  const Machine& m = *n.machine;
  const S& factor = n.parameters[Parameter::kRestrictorFlow];
  if (!m.flushing || !m.flush_valve || value_of(flow) == 0) {
    return scaled_pressure(m.restrictor, factor, flow, n.line.fluid);
  }
  const auto lacks = [&](const S& through) {
    return plumbing::pressure_of(*m.flush_valve, through, n.line.fluid) -
           scaled_pressure(m.restrictor, factor, S(flow - through), n.line.fluid);
  };
  const double all = value_of(flow);
  const auto root = numerics::find_root([&](double q) { return value_of(lacks(S(q))); },
                                        {.low = std::fmin(0.0, all),
                                         .high = std::fmax(0.0, all),
                                         .tolerance = 1e-15,
                                         .scale = std::fabs(all) * 1e-3});
  S through(root.root);
  if constexpr (!std::is_same_v<S, double>) {
    // Implicit function theorem: one Newton step from the root changes the slopes alone.
    const auto fluid = plain(n.line.fluid);
    const double narrow = value_of(factor);
    const double slope =
        plumbing::slope_of(*m.flush_valve, root.root, fluid) +
        plumbing::slope_of(m.restrictor, (all - root.root) / narrow, fluid) / narrow;
    through = through - (lacks(through) - value_of(lacks(through))) / slope;
  }
  return plumbing::pressure_of(*m.flush_valve, through, n.line.fluid);
}

template <class S>
S drain_pressure(const Network<S>& n, const S& flow) {
  return n.drain_head + restrictor_pressure(n, flow) +
         n.parameters[Parameter::kDrainLoss] *
             plumbing::pressure_of(n.machine->drain, flow, n.line.fluid);
}

// The check valve holds the product back: the stream goes by the membranes as it came.
template <class S>
void pass_by_membranes(const Network<S>& n, OperatingPoint<S>& p) {
  const Membranes& m = n.machine->membranes;
  p.permeate_flow = S(0.0);
  p.permeate_salt = S(0.0);
  p.flux = S(0.0);
  p.wall_salt = p.feed_salt;
  p.polarisation = S(1.0);
  p.reject_flow = p.feed_flow;
  p.reject_salt = p.feed_salt;
  const S row = p.feed_flow * (1.0 / m.in_parallel);
  p.reject_pressure =
      p.membrane_pressure - n.membrane.channel_friction *
                                membrane::channel_friction(m.channel, row, n.around.fluid) *
                                (m.channel.length.si() * m.in_series);
}

// Near the edge at which the check valve opens, one part of a row gives what another takes back.
// That exchange must not set in with a jump, or a machine that stands at the edge would have no
// balance: it grows with `open`, from none (0) to all of it (1).
template <class S>
void fade_to_held_shut(const Network<S>& n, const S& open, OperatingPoint<S>& p) {
  OperatingPoint<S> shut = p;
  pass_by_membranes(n, shut);
  const S reject_salt = shut.reject_flow * shut.reject_salt;
  p.reject_pressure = shut.reject_pressure + open * (p.reject_pressure - shut.reject_pressure);
  p.permeate_salt = open * p.permeate_salt;
  p.reject_salt = (reject_salt - p.permeate_flow * p.permeate_salt) / p.reject_flow;
}

// Runs the feed through the rows of elements.
template <class S>
void pass_membranes(const Network<S>& n, State<S>& state) {
  OperatingPoint<S>& p = state.point;
  if (!(value_of(p.membrane_pressure) > value_of(p.permeate_pressure))) {
    pass_by_membranes(n, p);
    return;
  }
  membrane::Surroundings<S> around = n.around;
  around.permeate_pressure = p.permeate_pressure;
  const auto rows = pass_rows(n.machine->membranes,
                              n.membrane,
                              around,
                              {p.feed_flow, p.feed_flow * p.feed_salt, p.membrane_pressure});
  if (rows.status != ElementStatus::kSolved) {
    state.status = rows.status;
    return;
  }
  if (!(value_of(rows.permeate_flow) > 0)) {
    pass_by_membranes(n, p);
    return;
  }
  p.permeate_flow = rows.permeate_flow;
  p.permeate_salt = rows.permeate_salt / rows.permeate_flow;
  p.reject_flow = rows.reject.flow;
  p.reject_salt = rows.reject.salt / rows.reject.flow;
  p.reject_pressure = rows.reject.pressure;
  p.flux = rows.flux;
  p.wall_salt = rows.wall_salt;
  p.polarisation = rows.polarisation;
  const S open = p.permeate_flow / (kHeldShut * p.feed_flow);
  if (value_of(open) < 1) fade_to_held_shut(n, open, p);
}

// Pressure where the blend branch begins, when q runs into it.
template <class S>
S branch_pressure(const FeedLine<S>& line, const S& fresh, const S& recirculation, const S& q) {
  const S before = filtered_pressure(line, S(fresh + q));
  return line.machine->blend->pressurised
             ? before + pump_pressure(line, S(fresh + recirculation + q))
             : before;
}

// Flow through the blend branch for given unknowns: one root, since the valve asks for more and
// filters and pump leave less as it grows; none where the check valve stays shut.
template <class S>
S blend_flow(const Network<S>& n, const Unknowns<S>& u) {
  if (!n.machine->blend) return S(0.0);
  const Blend& blend = *n.machine->blend;
  const S& factor = n.parameters[Parameter::kBlendFlow];
  auto drive = [&](const S& q) {
    return branch_pressure(n.line, u.fresh_flow, u.recirculation, q) - u.tee_pressure -
           blend.check_valve.si() - scaled_pressure(blend.valve, factor, q, n.line.fluid);
  };
  const double shut = value_of(drive(S(0.0)));
  if (!(shut > 0) || !(value_of(factor) > 0)) return S(0.0);
  const auto fluid = plain(n.line.fluid);
  const double most = value_of(factor) * plumbing::flow_of(blend.valve, shut, fluid);
  const auto root = numerics::find_root([&](double q) { return value_of(drive(S(q))); },
                                        {.low = 0, .high = most, .scale = most * 1e-3});
  const double flow = root.status == numerics::BracketStatus::kNoSignChange ? most : root.root;
  if constexpr (std::is_same_v<S, double>) {
    return flow;
  } else {
    // Implicit function theorem: dq = −∂drive / (∂drive/∂q).
    using One = Dual<1>;
    const FeedLine<One> line{.machine = n.machine,
                             .fluid = {One(fluid.density), One(fluid.viscosity)},
                             .head = One(value_of(n.line.head)),
                             .supply_loss = One(value_of(n.line.supply_loss)),
                             .filter_loss = One(value_of(n.line.filter_loss)),
                             .pump_flow = One(value_of(n.line.pump_flow))};
    const One q = One::variable(flow, 0);
    const One left =
        branch_pressure(line, One(value_of(u.fresh_flow)), One(value_of(u.recirculation)), q) -
        scaled_pressure(blend.valve, One(value_of(factor)), q, line.fluid);
    const S at = drive(S(flow));
    S result(flow);
    for (std::size_t i = 0; i < result.v.size(); ++i) result.v[i] = -at.v[i] / left.v[0];
    return result;
  }
}

// The whole machine at given unknowns.
template <class S>
State<S> evaluate(const Network<S>& n, const Unknowns<S>& u) {
  const Machine& m = *n.machine;
  const bool back = recirculates(n);
  const bool pressurised = m.blend && m.blend->pressurised;
  State<S> state;
  OperatingPoint<S>& p = state.point;
  p.raw_salt = n.parameters[Parameter::kFeedSalt];
  p.tee_pressure = u.tee_pressure;
  p.recirculation_flow = back ? u.recirculation : S(0.0);
  p.feed_flow = u.fresh_flow + p.recirculation_flow;
  p.feed_salt = back ? u.feed_salt : p.raw_salt;
  p.blend_flow = blend_flow(n, u);
  p.blend_salt = pressurised ? p.feed_salt : p.raw_salt;
  const S pumped = pressurised ? p.feed_flow + p.blend_flow : p.feed_flow;
  p.supply_flow = u.fresh_flow + p.blend_flow;
  p.unit_inlet_pressure = inlet_pressure(n.line, p.supply_flow);
  p.filtered_pressure = filtered_pressure(n.line, p.supply_flow);
  p.membrane_pressure = p.filtered_pressure + pump_pressure(n.line, pumped);
  p.permeate_pressure = p.tee_pressure + m.product_check_valve.si();
  pass_membranes(n, state);
  if (state.status != ElementStatus::kSolved) return state;

  p.product_flow = p.permeate_flow + p.blend_flow;
  p.product_salt =
      value_of(p.product_flow) > 0
          ? (p.permeate_flow * p.permeate_salt + p.blend_flow * p.blend_salt) / p.product_flow
          : S(0.0);
  p.drain_flow = p.reject_flow - p.recirculation_flow;
  p.recovery = p.permeate_flow / (p.permeate_flow + p.drain_flow);
  state.drain_balance = p.reject_pressure - drain_pressure(n, p.drain_flow);
  state.product_balance = p.tee_pressure - product_pressure(n, p.product_flow);
  if (back) {
    const double share = 1e5 / value_of(p.feed_flow);
    const S drive = p.reject_pressure - p.filtered_pressure;
    const S driven =
        value_of(drive) > 0 ? plumbing::flow_of(*m.recirculation, drive, n.line.fluid) : S(0.0);
    state.recirculation_balance = (p.recirculation_flow - driven) * share;
    state.salt_balance = (pumped * p.feed_salt - (pumped - p.recirculation_flow) * p.raw_salt -
                          p.recirculation_flow * p.reject_salt) *
                         (share / value_of(p.raw_salt));
  }
  return state;
}

}  // namespace drawoff::machine::network
