// Raw water that seeps through a blend at rest (transients/rest.h), held against the machine model
// over what people hang on walls: the machine stands, its membranes and restrictor give nothing,
// and the solver says what still passes the valve at each pressure of tank or cooler.
//
// rest.h leaves out what supply, filters and tube take of a seep: so the model's may only be
// slower, and by little.
#include <algorithm>
#include <boost/math/quadrature/gauss.hpp>
#include <cmath>
#include <vector>

#include "machine/operating_point.h"
#include "numerics/bracket.h"
#include "numerics/random.h"
#include "numerics/sample.h"
#include "support/random_machine.h"
#include "support/section.h"
#include "transients/fill.h"
#include "transients/rest.h"
#include "visit/day.h"

namespace drawoff {
namespace {

using machine::Parameter;

constexpr std::uint64_t kSeed = 20261201;
// At the end of a rest, where the valve takes little any more, the rest of the way counts most. A
// twentieth is a quarter of the valve's own spread (data/tolerances.csv), which is in the
// intervals.
constexpr double kSlower = 0.05;
// Of the solver's balance, which a seep is a small part of.
constexpr double kRounding = 1e-4;
constexpr double kGone = 1e-3;  // of the first flow, where a rest was long enough to end it

struct Standing {
  machine::MachineEntry entry;
  machine::Specimen specimen;
  machine::Feed feed;
  transients::Plant plant;
};

// What passes the valve at a pressure of the lowest outlet [m³/s].
double seep(const Standing& s, double pressure) {
  auto condition = transients::at_lowest_outlet(s.entry, {});
  condition.pump = machine::PumpState::kOff;
  auto p = s.specimen.parameters;
  p[Parameter::kProductBackPressure] += pressure;
  p[Parameter::kWaterPermeability] *= 1e-9;
  p[Parameter::kLeak] = 0;
  p[Parameter::kRestrictorFlow] *= 1e-9;
  return machine::operating_point(
             machine::in_condition(s.specimen.machine, condition), s.feed.water, p)
      .blend_flow;
}

std::optional<Standing> any_standing(numerics::Random& random) {
  support::TypicalCase c = support::typical_case(random);
  if (!c.entry.blend) {
    c.entry.blend = machine::BlendEntry{.full_open_flow = c.entry.element.permeate_flow,
                                        .opening = random.uniform(0.01, 0.1)};
  }
  const bool tank = random.chance(0.7);
  c.entry.product.vessel = tank ? machine::ProductVessel::kTank : machine::ProductVessel::kCooler;
  c.entry.product.vessel_pressure = units::pascal(0);
  if (tank && c.entry.pump && random.chance(0.5)) {
    // A pump may fill a tank beyond what its supply can follow.
    c.entry.solenoid = machine::SolenoidEntry{};
    c.entry.high_pressure_switch = machine::SwitchEntry{
        .cut_out = units::bar(random.uniform(1.5, 4)), .cut_in = units::bar(1)};
  } else if (tank) {
    const double closes = random.uniform(0.4, 0.7);
    c.entry.hydraulic_shut_off =
        machine::HydraulicShutOffEntry{.closes_at = closes, .opens_at = closes - 0.15};
  }
  const auto surveyed = visit::surveyed_water(c.survey);
  if (!surveyed) return std::nullopt;
  const machine::RawWater raw = visit::water_of_the_day(*surveyed, {}).raw;
  const auto feed = machine::feed_of(raw, c.entry);
  const auto drawn = machine::specimens(c.entry, raw, feed, random.below(1 << 30), 1);
  if (drawn.empty()) return std::nullopt;
  Standing s{c.entry, drawn.front(), feed, {}};
  s.plant = transients::plant_of(s.entry, s.specimen, s.feed, {}, {});
  if (!s.plant.curve.usable()) return std::nullopt;
  return s;
}

// The time in which the model's seep fills a tank from one pressure to another [s]; in the root of
// what is left to go, as which the flow ends.
double time_between(const Standing& s, double from, double to) {
  const double even = s.plant.static_feed - s.plant.curve.head() - s.entry.blend->check_valve.si();
  const auto slowness = [&](double y) {
    const double p = even - y * y;
    return 2 * y * transients::give(s.plant.store, p) / seep(s, p);
  };
  return boost::math::quadrature::gauss<double, 20>::integrate(
      slowness, std::sqrt(std::fmax(0.0, even - to)), std::sqrt(even - from));
}

int run(bool full) {
  const int units = full ? 1000 : 100;
  support::Section section("Raw water that seeps in at rest, against the machine model");
  std::vector<double> slower;  // the model's time or flow over what is stated, less 1
  std::vector<double> raw_shares;
  int tanks = 0;
  int ended = 0;
  int ended_well = 0;
  int coolers = 0;
  int still = 0;
  int still_well = 0;
  for (int i = 0; i < units; ++i) {
    numerics::Random random(kSeed, static_cast<std::uint64_t>(i));
    const auto s = any_standing(random);
    if (!s) continue;
    const double hours = 0.1 * std::pow(160, random.uniform());
    transients::RestState state{.time = 3600 * hours};
    if (s->plant.store.tank) {
      const auto stop = transients::stop_of(s->plant);
      // Stopped with something in it.
      if (stop.end == transients::FillEnd::kFlowEnds ||
          !(stop.pressure > s->plant.store.tank->precharge)) {
        continue;
      }
      state.outlet_pressure = stop.pressure;
      state.held = transients::content(s->plant.store, stop.pressure);
    } else {
      state.held = state.room = s->plant.store.open.front().volume / 2;
    }
    const auto rest =
        transients::blend_at_rest(s->entry, s->specimen, s->feed, {}, s->plant, state);
    const double first = seep(*s, state.outlet_pressure);
    if (rest.seep == transients::Seep::kNothingMoves) {
      ++still;
      still_well += first <= 0 ? 1 : 0;
      continue;
    }
    raw_shares.push_back(rest.volume / (rest.volume + rest.held));
    if (!s->plant.store.tank) {
      ++coolers;
      slower.push_back(rest.flow / first - 1);
      continue;
    }
    ++tanks;
    const double held = state.held + rest.volume;
    const auto reached =
        numerics::find_root([&](double p) { return transients::content(s->plant.store, p) - held; },
                            {.low = state.outlet_pressure,
                             .high = s->plant.static_feed,
                             .tolerance = 1e-13,
                             .scale = s->plant.static_feed});
    const double last = seep(*s, reached.root);
    if (last < kGone * first) {
      ++ended;
      // Within the rest, as stated.
      const double nearly = reached.root - 1e-4 * (reached.root - state.outlet_pressure);
      ended_well +=
          time_between(*s, state.outlet_pressure, nearly) <= (1 + kSlower) * state.time ? 1 : 0;
      continue;
    }
    slower.push_back(time_between(*s, state.outlet_pressure, reached.root) / state.time - 1);
  }
  const auto sorted = numerics::sorted(slower);
  const auto shares = numerics::sorted(raw_shares);
  section.line(
      "Seed {}, {} typical units with a blend open by 1-10 %, each one of the machines that it "
      "could "
      "be, at rest for 0.1 to 16 hours; {} on air-charged tanks, {} of them until the pressures "
      "agree, {} on coolers, {} where nothing can move.\n",
      kSeed,
      units,
      tanks,
      ended,
      coolers,
      still);
  section.line(
      "The model's seep is slower than stated by {:.2g} to {:.2g} (of it 5 to 95 %: {:.2g} to "
      "{:.2g}). Of what stands in the vessel {:.1f} % (median) is then raw water that seeped in, "
      "{:.1f} % in one of twenty.\n",
      sorted.front(),
      sorted.back(),
      numerics::quantile(sorted, 0.05),
      numerics::quantile(sorted, 0.95),
      100 * numerics::quantile(shares, 0.5),
      100 * numerics::quantile(shares, 0.95));
  section.demand(tanks > units / 5 && coolers > units / 10 && still > units / 20,
                 "enough units were asked");
  section.demand(sorted.front() > -kRounding, "the model is never faster");
  section.demand(sorted.back() < kSlower, "nor slower by more than 5 %");
  section.demand(ended_well == ended, "where the flow has ended, the model's has");
  section.demand(still_well == still, "where nothing moves, the model moves nothing");
  return section.status();
}

}  // namespace
}  // namespace drawoff

int main(int argc, char** argv) {
  return drawoff::run(drawoff::support::asked_in_full(argc, argv));
}
