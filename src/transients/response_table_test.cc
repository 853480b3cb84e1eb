#include "transients/response_table.h"

#include <gtest/gtest.h>

#include <cmath>
#include <span>
#include <vector>

#include "machine/example_test.h"
#include "machine/streams.h"
#include "numerics/random.h"

namespace drawoff::transients {
namespace {

using machine::Parameter;

machine::Feed hard_feed() {
  return {machine::hard_water(),
          machine::hard_water(),
          machine::feed_water(machine::hard_water(), units::celsius(18))};
}

machine::Specimen specimen_of(const machine::Machine& m) {
  machine::Specimen s;
  s.machine = m;
  s.passage = membrane::typical_passage();
  s.salt_permeability = m.membranes.salt;
  return s;
}

machine::OperatingPoint<double> model(const machine::Specimen& s, double warmer, double back) {
  auto parameters = s.parameters;
  parameters[Parameter::kTemperature] += warmer;
  parameters[Parameter::kProductBackPressure] = back;
  return machine::operating_point(s.machine, hard_feed().water, parameters);
}

// What a table may stray between nodes: a kink inside a cell of width h, where the slope jumps by
// Δ, lies h Δ/4 from the chord at most, and Δ shows in the chords of the cells to either side; a
// smooth function strays less. The worst cell of the values given.
double worst_between(std::span<const double> x, std::span<const double> y) {
  double worst = 0;
  const auto slope = [&](std::size_t i) {
    return x[i + 1] > x[i] ? (y[i + 1] - y[i]) / (x[i + 1] - x[i]) : 0.0;
  };
  for (std::size_t i = 0; i + 1 < x.size(); ++i) {
    const double before = slope(i > 0 ? i - 1 : i);
    const double after = slope(i + 2 < x.size() ? i + 1 : i);
    worst = std::fmax(worst, (x[i + 1] - x[i]) / 4 * std::fabs(after - before));
  }
  return worst;
}

double grid_error(const ResponseCurve& curve, std::size_t column, std::size_t first) {
  std::vector<double> y;
  for (const auto& row : curve.nodes().rows) y.push_back(row[column]);
  constexpr std::size_t kCount = ResponseCurve::kCells + 1;
  return worst_between(std::span(curve.nodes().pressure).subspan(first, kCount),
                       std::span(y).subspan(first, kCount));
}

// The same between the temperatures of a table, of any node.
double grid_error(const ResponseTable& table, std::size_t column) {
  double worst = 0;
  for (std::size_t n = 0; n < ResponseCurve::kNodes; ++n) {
    std::vector<double> x;
    std::vector<double> y;
    for (std::size_t i = 0; i < ResponseTable::kTemperatures; ++i) {
      x.push_back(static_cast<double>(i));
      y.push_back(table.node(i).nodes().rows[n][column]);
    }
    worst = std::fmax(worst, worst_between(x, y));
  }
  return worst;
}

void expect_like_the_model(const machine::Machine& m) {
  const auto s = specimen_of(m);
  const ResponseCurve curve(s, hard_feed(), {});
  ASSERT_TRUE(curve.usable());
  const auto open = model(s, 0, 0);
  numerics::Random random(7);
  for (int i = 0; i < 200; ++i) {
    const double p = random.uniform(0, curve.closing_pressure());
    const auto got = curve.at(p);
    const auto want = model(s, 0, p);
    const std::size_t first = p < curve.kink() ? 0 : ResponseCurve::kCells;
    const auto near = [&](double a, double b, ResponseCurve::Column column) {
      // The model's own balance is good to 1e-9, its ends to 1e-7 of the pressure: 1e-6.
      const double scale = std::fabs(curve.nodes().rows[0][column]);
      EXPECT_NEAR(a, b, grid_error(curve, column, first) + 1e-6 * scale)
          << "column " << column << " at " << p;
    };
    near(got.permeate_flow, want.permeate_flow, ResponseCurve::kPermeate);
    near(got.blend_flow, want.blend_flow, ResponseCurve::kBlend);
    near(got.reject_flow, want.drain_flow, ResponseCurve::kReject);
    near(got.tee_pressure, want.tee_pressure, ResponseCurve::kTee);
    near(got.filtered_pressure, want.filtered_pressure, ResponseCurve::kFiltered);
    // In its last hundredth the membrane gives at one end and takes at the other, and salt goes on
    // passing: its strength there runs away, of next to no water.
    if (want.permeate_flow > 0.01 * open.permeate_flow) {
      near(1 / got.permeate_salt, 1 / want.permeate_salt, ResponseCurve::kReciprocal);
    }
  }
  EXPECT_LT(curve.model_calls(), 60);
}

TEST(ResponseCurve, is_the_model_within_its_grid) {
  expect_like_the_model(machine::wall_unit());
  expect_like_the_model(machine::small_unit());
}

// Every species of the product, between the nodes, where the flow is above a tenth of the open one:
// a hundredth of its amount. Below, the strength runs away (see above).
TEST(ResponseCurve, product_is_the_model_species_by_species) {
  const auto s = specimen_of(machine::wall_unit());
  const ResponseCurve curve(s, hard_feed(), {});
  const double open = model(s, 0, 0).permeate_flow;
  numerics::Random random(8);
  for (int i = 0; i < 50; ++i) {
    const double p = random.uniform(0, curve.closing_pressure());
    const auto point = model(s, 0, p);
    if (!(point.permeate_flow > 0.1 * open)) continue;
    const auto want =
        machine::streams_at(s, machine::in_condition(s.machine, {}), hard_feed(), point);
    const auto got = curve.product_at(p);
    for (int k = 0; k < water::kSpeciesCount; ++k) {
      if (!(want.product.mol_m3[k] > 0)) continue;
      EXPECT_NEAR(got.mol_m3[k] / want.product.mol_m3[k], 1, 0.01) << k << " at " << p;
    }
  }
}

TEST(ResponseCurve, of_an_open_outlet_alone_it_says_the_same_for_one_call) {
  for (const auto& m : {machine::wall_unit(), machine::small_unit()}) {
    const auto s = specimen_of(m);
    const ResponseCurve whole(s, hard_feed(), {});
    const ResponseCurve open(s, hard_feed(), {}, Reach::kOpenOutlet);
    EXPECT_EQ(open.model_calls(), 1);
    EXPECT_EQ(open.outcome(), whole.outcome());
    EXPECT_EQ(open.closing_pressure(), 0);
    const Response want = whole.at(0);
    const Response got = open.at(0);
    EXPECT_EQ(got.permeate_flow, want.permeate_flow);
    EXPECT_EQ(got.blend_flow, want.blend_flow);
    EXPECT_EQ(got.reject_flow, want.reject_flow);
    EXPECT_EQ(got.permeate_salt, want.permeate_salt);
    EXPECT_EQ(got.feed_salt, want.feed_salt);
    EXPECT_EQ(got.blend_salt, want.blend_salt);
    EXPECT_EQ(got.raw_salt, want.raw_salt);
    EXPECT_EQ(got.tee_pressure, want.tee_pressure);
    EXPECT_EQ(got.filtered_pressure, want.filtered_pressure);
    EXPECT_EQ(open.product_at(0).mol_m3, whole.product_at(0).mol_m3);
  }
}

TEST(ResponseCurve, flow_falls_and_ends_at_the_closing_pressure) {
  for (const auto& m : {machine::wall_unit(), machine::small_unit()}) {
    const auto s = specimen_of(m);
    const ResponseCurve curve(s, hard_feed(), {});
    const double end = curve.closing_pressure();
    EXPECT_GT(model(s, 0, end * (1 - 1e-5)).product_flow, 0);
    EXPECT_EQ(model(s, 0, end * (1 + 1e-6)).product_flow, 0);
    double before = curve.at(0).product_flow();
    for (int i = 1; i <= 1000; ++i) {
      const auto now = curve.at(end * i / 1000);
      EXPECT_LT(now.product_flow(), before);
      before = now.product_flow();
    }
    EXPECT_EQ(curve.at(end).product_flow(), 0);
    EXPECT_EQ(curve.at(2 * end).product_flow(), 0);
  }
}

TEST(ResponseTable, is_the_model_at_every_temperature) {
  for (const auto& m : {machine::wall_unit(), machine::small_unit()}) {
    const auto s = specimen_of(m);
    const ResponseTable table(s, hard_feed(), {});
    ASSERT_EQ(table.outcome(), machine::Outcome::kRuns);
    numerics::Random random(11);
    for (int i = 0; i < 60; ++i) {
      const double kelvin = random.uniform(ResponseTable::kColdest, ResponseTable::kWarmest);
      const auto curve = table.at(units::Temperature(kelvin));
      const double p = random.uniform(0, curve.closing_pressure());
      const auto want = model(s, kelvin - hard_feed().water.temperature.si(), p);
      const std::size_t first = p < curve.kink() ? 0 : ResponseCurve::kCells;
      using Column = ResponseCurve::Column;
      const double grid = grid_error(curve, Column::kPermeate, first) +
                          grid_error(curve, Column::kBlend, first) +
                          grid_error(table, Column::kPermeate) + grid_error(table, Column::kBlend);
      EXPECT_NEAR(curve.at(p).product_flow(), want.product_flow, grid);
      // Not only within the bound, which kinks make wide: a hundredth of the open flow.
      EXPECT_NEAR(curve.at(p).product_flow(), want.product_flow, 0.01 * curve.at(0).product_flow());
    }
  }
}

TEST(ResponseCurve, a_machine_that_cannot_run_says_so) {
  auto m = machine::small_unit();
  m.supply.pressure = units::bar(0);
  m.supply.height = units::metre(-2);
  const ResponseCurve curve(specimen_of(m), hard_feed(), {});
  EXPECT_FALSE(curve.usable());
  EXPECT_EQ(curve.outcome(), machine::Outcome::kNothingFlows);
}

}  // namespace
}  // namespace drawoff::transients
