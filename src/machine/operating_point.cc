#include "machine/operating_point.h"

#include <Eigen/Dense>
#include <cmath>
#include <optional>

#include "base/check.h"
#include "machine/operating_point_network.h"

namespace drawoff::machine {

namespace {

using membrane::ElementStatus;
using network::blend_flow;
using network::evaluate;
using network::filtered_pressure;
using network::inlet_pressure;
using network::Network;
using network::pass_by_membranes;
using network::product_pressure;
using network::pump_pressure;
using network::recirculates;
using network::State;
using network::Unknowns;
using numerics::Dual;

// Supply and pump with nothing flowing.
double most_pressure_of(const Network<double>& n) {
  return inlet_pressure(n.line, 0.0) + std::fmax(0.0, pump_pressure(n.line, 0.0));
}

// All balances true to within the tolerance, of the largest pressure about.
bool balanced(const Network<double>& n, const State<double>& state) {
  const double largest = std::fmax(std::fmax(std::fabs(n.line.head), std::fabs(n.outlet_head)),
                                   std::fmax(state.point.membrane_pressure, 1e3));
  const double most = kBalanceTolerance * largest;
  return std::fabs(state.drain_balance) <= most && std::fabs(state.product_balance) <= most &&
         std::fabs(state.recirculation_balance) <= kBalanceTolerance * 1e4 &&
         std::fabs(state.salt_balance) <= kBalanceTolerance * 1e4;
}

// The product side solved for all else given. Where the membrane would use up its feed before the
// product side balances, the status says so.
State<double> with_product(const Network<double>& n, Unknowns<double> u, int& evaluations) {
  State<double> state;
  auto lacks = [&](double tee_pressure) {
    u.tee_pressure = tee_pressure;
    state = evaluate(n, u);
    ++evaluations;
    // A used-up stream means more permeate than there is: the tee must stand higher.
    return state.status == ElementStatus::kSolved ? state.product_balance
                                                  : -std::fabs(n.outlet_head) - 1e5;
  };
  // No more can come than all the feed, and the blend at its most: the tee stands no higher than
  // that asks for, and no lower than what comes there asks for.
  u.tee_pressure = n.outlet_head;
  double high = product_pressure(n, u.fresh_flow + u.recirculation + blend_flow(n, u)) + 1.0;
  lacks(high);
  if (state.status != ElementStatus::kSolved) return state;
  double low = product_pressure(n, state.point.product_flow);
  bool low_used_up = lacks(low) < 0 && state.status != ElementStatus::kSolved;
  // A root search would spend itself on the edge at which the stream is used up.
  constexpr int kHalvings = 24;
  for (int i = 0; low_used_up && i < kHalvings; ++i) {
    const double middle = 0.5 * (low + high);
    const bool low_side = lacks(middle) < 0;
    (low_side ? low : high) = middle;
    if (low_side) low_used_up = state.status != ElementStatus::kSolved;
  }
  if (low_used_up) {
    state.status = ElementStatus::kExhausted;
    return state;
  }
  const auto root =
      numerics::find_root(lacks, {.low = low, .high = high, .tolerance = 1e-15, .scale = 1e5});
  // Nothing passes to the outlet: the tee stands at the outlet's own head.
  lacks(root.status == numerics::BracketStatus::kNoSignChange ? low : root.root);
  return state;
}

// What goes back through the valve if the channels took their loss at `share` of the flow that the
// membranes are fed with: none of it gives the most, all of it the least that can go back, since
// the stream only dwindles along the membranes. Without a solve of the membranes.
double recirculated(const Network<double>& n, double fresh, double share) {
  const auto& valve = *n.machine->recirculation;
  const Membranes& m = n.machine->membranes;
  auto drive = [&](double q) {
    const double row = share * (fresh + q) / m.in_parallel;
    const double channels = n.membrane.channel_friction *
                            membrane::channel_friction(m.channel, row, n.around.fluid) *
                            (m.channel.length.si() * m.in_series);
    return pump_pressure(n.line, fresh + q) - channels;
  };
  const double highest = drive(0);
  if (!(highest > 0)) return 0;
  const double most = plumbing::flow_of(valve, highest, n.line.fluid);
  const auto root = numerics::find_root(
      [&](double q) { return plumbing::pressure_of(valve, q, n.line.fluid) - drive(q); },
      {.low = 0, .high = most, .scale = most * 1e-3});
  return root.status == numerics::BracketStatus::kNoSignChange ? most : root.root;
}

// The product side and what goes back before the pump, for given fresh flow and strength of the
// membranes' feed. One: the more goes round, the less the pump gives, the more channel and valve
// take. (A blend from behind the pump only lowers the most.)
State<double> with_recirculation(const Network<double>& n,
                                 double fresh,
                                 double salt,
                                 int& evaluations) {
  State<double> state;
  auto lacks = [&](double recirculation) {
    state = with_product(
        n, {.fresh_flow = fresh, .recirculation = recirculation, .feed_salt = salt}, evaluations);
    // A stream that is used up is not where more goes round.
    return state.status == ElementStatus::kSolved ? state.recirculation_balance : -1e5;
  };
  const bool pressurised = n.machine->blend && n.machine->blend->pressurised;
  const double most = recirculated(n, fresh, 0);
  const double least = pressurised ? 0 : recirculated(n, fresh, 1);
  const double at_most = lacks(most);
  if (!(most > 0) || !(at_most > 0)) return state;
  const double at_least = lacks(least);
  if (at_least > 0 || least == most) return state;
  const auto root = numerics::find_root(
      lacks, {.low = least, .high = most, .tolerance = 1e-15, .scale = most * 1e-3});
  if (root.status != numerics::BracketStatus::kNoSignChange) lacks(root.root);
  if (state.status == ElementStatus::kSolved && std::fabs(state.recirculation_balance) > 1) {
    state.status = ElementStatus::kExhausted;
  }
  return state;
}

// A bracket whose low end may lie where the stream is used up: there the sign is right, but a root
// search would spend itself on the edge.
struct Solvable {
  double low = 0;
  double high = 0;
  bool low_used_up = false;
};

// Halves it in the logarithm until its low end is solvable and near the high one: over decades of
// flow the pressures bend too much for a root search. False: there is no root but the edge.
template <class F>
bool narrow(Solvable& range, F&& lacks, const bool& used_up) {
  constexpr int kHalvings = 24;
  const bool low_is_negative = lacks(range.high) > 0;
  for (int i = 0; (range.low_used_up || range.high > 4 * range.low) && i < kHalvings; ++i) {
    const double middle = std::sqrt(range.low * range.high);
    const bool low_side = (lacks(middle) < 0) == low_is_negative;
    (low_side ? range.low : range.high) = middle;
    if (low_side) range.low_used_up = used_up;
  }
  return !range.low_used_up;
}

// All but the drain solved for a given fresh flow. The strength of the membranes' feed is one: with
// Q the pump's flow, Q_r what goes back and s_r its strength, the salt balance over s is
// Q − (Q − Q_r) s_raw/s − Q_r s_r/s, and it rises in s, because a stronger feed lets less water
// through the membrane, so that s_r/s falls. Where nothing is left for the drain the status says
// so: more fresh water is wanted.
State<double> with_fresh(const Network<double>& n, double fresh, int& evaluations) {
  if (!recirculates(n)) return with_product(n, {.fresh_flow = fresh}, evaluations);
  const double raw = n.parameters[Parameter::kFeedSalt];
  State<double> state;
  bool used_up = false;
  auto lacks = [&](double salt) {
    state = with_recirculation(n, fresh, salt, evaluations);
    // Used up by a weak feed, not by a stronger one.
    used_up = state.status != ElementStatus::kSolved;
    return state.status == ElementStatus::kSolved ? state.salt_balance : -1e5;
  };
  // Without permeate nothing grows stronger. Permeate that runs back within a row may even dilute.
  const double at_raw = lacks(raw);
  if (at_raw != 0) {
    Solvable range{.low = raw, .high = 1.5 * raw, .low_used_up = used_up};
    if (at_raw > 0) range = {.low = 1e-3 * raw, .high = raw};
    const double most = std::fmax(n.around.osmotic->s_max(), 2 * raw);
    while (at_raw < 0 && range.high < most && lacks(range.high) < 0) {
      range = {.low = range.high, .high = 2 * range.high, .low_used_up = used_up};
    }
    const bool solvable = range.high < most && narrow(range, lacks, used_up);
    if (solvable) {
      const auto root = numerics::find_root(
          lacks, {.low = range.low, .high = range.high, .tolerance = 1e-15, .scale = raw});
      if (root.status != numerics::BracketStatus::kNoSignChange) lacks(root.root);
    }
    if (!solvable || std::fabs(state.salt_balance) > kBalanceTolerance * 1e5) {
      state.status = ElementStatus::kExhausted;
    }
  }
  if (!(state.point.drain_flow > 0)) state.status = ElementStatus::kExhausted;
  return state;
}

using TwoUnknowns = Dual<2>;

// N unknowns in their order: 2 without recirculation, 4 with it.
template <int N>
using Vector = Eigen::Matrix<double, N, 1>;

template <int N>
Unknowns<double> unknowns(const Vector<N>& x) {
  Unknowns<double> u{.fresh_flow = x(0), .tee_pressure = x(1)};
  if constexpr (N == 4) {
    u.recirculation = x(2);
    u.feed_salt = x(3);
  }
  return u;
}

template <int N, class S, class Take>
void take_balances(const State<S>& state, Take&& take) {
  take(0, state.drain_balance);
  take(1, state.product_balance);
  if constexpr (N == 4) {
    take(2, state.recirculation_balance);
    take(3, state.salt_balance);
  }
}

template <int N>
struct Linearised {
  ElementStatus status = ElementStatus::kSolved;
  Vector<N> lacks;
  Eigen::Matrix<double, N, N> slope;  // ∂lacks/∂unknowns
};

// By duals of two slopes, the scalar that the element is compiled for: two passes for four.
template <int N>
Linearised<N> linearised(const Network<TwoUnknowns>& n, const Vector<N>& x, int& evaluations) {
  Linearised<N> result;
  for (int first = 0; first < N; first += 2) {
    const auto u = unknowns<N>(x);
    Unknowns<TwoUnknowns> seeded{.fresh_flow = u.fresh_flow,
                                 .tee_pressure = u.tee_pressure,
                                 .recirculation = u.recirculation,
                                 .feed_salt = u.feed_salt};
    (first == 0 ? seeded.fresh_flow : seeded.recirculation).v[0] = 1;
    (first == 0 ? seeded.tee_pressure : seeded.feed_salt).v[1] = 1;
    const auto state = evaluate(n, seeded);
    ++evaluations;
    result.status = state.status;
    if (state.status != ElementStatus::kSolved) return result;
    take_balances<N>(state, [&](int row, const TwoUnknowns& balance) {
      result.lacks(row) = balance.x;
      result.slope(row, first) = balance.v[0];
      result.slope(row, first + 1) = balance.v[1];
    });
  }
  return result;
}

// The step, cut so that every unknown keeps its meaning.
template <int N>
Vector<N> kept_sensible(const Network<double>& n, const Vector<N>& x, Vector<N> move) {
  // A flow may not change sign on the way.
  if (x(0) + move(0) < 0.2 * x(0)) move *= -0.8 * x(0) / move(0);
  Vector<N> to = x + move;
  to(1) = std::fmax(n.outlet_head, to(1));
  if constexpr (N == 4) {
    to(2) = std::fmax(0.0, to(2));
    // Only permeate that runs back within a row makes it weaker than the raw water.
    const double raw = n.parameters[Parameter::kFeedSalt];
    to(3) = std::fmin(std::fmax(raw, to(3)), 3 * x(3));
  }
  return to - x;
}

// All unknowns at once, by Newton with exact slopes: a few evaluations where the brackets take a
// hundred. The solution is unique, so a converged step is the solution; anything else is left to
// the brackets.
template <int N>
std::optional<Unknowns<double>> by_newton(const Network<double>& n,
                                          const Network<TwoUnknowns>& dual,
                                          Vector<N> x,
                                          int& evaluations) {
  constexpr int kSteps = 40;
  constexpr double kStepTolerance = 1e-12;
  constexpr int kHalvings = 24;
  double before = 0;
  bool started = false;
  Vector<N> good = x;
  Vector<N> move = Vector<N>::Zero();
  for (int step = 0, halved = 0; step < kSteps; ++step) {
    const auto at = linearised<N>(dual, x, evaluations);
    const bool solved = at.status == ElementStatus::kSolved && at.lacks.allFinite();
    const bool worse =
        solved && started && at.lacks.cwiseAbs().maxCoeff() > before && before > 1e-6;
    if (!solved || worse) {
      if (++halved > kHalvings) return std::nullopt;
      if (started) {
        move *= 0.5;
        x = good + move;
      } else {
        // Used up from the start: the membranes take more than the restrictor alone would pass.
        x(0) *= 2;
      }
      continue;
    }
    double moved = std::fmax(std::fabs(move(0)) / x(0), std::fabs(move(1)) * 1e-5);
    if constexpr (N == 4) {
      moved = std::fmax(moved,
                        std::fmax(std::fabs(move(2)) / (x(0) + x(2)), std::fabs(move(3)) / x(3)));
    }
    if (started && moved < kStepTolerance) return unknowns<N>(x);
    started = true;
    before = at.lacks.cwiseAbs().maxCoeff();
    good = x;
    move = -at.slope.partialPivLu().solve(at.lacks);
    if (!move.allFinite()) return std::nullopt;
    move = kept_sensible<N>(n, good, move);
    x = good + move;
  }
  return std::nullopt;
}

// From what the restrictor alone would pass at the most pressure there is. Where the membranes take
// more than that there is no way on with what goes round: then from several times as much.
std::optional<Unknowns<double>> newton_from(const Network<double>& n,
                                            const Network<TwoUnknowns>& dual,
                                            double drained,
                                            int& evaluations) {
  if (!recirculates(n)) {
    return by_newton<2>(n, dual, Vector<2>(drained, n.outlet_head), evaluations);
  }
  const double raw = n.parameters[Parameter::kFeedSalt];
  for (const double fresh : {drained, 4 * drained, 16 * drained}) {
    const Vector<4> from(fresh, n.outlet_head, recirculated(n, fresh, 1), raw);
    if (const auto found = by_newton<4>(n, dual, from, evaluations)) return found;
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
  bool used_up_here = false;
  double least_fresh = 0;
  auto lacks = [&](double fresh) {
    const auto state = with_fresh(n, fresh, evaluations);
    // A used-up stream asks for a larger feed, like a pressure too high for the restrictor.
    used_up_here = state.status != ElementStatus::kSolved;
    if (used_up_here) {
      used_up = true;
      return most_pressure;
    }
    if (least.state.status != ElementStatus::kSolved || fresh < least_fresh) {
      least.state = state;
      least_fresh = fresh;
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
  lacks(low);
  Solvable range{.low = low, .high = high, .low_used_up = used_up_here};
  const bool solvable = narrow(range, lacks, used_up_here);
  if (!solvable && least.state.drain_balance < 0) return least;
  const auto root = numerics::find_root(
      lacks,
      {.low = range.low, .high = range.high, .tolerance = 1e-15, .scale = range.high * 1e-3});
  if (root.status != numerics::BracketStatus::kNoSignChange) {
    const auto state = with_fresh(n, root.root, evaluations);
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

// Nothing leaves by the drain while the pump drives `round` through channels and recirculation
// valve; the blend may still run into the product.
OperatingPoint<double> going_round(const Network<double>& n, double round) {
  Unknowns<double> u{.tee_pressure = n.outlet_head, .recirculation = round};
  auto lacks = [&](double tee_pressure) {
    u.tee_pressure = tee_pressure;
    return tee_pressure - product_pressure(n, blend_flow(n, u));
  };
  const bool pressurised = n.machine->blend && n.machine->blend->pressurised;
  const double most = pressurised ? most_pressure_of(n) : n.line.head;
  const auto root = numerics::find_root(lacks,
                                        {.low = n.outlet_head,
                                         .high = std::fmax(n.outlet_head, most) + 1.0,
                                         .tolerance = 1e-15,
                                         .scale = 1e5});
  u.tee_pressure =
      root.status == numerics::BracketStatus::kNoSignChange ? n.outlet_head : root.root;
  OperatingPoint<double> p;
  p.outcome = Outcome::kNothingFlows;
  p.tee_pressure = u.tee_pressure;
  p.feed_flow = round;
  p.recirculation_flow = round;
  p.blend_flow = blend_flow(n, u);
  p.supply_flow = p.blend_flow;
  p.product_flow = p.blend_flow;
  p.unit_inlet_pressure = inlet_pressure(n.line, p.supply_flow);
  p.filtered_pressure = filtered_pressure(n.line, p.supply_flow);
  p.membrane_pressure =
      p.filtered_pressure + pump_pressure(n.line, round + (pressurised ? p.blend_flow : 0.0));
  p.permeate_pressure = p.tee_pressure + n.machine->product_check_valve.si();
  p.raw_salt = n.parameters[Parameter::kFeedSalt];
  p.feed_salt = p.raw_salt;
  p.blend_salt = p.raw_salt;
  p.product_salt = p.product_flow > 0 ? p.blend_salt : 0.0;
  pass_by_membranes(n, p);
  return p;
}

// Nothing feeds the membranes from outside. What goes round has one flow: the more, the less the
// pump gives, the more channels and valve take.
OperatingPoint<double> without_feed(const Network<double>& n) {
  const double most = recirculates(n) ? recirculated(n, 0, 0) : 0;
  if (!(most > 0)) return going_round(n, 0);
  const auto root = numerics::find_root(
      [&](double round) {
        const auto p = going_round(n, round);
        return plumbing::pressure_of(*n.machine->recirculation, round, n.line.fluid) -
               (p.reject_pressure - p.filtered_pressure);
      },
      {.low = 0, .high = most, .tolerance = 1e-15, .scale = most * 1e-3});
  // A blend from behind the pump may take all that it gives.
  return going_round(n, root.status == numerics::BracketStatus::kNoSignChange ? 0.0 : root.root);
}

Outcome outcome_of(const Network<double>& n, const OperatingPoint<double>& p) {
  if (n.machine->pump && p.filtered_pressure < kLeastSuction) return Outcome::kStarvesPump;
  if (!(p.permeate_flow > kHeldShut * p.feed_flow)) return Outcome::kNoProduct;
  if (p.membrane_pressure > n.machine->housing_rating.si()) return Outcome::kOverPressure;
  return Outcome::kRuns;
}

}  // namespace

OperatingPoint<double> operating_point(const Machine& machine,
                                       const FeedWater& water,
                                       const Parameters<double>& parameters,
                                       const SolveOptions& options) {
  CHECK(water.osmotic != nullptr);
  const auto n = network::network(machine, water, parameters);
  const double most_pressure = most_pressure_of(n);
  if (!(most_pressure > n.drain_head)) return without_feed(n);

  // What the restrictor alone would pass at the most pressure there is.
  const double drained =
      parameters[Parameter::kRestrictorFlow] *
      plumbing::flow_of(machine.restrictor, most_pressure - n.drain_head, n.line.fluid);
  int evaluations = 0;
  if (options.by == SolveBy::kNewtonThenBrackets) {
    Parameters<TwoUnknowns> constants;
    for (std::size_t i = 0; i < kParameterCount; ++i) constants[i] = parameters[i];
    if (const auto u =
            newton_from(n, network::network(machine, water, constants), drained, evaluations)) {
      State<double> state = evaluate(n, *u);
      if (state.status == ElementStatus::kSolved && balanced(n, state) &&
          state.point.drain_flow > 0) {
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

namespace {

// Implicit function theorem: du/dθ = −(∂r/∂u)⁻¹ ∂r/∂θ.
template <int N>
void add_derivatives(const Network<Seeded>& n,
                     const Network<TwoUnknowns>& held,
                     Unknowns<Seeded>& u,
                     const Vector<N>& at) {
  int unused = 0;
  const auto solver = linearised<N>(held, at, unused).slope.partialPivLu();
  Eigen::Matrix<double, N, static_cast<int>(kParameterCount)> by_parameter;
  take_balances<N>(evaluate(n, u), [&](int row, const Seeded& balance) {
    for (std::size_t c = 0; c < kParameterCount; ++c) {
      by_parameter(row, static_cast<int>(c)) = balance.v[c];
    }
  });
  for (std::size_t c = 0; c < kParameterCount; ++c) {
    const Vector<N> moved = solver.solve(-by_parameter.col(static_cast<int>(c)));
    u.fresh_flow.v[c] = moved(0);
    u.tee_pressure.v[c] = moved(1);
    if constexpr (N == 4) {
      u.recirculation.v[c] = moved(2);
      u.feed_salt.v[c] = moved(3);
    }
  }
}

}  // namespace

OperatingPoint<Seeded> operating_point_with_derivatives(const Machine& machine,
                                                        const FeedWater& water,
                                                        const Parameters<double>& parameters) {
  const auto solved = operating_point(machine, water, parameters);
  OperatingPoint<Seeded> result;
  result.outcome = solved.outcome;
  result.evaluations = solved.evaluations;
  if (solved.outcome != Outcome::kRuns && solved.outcome != Outcome::kOverPressure) return result;

  Parameters<TwoUnknowns> held;
  Parameters<Seeded> free;
  for (std::size_t i = 0; i < kParameterCount; ++i) {
    held[i] = parameters[i];
    free[i] = Seeded::variable(parameters[i], static_cast<int>(i));
  }
  const auto n = network::network(machine, water, free);
  const auto plain_network = network::network(machine, water, held);
  const double fresh = solved.feed_flow - solved.recirculation_flow;
  Unknowns<Seeded> u{Seeded(fresh),
                     Seeded(solved.tee_pressure),
                     Seeded(solved.recirculation_flow),
                     Seeded(solved.feed_salt)};
  if (recirculates(n)) {
    add_derivatives<4>(
        n,
        plain_network,
        u,
        Vector<4>(fresh, solved.tee_pressure, solved.recirculation_flow, solved.feed_salt));
  } else {
    add_derivatives<2>(n, plain_network, u, Vector<2>(fresh, solved.tee_pressure));
  }
  result = evaluate(n, u).point;
  result.outcome = solved.outcome;
  result.evaluations = solved.evaluations;
  return result;
}

}  // namespace drawoff::machine
