#include "machine/operating_point.h"

#include <Eigen/Dense>
#include <cmath>
#include <optional>
#include <type_traits>

#include "base/check.h"
#include "numerics/bracket.h"
#include "water/diffusivity.h"
#include "water/properties.h"

namespace drawoff::machine {

namespace {

using membrane::ElementStatus;
using numerics::Dual;
using numerics::value_of;

// The machine with its parameters applied, at the temperature of its water.
template <class S>
struct Network {
  const Machine* machine;
  const FeedWater* water;
  Parameters<S> parameters;
  plumbing::Fluid<S> fluid;
  membrane::Membrane<S> membrane;
  membrane::Surroundings<S> around;
  S supply_head;  // [Pa] at the unit's height, nothing flowing
  S outlet_head;  // [Pa] at the tee, nothing flowing
  S drain_head;   // [Pa] behind the restrictor, nothing flowing
};

template <class S>
Network<S> network(const Machine& m, const FeedWater& water, const Parameters<S>& p) {
  using P = Parameter;
  const S temperature = water.temperature.si() + p[P::kTemperature];
  const units::Quantity<units::dim::Temperature, S> t(temperature);
  Network<S> n{.machine = &m, .water = &water, .parameters = p};
  n.fluid = {water::density(t).si(), water::viscosity(t).si()};
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
              .fluid = {n.fluid.density, n.fluid.viscosity, diffusivity},
              .law = m.membranes.law};
  const S weight = n.fluid.density * plumbing::kGravity;  // [Pa/m]
  n.supply_head = m.supply.pressure.si() * p[P::kSupplyPressure] + weight * m.supply.height.si();
  n.outlet_head =
      m.product_pressure.si() + p[P::kProductBackPressure] + weight * m.product_height.si();
  n.drain_head = weight * m.drain_height.si();
  return n;
}

template <class S>
struct Unknowns {
  S feed_flow{};
  S tee_pressure{};
};

template <class S>
struct State {
  ElementStatus status = ElementStatus::kSolved;
  OperatingPoint<S> point;
  // What the three balances lack of being true [Pa].
  S drain_balance{};
  S product_balance{};
};

template <class S>
S inlet_pressure(const Network<S>& n, const S& flow) {
  return n.supply_head - n.parameters[Parameter::kSupplyLoss] *
                             plumbing::pressure_of(n.machine->supply.tube, flow, n.fluid);
}

template <class S>
S filtered_pressure(const Network<S>& n, const S& flow) {
  return inlet_pressure(n, flow) - n.parameters[Parameter::kPreFilterLoss] *
                                       plumbing::pressure_of(n.machine->pre_filters, flow, n.fluid);
}

// A part whose flow at a pressure is `factor` times that of `loss`.
template <class S>
S scaled_pressure(const plumbing::Loss& loss,
                  const S& factor,
                  const S& q,
                  const plumbing::Fluid<S>& fluid) {
  return plumbing::pressure_of(loss, q / factor, fluid);
}

template <class S>
S pump_pressure(const Network<S>& n, const S& flow) {
  if (!n.machine->pump) return S(0.0);
  return plumbing::pressure_added(*n.machine->pump, flow, n.parameters[Parameter::kPumpFlow]);
}

template <class S>
S product_pressure(const Network<S>& n, const S& flow) {
  return n.outlet_head +
         n.parameters[Parameter::kPostFilterLoss] *
             plumbing::pressure_of(n.machine->post_filters, flow, n.fluid) +
         plumbing::pressure_of(n.machine->product, flow, n.fluid);
}

template <class S>
S drain_pressure(const Network<S>& n, const S& flow) {
  return n.drain_head +
         scaled_pressure(
             n.machine->restrictor, n.parameters[Parameter::kRestrictorFlow], flow, n.fluid) +
         n.parameters[Parameter::kDrainLoss] *
             plumbing::pressure_of(n.machine->drain, flow, n.fluid);
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

// Runs the feed through the elements: one row of them, times the rows side by side.
template <class S>
void pass_membranes(const Network<S>& n, State<S>& state) {
  const Membranes& m = n.machine->membranes;
  OperatingPoint<S>& p = state.point;
  if (!(value_of(p.membrane_pressure) > value_of(p.permeate_pressure))) {
    pass_by_membranes(n, p);
    return;
  }
  membrane::Surroundings<S> around = n.around;
  around.permeate_pressure = p.permeate_pressure;
  const double share = 1.0 / m.in_parallel;
  membrane::Stream<S> stream{
      p.feed_flow * share, p.feed_flow * p.feed_salt * share, p.membrane_pressure};
  S permeate(0.0);
  S salt(0.0);
  p.flux = S(0.0);
  for (int i = 0; i < m.in_series; ++i) {
    const auto element = membrane::pass_element(m.channel, n.membrane, around, stream);
    if (element.status != ElementStatus::kSolved) {
      state.status = element.status;
      return;
    }
    permeate += element.permeate_flow;
    salt += element.permeate_salt;
    // The pressure only falls from here on: what an element took back, no later one makes good.
    if (!(value_of(permeate) > 0)) {
      pass_by_membranes(n, p);
      return;
    }
    p.flux += element.flux * (1.0 / m.in_series);
    p.wall_salt = element.wall_salt;
    p.polarisation = element.polarisation;
    stream = element.reject;
  }
  p.permeate_flow = permeate * double(m.in_parallel);
  p.permeate_salt = salt / permeate;
  p.reject_flow = stream.flow * double(m.in_parallel);
  p.reject_salt = stream.salt / stream.flow;
  p.reject_pressure = stream.pressure;
}

// Flow through the blend branch for given feed flow and tee pressure: one root, since the valve
// asks for more and the filters leave less as it grows; none where the check valve stays shut.
template <class S>
S blend_flow(const Network<S>& n, const Unknowns<S>& u) {
  if (!n.machine->blend) return S(0.0);
  const Blend& blend = *n.machine->blend;
  const S& factor = n.parameters[Parameter::kBlendFlow];
  auto drive = [&](const S& q) {
    return filtered_pressure(n, S(u.feed_flow + q)) - u.tee_pressure - blend.check_valve.si() -
           scaled_pressure(blend.valve, factor, q, n.fluid);
  };
  const double shut = value_of(drive(S(0.0)));
  if (!(shut > 0) || !(value_of(factor) > 0)) return S(0.0);
  const plumbing::Fluid<double> fluid{value_of(n.fluid.density), value_of(n.fluid.viscosity)};
  const double most = value_of(factor) * plumbing::flow_of(blend.valve, shut, fluid);
  const auto root = numerics::find_root([&](double q) { return value_of(drive(S(q))); },
                                        {.low = 0, .high = most, .scale = most * 1e-3});
  const double flow = root.status == numerics::BracketStatus::kNoSignChange ? most : root.root;
  if constexpr (std::is_same_v<S, double>) {
    return flow;
  } else {
    // Implicit function theorem: dq = −∂drive / (∂drive/∂q).
    using One = Dual<1>;
    const plumbing::Fluid<One> plain{One(fluid.density), One(fluid.viscosity)};
    const One q = One::variable(flow, 0);
    const One through = One(value_of(u.feed_flow)) + q;
    const One taken = value_of(n.parameters[Parameter::kSupplyLoss]) *
                          plumbing::pressure_of(n.machine->supply.tube, through, plain) +
                      value_of(n.parameters[Parameter::kPreFilterLoss]) *
                          plumbing::pressure_of(n.machine->pre_filters, through, plain) +
                      scaled_pressure(blend.valve, One(value_of(factor)), q, plain);
    return flow + drive(S(flow)).chain(0.0, 1.0 / taken.v[0]);
  }
}

template <class S>
State<S> evaluate(const Network<S>& n, const Unknowns<S>& u) {
  const Machine& m = *n.machine;
  State<S> state;
  OperatingPoint<S>& p = state.point;
  p.feed_flow = u.feed_flow;
  p.tee_pressure = u.tee_pressure;
  p.blend_flow = blend_flow(n, u);
  p.supply_flow = p.feed_flow + p.blend_flow;
  p.unit_inlet_pressure = inlet_pressure(n, p.supply_flow);
  p.filtered_pressure = filtered_pressure(n, p.supply_flow);
  p.membrane_pressure = p.filtered_pressure + pump_pressure(n, p.feed_flow);
  p.permeate_pressure = p.tee_pressure + m.product_check_valve.si();
  p.feed_salt = n.parameters[Parameter::kFeedSalt];
  pass_membranes(n, state);
  if (state.status != ElementStatus::kSolved) return state;

  p.product_flow = p.permeate_flow + p.blend_flow;
  p.product_salt =
      value_of(p.product_flow) > 0
          ? (p.permeate_flow * p.permeate_salt + p.blend_flow * p.feed_salt) / p.product_flow
          : S(0.0);
  p.recovery = p.permeate_flow / p.feed_flow;
  state.drain_balance = p.reject_pressure - drain_pressure(n, p.reject_flow);
  state.product_balance = p.tee_pressure - product_pressure(n, p.product_flow);
  return state;
}

// Both balances true to within the tolerance, of the largest pressure about.
bool balanced(const Network<double>& n, const State<double>& state) {
  const double largest = std::fmax(std::fmax(std::fabs(n.supply_head), std::fabs(n.outlet_head)),
                                   std::fmax(state.point.membrane_pressure, 1e3));
  const double most = kBalanceTolerance * largest;
  return std::fabs(state.drain_balance) <= most && std::fabs(state.product_balance) <= most;
}

// The product side solved for a given feed flow. Where the membrane would use up that feed before
// the product side balances, the status says so.
State<double> with_product(const Network<double>& n, double feed_flow, int& evaluations) {
  Unknowns<double> u{.feed_flow = feed_flow};
  State<double> state;
  bool used_up = false;
  auto lacks = [&](double tee_pressure) {
    u.tee_pressure = tee_pressure;
    state = evaluate(n, u);
    ++evaluations;
    // A used-up stream means more permeate than there is: the tee must stand higher.
    used_up |= state.status != ElementStatus::kSolved;
    return state.status == ElementStatus::kSolved ? state.product_balance
                                                  : -std::fabs(n.outlet_head) - 1e5;
  };
  const double highest = std::fmax(
      n.outlet_head, filtered_pressure(n, feed_flow) + std::fmax(0.0, pump_pressure(n, feed_flow)));
  const numerics::Bracket bracket{
      .low = n.outlet_head, .high = highest + 1.0, .tolerance = 1e-15, .scale = 1e5};
  const auto root = numerics::find_root(lacks, bracket);
  // Nothing passes to the outlet: the tee stands at the outlet's own head.
  lacks(root.status == numerics::BracketStatus::kNoSignChange ? n.outlet_head : root.root);
  const bool off = std::fabs(state.product_balance) > 1e-3 * (1e5 + std::fabs(u.tee_pressure));
  if (used_up && off) state.status = ElementStatus::kExhausted;
  return state;
}

using TwoUnknowns = Dual<2>;

Unknowns<TwoUnknowns> seeded(const Unknowns<double>& u) {
  return {TwoUnknowns::variable(u.feed_flow, 0), TwoUnknowns::variable(u.tee_pressure, 1)};
}

// ∂(drain, product balance)/∂(feed flow, tee pressure).
Eigen::Matrix2d balance_slope(const State<TwoUnknowns>& state) {
  Eigen::Matrix2d slope;
  slope << state.drain_balance.v[0], state.drain_balance.v[1],  //
      state.product_balance.v[0], state.product_balance.v[1];
  return slope;
}

// Both unknowns at once, by Newton with exact slopes: a few evaluations where the brackets take a
// hundred. The solution is unique, so a converged step is the solution; anything else is left to
// the brackets.
std::optional<Unknowns<double>> by_newton(const Network<double>& n,
                                          const Network<TwoUnknowns>& dual,
                                          Unknowns<double> u,
                                          int& evaluations) {
  constexpr int kSteps = 40;
  constexpr double kStepTolerance = 1e-12;
  constexpr int kHalvings = 16;
  double before = 0;
  bool started = false;
  Unknowns<double> good = u;
  Eigen::Vector2d move = Eigen::Vector2d::Zero();
  for (int step = 0, halved = 0; step < kSteps; ++step) {
    const auto state = evaluate(dual, seeded(u));
    ++evaluations;
    const Eigen::Vector2d lacks(state.drain_balance.x, state.product_balance.x);
    const bool solved = state.status == ElementStatus::kSolved && lacks.allFinite();
    const bool worse = started && lacks.cwiseAbs().maxCoeff() > before && before > 1e-6;
    if (!solved || worse) {
      if (++halved > kHalvings) return std::nullopt;
      if (started) {
        move *= 0.5;
        u = {good.feed_flow + move(0), good.tee_pressure + move(1)};
      } else {
        // Used up from the start: the membranes take more than the restrictor alone would pass.
        u.feed_flow *= 2;
      }
      continue;
    }
    const double moved = std::fmax(std::fabs(move(0)) / u.feed_flow, std::fabs(move(1)) * 1e-5);
    if (started && moved < kStepTolerance) return u;
    started = true;
    before = lacks.cwiseAbs().maxCoeff();
    good = u;
    move = -balance_slope(state).partialPivLu().solve(lacks);
    if (!move.allFinite()) return std::nullopt;
    // A flow may not change sign on the way.
    if (u.feed_flow + move(0) < 0.2 * u.feed_flow) move *= -0.8 * u.feed_flow / move(0);
    u = {good.feed_flow + move(0), std::fmax(n.outlet_head, good.tee_pressure + move(1))};
    move(1) = u.tee_pressure - good.tee_pressure;
  }
  return std::nullopt;
}

struct Bracketed {
  Outcome outcome = Outcome::kRuns;  // or what kept it from a balance
  State<double> state;
};

// The feed flow inside a bracket, from nothing but the machine itself.
Bracketed by_brackets(const Network<double>& n,
                      double most_pressure,
                      double drained,
                      int& evaluations) {
  Bracketed least{.outcome = Outcome::kOverConcentrates};
  least.state.status = ElementStatus::kExhausted;
  bool used_up = false;
  auto lacks = [&](double feed_flow) {
    const auto state = with_product(n, feed_flow, evaluations);
    // A used-up stream asks for a larger feed, like a pressure too high for the restrictor.
    if (state.status != ElementStatus::kSolved) {
      used_up = true;
      return most_pressure;
    }
    if (least.state.status != ElementStatus::kSolved || feed_flow < least.state.point.feed_flow) {
      least.state = state;
    }
    return state.drain_balance;
  };
  double low = drained * 1e-6;
  double high = drained;
  if (!(lacks(low) > 0)) return {.outcome = Outcome::kNothingFlows, .state = {}};
  // The membrane takes a share too: doubled until the pressure no longer suffices.
  constexpr int kDoublings = 60;
  for (int i = 0; i < kDoublings && lacks(high) > 0; ++i) {
    low = high;
    high *= 2;
  }
  const auto root = numerics::find_root(
      lacks, {.low = low, .high = high, .tolerance = 1e-15, .scale = high * 1e-3});
  if (root.status != numerics::BracketStatus::kNoSignChange) {
    const auto state = with_product(n, root.root, evaluations);
    if (state.status == ElementStatus::kSolved && balanced(n, state)) {
      return {.outcome = Outcome::kRuns, .state = state};
    }
    // The sign changed where the stream is used up, not where the pressures agree.
    if (used_up && least.state.status == ElementStatus::kSolved && least.state.drain_balance < 0) {
      return least;
    }
  }
  least.outcome = Outcome::kNotSolved;
  return least;
}

// Nothing feeds the membranes; the blend may still run into the product.
OperatingPoint<double> without_feed(const Network<double>& n) {
  Unknowns<double> u{.feed_flow = 0, .tee_pressure = n.outlet_head};
  auto lacks = [&](double tee_pressure) {
    u.tee_pressure = tee_pressure;
    return tee_pressure - product_pressure(n, blend_flow(n, u));
  };
  const auto root = numerics::find_root(lacks,
                                        {.low = n.outlet_head,
                                         .high = std::fmax(n.outlet_head, n.supply_head) + 1.0,
                                         .tolerance = 1e-15,
                                         .scale = 1e5});
  u.tee_pressure =
      root.status == numerics::BracketStatus::kNoSignChange ? n.outlet_head : root.root;
  OperatingPoint<double> p;
  p.outcome = Outcome::kNothingFlows;
  p.tee_pressure = u.tee_pressure;
  p.blend_flow = blend_flow(n, u);
  p.supply_flow = p.blend_flow;
  p.product_flow = p.blend_flow;
  p.unit_inlet_pressure = inlet_pressure(n, p.supply_flow);
  p.filtered_pressure = filtered_pressure(n, p.supply_flow);
  p.membrane_pressure = p.filtered_pressure + pump_pressure(n, 0.0);
  p.reject_pressure = p.membrane_pressure;
  p.permeate_pressure = p.tee_pressure + n.machine->product_check_valve.si();
  p.feed_salt = n.parameters[Parameter::kFeedSalt];
  p.product_salt = p.product_flow > 0 ? p.feed_salt : 0.0;
  return p;
}

Outcome outcome_of(const Network<double>& n, const OperatingPoint<double>& p) {
  if (n.machine->pump && p.filtered_pressure < kLeastSuction) return Outcome::kStarvesPump;
  if (!(p.permeate_flow > 0)) return Outcome::kNoProduct;
  if (p.membrane_pressure > n.machine->housing_rating.si()) return Outcome::kOverPressure;
  return Outcome::kRuns;
}

}  // namespace

OperatingPoint<double> operating_point(const Machine& machine,
                                       const FeedWater& water,
                                       const Parameters<double>& parameters,
                                       const SolveOptions& options) {
  CHECK(water.osmotic != nullptr);
  const auto n = network(machine, water, parameters);
  const double most_pressure = n.supply_head + std::fmax(0.0, pump_pressure(n, 0.0));
  if (!(most_pressure > n.drain_head)) return without_feed(n);

  // What the restrictor alone would pass at the most pressure there is.
  const double drained =
      parameters[Parameter::kRestrictorFlow] *
      plumbing::flow_of(machine.restrictor, most_pressure - n.drain_head, n.fluid);
  int evaluations = 0;
  if (options.by == SolveBy::kNewtonThenBrackets) {
    Parameters<TwoUnknowns> constants;
    for (std::size_t i = 0; i < kParameterCount; ++i) constants[i] = parameters[i];
    if (const auto u = by_newton(n,
                                 network(machine, water, constants),
                                 {.feed_flow = drained, .tee_pressure = n.outlet_head},
                                 evaluations)) {
      State<double> state = evaluate(n, *u);
      if (state.status == ElementStatus::kSolved && balanced(n, state)) {
        state.point.outcome = outcome_of(n, state.point);
        state.point.evaluations = evaluations;
        return state.point;
      }
    }
  }
  const auto found = by_brackets(n, most_pressure, drained, evaluations);
  auto point = found.outcome == Outcome::kNothingFlows ? without_feed(n) : found.state.point;
  point.outcome = found.outcome == Outcome::kRuns ? outcome_of(n, point) : found.outcome;
  point.evaluations = evaluations;
  point.bracketed = true;
  return point;
}

OperatingPoint<Seeded> operating_point_with_derivatives(const Machine& machine,
                                                        const FeedWater& water,
                                                        const Parameters<double>& parameters) {
  const auto solved = operating_point(machine, water, parameters);
  OperatingPoint<Seeded> result;
  result.outcome = solved.outcome;
  result.evaluations = solved.evaluations;
  if (solved.outcome != Outcome::kRuns && solved.outcome != Outcome::kOverPressure) return result;

  // ∂r/∂u with the parameters held.
  const Unknowns<double> at{solved.feed_flow, solved.tee_pressure};
  Parameters<TwoUnknowns> held;
  for (std::size_t i = 0; i < kParameterCount; ++i) held[i] = parameters[i];
  const auto slope = balance_slope(evaluate(network(machine, water, held), seeded(at)));
  // ∂r/∂θ with the unknowns held.
  Parameters<Seeded> free;
  for (std::size_t i = 0; i < kParameterCount; ++i) {
    free[i] = Seeded::variable(parameters[i], static_cast<int>(i));
  }
  const auto n = network(machine, water, free);
  Unknowns<Seeded> u{Seeded(at.feed_flow), Seeded(at.tee_pressure)};
  const auto by_parameter = evaluate(n, u);
  // Implicit function theorem: du/dθ = −(∂r/∂u)⁻¹ ∂r/∂θ.
  const auto solver = slope.partialPivLu();
  for (std::size_t c = 0; c < kParameterCount; ++c) {
    const Eigen::Vector2d moved = solver.solve(
        -Eigen::Vector2d(by_parameter.drain_balance.v[c], by_parameter.product_balance.v[c]));
    u.feed_flow.v[c] = moved(0);
    u.tee_pressure.v[c] = moved(1);
  }
  result = evaluate(n, u).point;
  result.outcome = solved.outcome;
  result.evaluations = solved.evaluations;
  return result;
}

}  // namespace drawoff::machine
