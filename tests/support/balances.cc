#include "support/balances.h"

#include <algorithm>
#include <cmath>

#include "machine/rows.h"
#include "support/outputs.h"
#include "water/diffusivity.h"
#include "water/properties.h"

namespace drawoff::support {

namespace {

using machine::Machine;
using machine::OperatingPoint;
using machine::Outcome;
using machine::Parameter;
using machine::Parameters;

struct Water {
  double temperature;
  plumbing::Fluid<double> fluid;
  membrane::Fluid<double> in_channels;
};

Water water_in(const machine::FeedWater& water, const Parameters<double>& p) {
  const units::Temperature t(water.temperature.si() + p[Parameter::kTemperature]);
  const plumbing::Fluid<double> fluid{water::density(t).si(), water::viscosity(t).si()};
  return {t.si(),
          fluid,
          {fluid.density, fluid.viscosity, water::diffusivity_at(water.diffusivity, t).si()}};
}

struct Passed {
  bool solved = true;
  double feed = 0;
  double permeate = 0;
  double salt = 0;
  std::vector<double> reject_pressures;  // of each row
};

// A row of elements on its feed once more.
void pass_row(const machine::Membranes& m,
              const membrane::Membrane<double>& plate,
              const membrane::Surroundings<double>& around,
              int row,
              membrane::Stream<double> stream,
              Passed& passed) {
  double permeate = 0;
  for (int i = 0; i < m.in_series; ++i) {
    auto here = plate;
    // Row by row, or the first row for all of them.
    const bool whole = static_cast<int>(m.positions.size()) > m.in_series;
    const int place = whole ? row * m.in_series + i : i;
    if (place < static_cast<int>(m.positions.size())) {
      const auto& position = m.positions[static_cast<std::size_t>(place)];
      here.water_permeability *= position.water_permeability;
      here.salt_permeability *= position.salt_permeability;
    }
    const auto element = membrane::pass_element(m.channel, here, around, stream);
    passed.solved &= element.status == membrane::ElementStatus::kSolved;
    permeate += element.permeate_flow;
    passed.salt += element.permeate_salt;
    stream = element.reject;
    if (!(permeate > 0)) break;  // later ones, at less pressure, only take back more
  }
  passed.permeate += permeate;
  passed.reject_pressures.push_back(stream.pressure);
}

// The stream of the point through the elements once more.
Passed through_membranes(const Machine& machine,
                         const machine::FeedWater& feed,
                         const Parameters<double>& p,
                         const OperatingPoint<double>& at) {
  const auto& m = machine.membranes;
  const Water w = water_in(feed, p);
  const double a = m.water.si() * p[Parameter::kWaterPermeability] *
                   membrane::arrhenius(m.coefficients.water, w.temperature);
  const membrane::Membrane<double> membrane{
      .water_permeability = a,
      .salt_permeability = m.salt.si() * p[Parameter::kSaltPermeability] *
                           membrane::arrhenius(m.coefficients.salt, w.temperature),
      .leak = a * p[Parameter::kLeak],
      .mass_transfer = p[Parameter::kMassTransfer],
      .channel_friction = p[Parameter::kChannelFriction]};
  const membrane::Surroundings<double> around{.osmotic = feed.osmotic.get(),
                                              .temperature = w.temperature,
                                              .fluid = w.in_channels,
                                              .permeate_pressure = at.permeate_pressure,
                                              .law = m.law};
  const membrane::Stream<double> stream{
      at.feed_flow, at.feed_flow * at.feed_salt, at.membrane_pressure};
  const auto feeds = machine::feeds_of_rows(m, membrane, around, stream);
  Passed passed;
  for (int row = 0; row < m.in_parallel; ++row) {
    pass_row(m, membrane, around, row, feeds[static_cast<std::size_t>(row)], passed);
    passed.feed += feeds[static_cast<std::size_t>(row)].flow;
  }
  return passed;
}

// Pressure behind channels whose stream passes nothing through the membranes.
double behind_channels(const Machine& machine,
                       const machine::FeedWater& feed,
                       const Parameters<double>& p,
                       const OperatingPoint<double>& at) {
  const auto& m = machine.membranes;
  return at.membrane_pressure - p[Parameter::kChannelFriction] *
                                    membrane::channel_friction(m.channel,
                                                               at.feed_flow / m.in_parallel,
                                                               water_in(feed, p).in_channels) *
                                    m.channel.length.si() * m.in_series;
}

}  // namespace

std::vector<Imbalance> imbalances(const Machine& m,
                                  const machine::FeedWater& feed,
                                  const Parameters<double>& p,
                                  const OperatingPoint<double>& at) {
  using plumbing::pressure_of;
  const Water w = water_in(feed, p);
  const double weight = w.fluid.density * plumbing::kGravity;
  const double supply =
      m.supply.pressure.si() * p[Parameter::kSupplyPressure] + weight * m.supply.height.si();
  const double outlet =
      m.product_pressure.si() + p[Parameter::kProductBackPressure] + weight * m.product_height.si();
  const double largest = std::max({std::fabs(supply),
                                   std::fabs(outlet),
                                   std::fabs(at.filtered_pressure),
                                   std::fabs(at.membrane_pressure),
                                   std::fabs(at.tee_pressure)});
  std::vector<Imbalance> laws;
  auto flows = [&](std::string_view law, double left, double right) {
    const double size = std::fmax(std::fabs(left), std::fabs(right));
    laws.push_back({law, size > 0 ? std::fabs(left - right) / size : 0});
  };
  auto pressures = [&](std::string_view law, double left, double right) {
    laws.push_back({law, largest > 0 ? std::fabs(left - right) / largest : 0});
  };

  // What the pump draws, and what of it the supply gives.
  const bool pressurised = m.blend && m.blend->pressurised;
  const double pumped = at.feed_flow + (pressurised ? at.blend_flow : 0);
  flows("supply + recirculated = feed + blend",
        at.supply_flow + at.recirculation_flow,
        at.feed_flow + at.blend_flow);
  flows("water: in = out", at.supply_flow, at.product_flow + at.drain_flow);
  flows("reject = recirculated + drain", at.reject_flow, at.recirculation_flow + at.drain_flow);
  flows("feed = permeate + reject", at.feed_flow, at.permeate_flow + at.reject_flow);
  flows("product = permeate + blend", at.product_flow, at.permeate_flow + at.blend_flow);
  flows("salt: feed = permeate + reject",
        at.feed_flow * at.feed_salt,
        at.permeate_flow * at.permeate_salt + at.reject_flow * at.reject_salt);
  flows("salt: product = permeate + blend",
        at.product_flow * at.product_salt,
        at.permeate_flow * at.permeate_salt + at.blend_flow * at.blend_salt);
  flows("salt: pumped = fresh + recirculated",
        pumped * at.feed_salt,
        (pumped - at.recirculation_flow) * p[Parameter::kFeedSalt] +
            at.recirculation_flow * at.reject_salt);
  flows("salt: blend is of its branch",
        at.blend_salt,
        pressurised ? at.feed_salt : p[Parameter::kFeedSalt]);

  double inlet =
      supply - p[Parameter::kSupplyLoss] * pressure_of(m.supply.tube, at.supply_flow, w.fluid);
  if (const auto& r = m.regulator) {
    inlet = std::fmin(inlet, r->set_pressure.si() - r->droop.si() * at.supply_flow / r->flow.si());
  }
  pressures("supply tube and regulator", at.unit_inlet_pressure, inlet);
  pressures("valves and pre-filters",
            at.filtered_pressure,
            at.unit_inlet_pressure - pressure_of(m.feed_valves, at.supply_flow, w.fluid) -
                p[Parameter::kPreFilterLoss] * pressure_of(m.pre_filters, at.supply_flow, w.fluid));
  pressures(
      "pump",
      at.membrane_pressure,
      at.filtered_pressure +
          (m.pump ? plumbing::pressure_added(*m.pump, pumped, p[Parameter::kPumpFlow]) : 0.0));
  if (at.outcome == Outcome::kOverConcentrates || at.outcome == Outcome::kNotSolved) return laws;

  pressures(
      "product line",
      at.tee_pressure,
      outlet +
          p[Parameter::kPostFilterLoss] * pressure_of(m.post_filters, at.product_flow, w.fluid) +
          pressure_of(m.product, at.product_flow, w.fluid));
  if (m.blend) {
    const double taken =
        pressure_of(m.blend->valve, at.blend_flow / p[Parameter::kBlendFlow], w.fluid);
    const double drive = (pressurised ? at.membrane_pressure : at.filtered_pressure) -
                         at.tee_pressure - m.blend->check_valve.si();
    // Shut, its check valve may hold back any pressure.
    pressures("blend branch", at.blend_flow > 0 ? drive : std::fmax(drive, 0.0), taken);
  }
  if (m.recirculation) {
    const double drive = at.reject_pressure - at.filtered_pressure;
    pressures("recirculation valve",
              at.recirculation_flow > 0 || (m.pump && drive > 0) ? drive : 0,
              pressure_of(*m.recirculation, at.recirculation_flow, w.fluid));
  }
  if (at.outcome == Outcome::kNothingFlows) {
    pressures("membranes: friction", at.reject_pressure, behind_channels(m, feed, p, at));
    return laws;
  }

  const double behind = weight * m.drain_height.si() +
                        p[Parameter::kDrainLoss] * pressure_of(m.drain, at.drain_flow, w.fluid);
  if (m.flushing && m.flush_valve) {
    // The pressure at which both together pass the flow, by halving.
    double low = 0;
    double high = 1e9;
    for (int i = 0; i < 200; ++i) {
      const double over = 0.5 * (low + high);
      const double passed =
          p[Parameter::kRestrictorFlow] * plumbing::flow_of(m.restrictor, over, w.fluid) +
          plumbing::flow_of(*m.flush_valve, over, w.fluid);
      (passed < at.drain_flow ? low : high) = over;
    }
    pressures("restrictor and flush valve", at.reject_pressure, behind + low);
  } else {
    pressures(
        "restrictor and drain",
        at.reject_pressure,
        behind + pressure_of(m.restrictor, at.drain_flow / p[Parameter::kRestrictorFlow], w.fluid));
  }
  pressures(
      "product check valve", at.permeate_pressure, at.tee_pressure + m.product_check_valve.si());
  if (at.permeate_flow > machine::kHeldShut * at.feed_flow) {
    const Passed passed = through_membranes(m, feed, p, at);
    flows("membranes: flow", at.permeate_flow, passed.solved ? passed.permeate : 0);
    flows("membranes: salt", at.permeate_flow * at.permeate_salt, passed.salt);
    flows("rows: feed", at.feed_flow, passed.feed);
    for (const double pressure : passed.reject_pressures) {
      pressures("membranes: friction", at.reject_pressure, pressure);
    }
  } else if (at.membrane_pressure > at.permeate_pressure) {
    const Passed passed = through_membranes(m, feed, p, at);
    flows("membranes: held shut", std::fmax(passed.permeate, 0.0), at.permeate_flow);
  }
  return laws;
}

bool all_finite(const OperatingPoint<double>& point) {
  return std::all_of(std::begin(kOutputs), std::end(kOutputs), [&](const auto& output) {
    return std::isfinite(point.*output.member);
  });
}

double missing_drive(const Machine& m,
                     const machine::FeedWater& feed,
                     const Parameters<double>& p,
                     const OperatingPoint<double>& at) {
  return water_in(feed, p).fluid.density * plumbing::kGravity * m.drain_height.si() -
         at.reject_pressure;
}

}  // namespace drawoff::support
