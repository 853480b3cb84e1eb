#include "machine/streams.h"

#include <gtest/gtest.h>

#include <cmath>

#include "machine/example_entry_test.h"
#include "machine/example_test.h"
#include "machine/readings.h"

namespace drawoff::machine {
namespace {

using water::Composition;
using water::Species;

struct Running {
  Feed feed;
  Specimen specimen;
  Machine machine;
  OperatingPoint<double> point;
  Streams streams;

  explicit Running(const MachineEntry& entry, const Composition& raw = hard_water())
      : feed(feed_of({.composition = raw, .temperature = units::celsius(18)}, entry)),
        specimen(nominal(entry, feed).specimen),
        machine(in_condition(specimen.machine, {})),
        point(operating_point(machine, feed.water, specimen.parameters)),
        streams(streams_at(specimen, machine, feed, point)) {}
};

// Water in is water out, for every species: what supply brings leaves as product and at the drain.
// The rounding of a few sums; with recirculation the agreement of its rounds.
void expect_balance(const Running& r) {
  for (int i = 0; i < water::kSpeciesCount; ++i) {
    const double in = r.feed.composition.mol_m3[i] * r.point.supply_flow;
    if (!(in > 0)) continue;
    const double out = r.streams.product.mol_m3[i] * r.point.product_flow +
                       r.streams.reject.mol_m3[i] * r.point.drain_flow;
    EXPECT_NEAR(out / in, 1, 1e-9) << i;
  }
}

TEST(Streams, every_species_is_conserved) {
  auto entry = full_plates();
  expect_balance(Running(entry));
  entry.element.in_series = 2;
  entry.element.in_parallel = 2;
  entry.element.positions = {{.water_permeability = 0.7, .salt_permeability = 1.8}};
  expect_balance(Running(entry));
  // Row by row: the second row's second element is as its plate.
  entry.element.positions.insert(entry.element.positions.end(),
                                 {{.salt_permeability = 4}, {.water_permeability = 0.5}});
  expect_balance(Running(entry));
  entry.recirculation =
      RecirculationEntry{.full_open_flow = units::litre_per_hour(20), .opening = 1};
  const Running back(entry);
  EXPECT_GT(back.point.recirculation_flow, 0);
  EXPECT_GT(back.streams.feed[Species::Ca], 1.02 * back.feed.composition[Species::Ca]);
  expect_balance(back);
}

// With one salt the streams are the strengths of the operating point.
TEST(Streams, one_salt_is_the_operating_point) {
  const Composition salt = water::sodium_chloride(units::milligram_per_litre(700));
  auto entry = full_plates();
  entry.element.in_series = 2;
  const Running r(entry, salt);
  EXPECT_NEAR(r.streams.permeate[Species::Cl] / salt[Species::Cl] / r.point.permeate_salt, 1, 1e-6);
  EXPECT_NEAR(r.streams.reject[Species::Na] / salt[Species::Na] / r.point.reject_salt, 1, 1e-6);
  EXPECT_NEAR(r.streams.wall[Species::Na] / salt[Species::Na] / r.point.wall_salt, 1, 1e-6);
  EXPECT_NEAR(r.streams.product[Species::Na] / salt[Species::Na] / r.point.product_salt, 1, 1e-6);
}

TEST(Streams, charges_balance_everywhere) {
  const Running r(full_plates());
  for (const Composition* c : {&r.streams.permeate, &r.streams.reject, &r.streams.wall}) {
    const double cations = water::equivalents_cations(*c).si();
    EXPECT_NEAR(water::equivalents_anions(*c).si() / cations, 1, 1e-9);
  }
}

// Behind a softener the membrane meets sodium; the raw water stays what it is.
TEST(Streams, a_softener_changes_what_the_membrane_meets) {
  auto entry = full_plates();
  entry.filters.push_back({.kind = FilterKind::kSoftener});
  const Running r(entry);
  EXPECT_EQ(r.streams.raw[Species::Ca], hard_water()[Species::Ca]);
  EXPECT_LT(r.streams.feed[Species::Ca], 0.2 * hard_water()[Species::Ca]);
  EXPECT_LT(r.streams.reject[Species::Ca], r.streams.raw[Species::Ca]);
  expect_balance(r);
}

}  // namespace
}  // namespace drawoff::machine
