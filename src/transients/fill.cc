#include "transients/fill.h"

#include <algorithm>
#include <array>
#include <boost/math/quadrature/gauss.hpp>
#include <cmath>

#include "base/check.h"
#include "machine/tolerances.h"
#include "numerics/bracket.h"

namespace drawoff::transients {

namespace {

using machine::Parameter;

// Back pressure at which what is asked of the curve, growing with it, passes `wanted`; none if it
// does not below the closing pressure.
template <class F>
std::optional<double> reaches(const ResponseCurve& curve, const F& growing, double wanted) {
  const double end = curve.closing_pressure();
  if (growing(curve.at(0)) >= wanted) return 0;
  if (growing(curve.at(end)) < wanted) return std::nullopt;
  return numerics::find_root([&](double p) { return growing(curve.at(p)) - wanted; },
                             {.low = 0, .high = end, .tolerance = 1e-12, .scale = end})
      .root;
}

// Adds what comes in from one pressure to another, with nothing unsmooth between.
void add_panel(Fill& fill, const ResponseCurve& curve, const Store& store, const Thresholds& ends) {
  using Rule = boost::math::quadrature::gauss<double, 10>;
  const double middle = 0.5 * (ends.stops + ends.starts);
  const double half = 0.5 * (ends.stops - ends.starts);
  const auto add = [&](double x, double weight) {
    const double p = middle + half * x;
    const double water = weight * half * give(store, p);
    const Response r = curve.at(p);
    fill.portions.push_back({p, water, water / r.product_flow()});
    fill.volume += water;
    fill.time += fill.portions.back().time;
    fill.salt += water * r.product_salt();
  };
  // The rule lists its points from the middle outwards; portions come as the pressure rises.
  const std::size_t n = Rule::abscissa().size();
  for (std::size_t i = n; i-- > 0;) add(-Rule::abscissa()[i], Rule::weights()[i]);
  for (std::size_t i = 0; i < n; ++i) add(Rule::abscissa()[i], Rule::weights()[i]);
}

double tee_of(const Response& r) { return r.tee_pressure; }
double ratio_of(const Response& r) { return r.tee_pressure / std::fmax(r.filtered_pressure, 1.0); }

}  // namespace

Stop stop_of(const Plant& plant) {
  const ResponseCurve& curve = plant.curve;
  Stop stop{.end = FillEnd::kFlowEnds, .pressure = curve.closing_pressure()};
  if (plant.controls.high) {
    const auto p = reaches(curve, tee_of, plant.controls.high->stops);
    if (p && *p < stop.pressure) stop = {FillEnd::kSwitch, *p};
  }
  if (plant.controls.shut_off) {
    const auto p = reaches(curve, ratio_of, plant.controls.shut_off->stops);
    if (p && *p < stop.pressure) stop = {FillEnd::kShutOff, *p};
  }
  return stop;
}

Fill fill_between(const ResponseCurve& curve, const Store& store, const Thresholds& pressures) {
  Fill sum;
  const double end = curve.closing_pressure();
  CHECK(pressures.stops < end || pressures.stops <= pressures.starts);
  std::vector<double> edges{pressures.starts};
  for (const double edge : {curve.kink(), store.tank ? store.tank->precharge : 0.0}) {
    if (edge > pressures.starts && edge < pressures.stops) edges.push_back(edge);
  }
  // Each cell of the curve is one cubic.
  for (const double edge : curve.nodes().pressure) {
    if (edge > pressures.starts && edge < pressures.stops) edges.push_back(edge);
  }
  edges.push_back(pressures.stops);
  std::sort(edges.begin(), edges.end());
  for (std::size_t i = 0; i + 1 < edges.size(); ++i) {
    double from = edges[i];
    while (from < edges[i + 1]) {
      const double to = std::fmin(edges[i + 1], from + 0.5 * (end - from));
      // What rounding leaves of an interval is none.
      if (!(to > from)) break;
      add_panel(sum, curve, store, {.stops = to, .starts = from});
      from = to;
    }
  }
  return sum;
}

Fill fill(const Plant& plant, double content_before) {
  const ResponseCurve& curve = plant.curve;
  const Store& store = plant.store;
  Fill sum;
  if (!store.tank && store.open.empty()) {
    sum.end = FillEnd::kOpenOutlet;
    return sum;
  }
  const Stop stop = stop_of(plant);
  sum.stop_pressure = stop.pressure;
  double start = 0;
  double left = content_before;
  for (const OpenVessel& vessel : store.open) {
    start = vessel.head;
    const double held = std::fmin(left, vessel.volume);
    left -= held;
    const double water = vessel.volume - held;
    if (!(water > 0)) continue;
    const Response r = curve.at(vessel.head);
    // The switch must let it run at that height, and the machine must give something there.
    if (!(vessel.head < stop.pressure) || !(r.product_flow() > 0)) return sum;
    const Portion portion{vessel.head, water, water / r.product_flow()};
    sum.portions.push_back(portion);
    sum.volume += water;
    sum.time += portion.time;
    sum.salt += water * r.product_salt();
  }
  if (store.tank && content_before > 0) start = pressure(*store.tank, content_before);
  if (!(stop.pressure > start)) {
    if (sum.volume > 0 || content_before > 0) sum.end = stop.end;
    return sum;
  }
  // An air-charged tank takes nothing below its precharge.
  if (store.tank && !(stop.pressure > store.tank->precharge)) return sum;
  double to = stop.pressure;
  if (stop.end == FillEnd::kFlowEnds) {
    const double before = content(store, start);
    const double wanted = before + kFilledShare * (content(store, to) - before);
    to = numerics::find_root([&](double p) { return content(store, p) - wanted; },
                             {.low = start, .high = to, .tolerance = 1e-13, .scale = to})
             .root;
  }
  const Fill rise = fill_between(curve, store, {.stops = to, .starts = start});
  sum.end = stop.end;
  sum.volume += rise.volume;
  sum.time += rise.time;
  sum.salt += rise.salt;
  sum.portions.insert(sum.portions.end(), rise.portions.begin(), rise.portions.end());
  return sum;
}

water::Composition product_of(const ResponseCurve& curve, const Fill& fill) {
  water::Composition sum;
  if (!(fill.volume > 0)) return sum;
  for (const Portion& portion : fill.portions) {
    const auto c = curve.product_at(portion.pressure);
    for (std::size_t i = 0; i < sum.mol_m3.size(); ++i) {
      sum.mol_m3[i] += c.mol_m3[i] * (portion.volume / fill.volume);
    }
  }
  return sum;
}

AfterStop after_stop(const machine::MachineEntry& entry,
                     const machine::Specimen& specimen,
                     const machine::Feed& feed,
                     const machine::Condition& condition,
                     const Plant& plant,
                     const Stop& stop) {
  const auto& controls = plant.controls;
  switch (stop.end) {
    case FillEnd::kFlowEnds:
      return {.reject_runs = true,
              .pump_runs = controls.pump,
              .reject_flow = plant.curve.at(stop.pressure).reject_flow};
    case FillEnd::kShutOff:
      // The feed is shut. A pump that nothing stops goes on against it, unless it trips the switch
      // before it.
      return {.pump_runs = controls.pump && !controls.low};
    case FillEnd::kSwitch:
      break;
    case FillEnd::kOpenOutlet:
    case FillEnd::kNothingComes:
      return {.reject_runs = true,
              .pump_runs = controls.pump,
              .reject_flow = plant.curve.at(0).reject_flow};
  }
  if (controls.solenoid) return {};
  auto stopped = at_lowest_outlet(entry, condition);
  stopped.pump = machine::PumpState::kOff;
  auto parameters = specimen.parameters;
  parameters[Parameter::kProductBackPressure] = stop.pressure;
  const auto point = machine::operating_point(
      machine::in_condition(specimen.machine, stopped), feed.water, parameters);
  const double ratio =
      (stop.pressure + plant.curve.head()) / std::fmax(point.filtered_pressure, 1.0);
  if (controls.shut_off && ratio >= controls.shut_off->stops) return {};
  return {.reject_runs = point.drain_flow > 0, .reject_flow = point.drain_flow};
}

std::optional<Restart> restart_of(const Plant& plant, const Stop& stop) {
  double starts = 0;
  if (stop.end == FillEnd::kSwitch) {
    starts = plant.controls.high->starts;
  } else if (stop.end == FillEnd::kShutOff) {
    starts = plant.controls.shut_off->starts * plant.static_feed;
  } else {
    return std::nullopt;
  }
  Restart restart;
  restart.pressure = std::fmax(0.0, starts - plant.curve.head());
  restart.loss = plant.curve.at(stop.pressure).tee_pressure - stop.pressure - plant.curve.head();
  restart.at_once = restart.pressure >= stop.pressure;
  if (restart.at_once) return restart;
  restart.drawn = content(plant.store, stop.pressure) - content(plant.store, restart.pressure);
  // A float opens when a share of its vessel is gone, and the line's pressure goes with it.
  double smallest = 0;
  for (const OpenVessel& vessel : plant.store.open) {
    const double share = vessel.volume * float_share();
    smallest = smallest > 0 ? std::fmin(smallest, share) : share;
  }
  restart.drawn += smallest;
  return restart;
}

std::optional<Cycle> shortest_cycle(const Plant& plant, const Stop& stop, const Restart& restart) {
  if (restart.at_once) return std::nullopt;
  const double q = 0.5 * plant.curve.at(stop.pressure).product_flow();
  const double under_pressure =
      content(plant.store, stop.pressure) - content(plant.store, restart.pressure);
  const Fill refill =
      fill_between(plant.curve, plant.store, {.stops = stop.pressure, .starts = restart.pressure});
  double on = 0;
  for (const Portion& portion : refill.portions) {
    on += portion.volume / (portion.volume / portion.time - q);
  }
  const double off = under_pressure / q;
  return Cycle{.period = on + off, .duty = on / (on + off)};
}

double tank_for_period(const Plant& plant,
                       const Stop& stop,
                       const Restart& restart,
                       double period) {
  const double drawn = period * plant.curve.at(stop.pressure).product_flow() / 4;
  const AirTank unit{.volume = 1, .precharge = 0.9 * restart.pressure};
  return drawn / (content(unit, stop.pressure) - content(unit, restart.pressure));
}

Cycle relaxation_cycle(const Relaxation& r) {
  const double off = r.time_constant * std::log((r.rest - r.stops) / (r.rest - r.starts));
  const double on = r.time_constant * std::log((r.starts - r.run) / (r.stops - r.run));
  return {.period = on + off, .duty = on / (on + off)};
}

FeedSide feed_side(const Plant& plant) {
  const Response open = plant.curve.at(0);
  return {.rest = plant.static_feed,
          .running = open.filtered_pressure,
          .flow = open.permeate_flow + open.blend_flow + open.reject_flow};
}

LowPressure low_pressure(const machine::MachineEntry& entry, const FeedSide& feed) {
  const auto low = controls_of(entry).low;
  if (!low) return {};
  if (!(feed.rest > low->starts)) return {.state = LowSwitch::kHolds};
  if (!(feed.running < low->stops)) return {};
  double housings = 0;
  for (const machine::FilterEntry& filter : entry.filters) {
    if (!machine::after_membrane(filter.kind)) housings += 1;
  }
  const double air = (housings * machine::tolerance("housing_air_volume") +
                      machine::tolerance("trapped_air_volume")) *
                     1e-6;
  const double whole = 0.5 * (low->stops + low->starts) + kAtmosphere;
  const double resistance = (feed.rest - feed.running) / feed.flow;
  return {.state = LowSwitch::kHunts,
          .cycle = relaxation_cycle(
              {.rest = feed.rest,
               .run = feed.running,
               .stops = low->stops,
               .starts = low->starts,
               .time_constant = resistance * air * kAtmosphere / (whole * whole)})};
}

}  // namespace drawoff::transients
