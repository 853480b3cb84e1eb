#include "machine/streams.h"

#include <cmath>

#include "base/check.h"
#include "machine/leaf.h"
#include "machine/treatment.h"
#include "membrane/ions.h"
#include "water/mixing.h"

namespace drawoff::machine {

namespace {

using water::Composition;

struct Passed {
  Composition permeate;
  Composition reject;
  Composition wall;
};

double feed_flow(const ElementRow& row) {
  return row.front().permeate_flow + row.front().reject.flow;
}

// Ions through the elements of that row, on a feed of this composition.
Passed pass_row(const Specimen& specimen,
                const network::Network<double>& n,
                const std::vector<ElementRow>& rows,
                std::size_t which,
                const Composition& feed) {
  const ElementRow& row = rows[which];
  const Membranes& m = n.machine->membranes;
  const double salt_permeability = specimen.salt_permeability.si() *
                                   n.parameters[Parameter::kSaltPermeability] *
                                   membrane::arrhenius(m.coefficients.salt, n.around.temperature);
  Passed passed{.reject = feed, .wall = feed};
  double permeate = 0;
  for (std::size_t i = 0; i < row.size(); ++i) {
    const Position position = position_of(m, static_cast<int>(which), static_cast<int>(i));
    const auto ions =
        membrane::pass_ions({&specimen.passage, salt_permeability * position.salt_permeability},
                            m.channel,
                            row[i],
                            passed.reject);
    passed.permeate = water::mixed({passed.permeate, units::VolumeFlow(permeate)},
                                   {ions.permeate, units::VolumeFlow(row[i].permeate_flow)});
    permeate += row[i].permeate_flow;
    passed.reject = ions.reject;
    passed.wall = ions.wall;
  }
  return passed;
}

Passed pass_rows(const Specimen& specimen,
                 const network::Network<double>& n,
                 const std::vector<ElementRow>& rows,
                 const Composition& feed) {
  if (rows.size() == 1) return pass_row(specimen, n, rows, 0, feed);
  Passed all;
  double permeate = 0;
  double reject = 0;
  double strongest = 0;
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const Passed row = pass_row(specimen, n, rows, i, feed);
    double made = 0;
    for (const auto& element : rows[i]) made += element.permeate_flow;
    all.permeate = water::mixed({all.permeate, units::VolumeFlow(permeate)},
                                {row.permeate, units::VolumeFlow(made)});
    const double left = feed_flow(rows[i]) - made;
    all.reject = water::mixed({all.reject, units::VolumeFlow(reject)},
                              {row.reject, units::VolumeFlow(left)});
    permeate += made;
    reject += left;
    if (rows[i].back().wall_salt > strongest) {
      strongest = rows[i].back().wall_salt;
      all.wall = row.wall;
    }
  }
  return all;
}

// The feed that comes back to itself when reject is led before the pump: per species, with the
// share f of the pumped water that is reject and the reject's t times as much as the feed,
//   c = (1 − f) c_raw/(1 − f t)
Composition led_back(const Composition& raw,
                     const Composition& feed,
                     const Composition& reject,
                     double share) {
  Composition c;
  for (int i = 0; i < water::kSpeciesCount; ++i) {
    if (!(feed.mol_m3[i] > 0)) continue;
    const double times = reject.mol_m3[i] / feed.mol_m3[i];
    c.mol_m3[i] = (1 - share) * raw.mol_m3[i] / (1 - share * times);
  }
  return c;
}

}  // namespace

Streams streams_at(const Specimen& specimen,
                   const Machine& machine,
                   const Feed& feed,
                   const OperatingPoint<double>& point) {
  const auto treated = water::scaled(feed.composition, point.raw_salt);
  Streams s{.raw = water::scaled(feed.raw, point.raw_salt), .feed = treated};
  const bool pressurised = machine.blend && machine.blend->pressurised;
  if (point.permeate_flow > 0) {
    const auto n = network::network(machine, feed.water, specimen.parameters);
    const auto rows = rows_at(n, point);
    Passed passed;
    const double pumped = point.feed_flow + (pressurised ? point.blend_flow : 0.0);
    const double back = point.recirculation_flow / pumped;
    if (back > 0) s.feed = water::scaled(feed.composition, point.feed_salt);
    // How much a species is concentrated hardly depends on how much of it there is.
    constexpr int kRounds = 40;
    constexpr double kAgree = 1e-12;
    for (int round = 0; round < kRounds; ++round) {
      passed = pass_rows(specimen, n, rows, s.feed);
      if (!(back > 0)) break;
      const auto next = led_back(treated, s.feed, passed.reject, back);
      double change = 0;
      for (int i = 0; i < water::kSpeciesCount; ++i) {
        if (next.mol_m3[i] > 0) {
          change = std::fmax(change, std::fabs(next.mol_m3[i] / s.feed.mol_m3[i] - 1));
        }
      }
      s.feed = next;
      if (change < kAgree) break;
    }
    s.permeate = passed.permeate;
    s.reject = passed.reject;
    s.wall = passed.wall;
  } else {
    s.reject = s.feed;
    s.wall = s.feed;
  }
  s.blend = pressurised ? s.feed : treated;
  s.product = mineralised(water::mixed({s.permeate, units::VolumeFlow(point.permeate_flow)},
                                       {s.blend, units::VolumeFlow(point.blend_flow)}),
                          specimen.minerals);
  return s;
}

}  // namespace drawoff::machine
