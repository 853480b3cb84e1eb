#include "transients/pressure_hold.h"

#include <cmath>
#include <numbers>

#include "base/check.h"
#include "machine/tolerances.h"
#include "membrane/sizes.h"
#include "numerics/random.h"
#include "numerics/sample.h"
#include "water/properties.h"

namespace drawoff::transients {
namespace {

using machine::tolerance;

constexpr int kDraws = 2000;
constexpr double kFar = 0.995;

double tube_water(const machine::TubeEntry& tube) {
  return transients::tube_water(tube.length, tube.bore);
}

double tube_give() {
  return wall_give({.bore = 1,
                    .thickness = tolerance("tube_wall_share"),
                    .modulus = tolerance("tube_modulus") * 1e9,
                    .poisson = tolerance("tube_poisson")});
}
double housing_give() {
  return wall_give({.bore = 1,
                    .thickness = tolerance("housing_wall_share"),
                    .modulus = tolerance("housing_modulus") * 1e9,
                    .poisson = tolerance("housing_poisson")});
}

// What is caught in housings before the membrane, and in the line.
double usual_air(double in_housings) {
  return 1e-6 * tolerance("trapped_air_volume") +
         1e-3 * tolerance("housing_air_volume") * in_housings / tolerance("housing_water_volume");
}

ShutIn of_parts(double in_tubes, double in_housings, double air) {
  return {.water = in_tubes + in_housings,
          .plastic = in_tubes * tube_give() + in_housings * housing_give(),
          .air = air};
}

// β of water [1/K], at what a unit stands at.
double water_swells() {
  constexpr double kStep = 1;  // [K]
  const double cold = water::density(units::celsius(20 - kStep)).si();
  const double warm = water::density(units::celsius(20 + kStep)).si();
  return (cold / warm - 1) / (2 * kStep);
}

// p of W(p) = held, and 0 of nothing held. Written so that rigid walls are no special case.
double pressure_of(const Line& line, double held) {
  if (!(held > 0)) return 0;
  const double b = line.compliance * kAtmosphere + line.air - held;
  const double root = std::sqrt(b * b + 4 * line.compliance * held * kAtmosphere);
  return b > 0 ? 2 * held * kAtmosphere / (b + root) : (root - b) / (2 * line.compliance);
}

double creep_of(const HoldDraw& draw, const HoldTest& test) {
  return draw.creeping * test.start.si() * draw.creep *
         std::log10(1 + test.time.si() / test.before.si());
}

HoldDraw draw_of(const ShutIn& shut, const HoldTest& test, numerics::Random& random) {
  const double walls = shut.plastic * std::exp(tolerance("plastic_give_spread") * random.normal());
  const double air = shut.air * std::exp(tolerance("trapped_air_spread") * random.normal());
  const double creep =
      tolerance("plastic_creep") * std::exp(tolerance("plastic_creep_spread") * random.normal());
  const double minutes = std::fmin(test.time.si() / 60, tolerance("hold_warming_time"));
  const double warming = tolerance("hold_warming_spread") * minutes * random.normal();
  const double half = test.resolution.si() / 2;
  const double misread = random.uniform(-half, half) + random.uniform(-half, half);
  return {.line = {.compliance = walls + shut.water * kWaterGive, .air = air},
          .creeping = walls,
          .creep = creep,
          .swelling = shut.water * water_swells() * warming,
          .misread = misread};
}

}  // namespace

double tube_water(units::Length length, units::Length bore) {
  return length.si() * std::numbers::pi * bore.si() * bore.si() / 4;
}

ShutIn shut_in(units::Volume water, double in_tubes, std::optional<units::Volume> air) {
  const double in_housings = std::fmax(0, water.si() - in_tubes);
  return of_parts(in_tubes, in_housings, air ? air->si() : usual_air(in_housings));
}

ShutIn shut_in(const machine::MachineEntry& m, std::optional<units::Volume> air) {
  double before = 0;
  double behind = 0;
  for (const machine::FilterEntry& filter : m.filters) {
    if (machine::after_membrane(filter.kind)) {
      behind += 1e-3 * tolerance("filter_water_volume");
    } else {
      before += 1e-3 * tolerance("housing_water_volume");
    }
  }
  const auto* size = membrane::find_element_size(m.element.size);
  CHECK(size != nullptr);  // the machine's own check asks for a size of the trade
  const membrane::Channel& channel = size->channel;
  const double area = channel.area.si() * m.element.in_series * m.element.in_parallel;
  behind += area * (channel.porosity * channel.height.si() / 2 +
                    1e-3 * tolerance("permeate_water_volume"));
  const double tubes =
      tube_water(m.supply.tube) + tube_water(m.product.tube) + tube_water(m.drain.tube);
  ShutIn out = of_parts(tubes, before + behind, air ? air->si() : usual_air(before));
  out.tank = m.product.vessel == machine::ProductVessel::kTank;
  return out;
}

double tight_fall(const HoldDraw& draw, const HoldTest& test) {
  const double start = test.start.si();
  const double left = content(draw.line, start) - creep_of(draw, test) + draw.swelling;
  return std::fmin(start, start - pressure_of(draw.line, left) + draw.misread);
}

double leak(const HoldDraw& draw, const HoldTest& test) {
  const double start = test.start.si();
  // What the gauge shows of the fall, less what it misread.
  const double end = test.end.si() + draw.misread;
  const double released = content(draw.line, start) - content(draw.line, end);
  return (released - creep_of(draw, test) + draw.swelling) / test.time.si();
}

Held held(const ShutIn& shut, const HoldTest& test, std::uint64_t seed) {
  if (shut.tank) return {.verdict = HoldVerdict::kTankOpen};
  Held out;
  std::vector<HoldDraw> draws;
  numerics::Random random(seed);
  const double between = (test.start.si() + test.end.si()) / 2;
  for (int i = 0; i < kDraws; ++i) {
    const HoldDraw& draw = draws.emplace_back(draw_of(shut, test, random));
    out.tight_fall.push_back(tight_fall(draw, test));
    out.leak.push_back(std::fmax(0, leak(draw, test)));
    out.give.push_back(give({.line = draw.line}, between));
  }
  const auto falls = numerics::sorted(out.tight_fall);
  const double least = numerics::quantile(falls, 0.05);
  const double most = numerics::quantile(falls, 0.95);
  if (most >= test.start.si()) return out;
  HoldTest just_seen = test;
  just_seen.end = test.start - units::Pressure(most);
  std::vector<double> seen;
  for (const HoldDraw& draw : draws) seen.push_back(leak(draw, just_seen));
  out.smallest = numerics::quantile(numerics::sorted(seen), 0.95);
  const double fall = (test.start - test.end).si();
  if (fall > numerics::quantile(falls, kFar)) {
    out.verdict = HoldVerdict::kLeaks;
  } else if (fall > most) {
    out.verdict = HoldVerdict::kMayLeak;
  } else if (fall < 0 && fall < least) {
    out.verdict = HoldVerdict::kRose;
  } else {
    out.verdict = HoldVerdict::kTight;
  }
  return out;
}

}  // namespace drawoff::transients
