// Every machine of a list × every condition × every law. The names of the laws are the laws.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <ostream>
#include <string>
#include <tuple>
#include <vector>

#include "machine/example_test.h"
#include "machine/readings.h"
#include "support/balances.h"
#include "support/outputs.h"
#include "support/random_machine.h"

namespace drawoff {
namespace {

using machine::Machine;
using machine::OperatingPoint;
using machine::Outcome;
using machine::Parameter;
using machine::Parameters;

struct Case {
  Machine machine;
  machine::FeedWater water;
  Parameters<double> parameters;

  [[nodiscard]] OperatingPoint<double> point() const {
    return machine::operating_point(machine, water, parameters);
  }
};

struct NamedCondition {
  std::string name;
  double temperature;  // [°C]
  machine::Condition condition;
};

void PrintTo(const NamedCondition& c, std::ostream* out) { *out << c.name; }

std::vector<NamedCondition> conditions() {
  return {{"as_built_cold", 4, {.product_to = machine::ProductVessel::kTank}},
          {"as_built_hot", 32, {.product_to = machine::ProductVessel::kTank}},
          {"jug", 18, {.product_to = machine::ProductVessel::kJug}},
          {"blend_shut",
           18,
           {.product_to = machine::ProductVessel::kTank, .blend = machine::BlendState::kShut}},
          {"tank_half_a_bar",
           18,
           {.product_to = machine::ProductVessel::kTank, .vessel_pressure = units::bar(0.5)}}};
}

Case case_of(const Machine& machine, const NamedCondition& c) {
  return {.machine = machine::in_condition(machine, c.condition),
          .water = machine::feed_water(machine::hard_water(), units::celsius(c.temperature))};
}

struct NamedMachine {
  std::string name;
  std::function<Machine()> make;
};
void PrintTo(const NamedMachine& m, std::ostream* out) { *out << m.name; }

std::vector<NamedMachine> machines() {
  std::vector<NamedMachine> list = {
      {"wall_unit", machine::wall_unit},
      {"small_unit", machine::small_unit},
      {"two_in_series",
       [] {
         Machine m = machine::wall_unit();
         m.membranes.in_series = 2;
         return m;
       }},
      {"three_in_parallel",
       [] {
         Machine m = machine::small_unit();
         m.membranes.in_parallel = 3;
         m.restrictor = plumbing::loss_from_plate(
             {.flow = units::litre_per_hour(90), .pressure = units::bar(4), .laminar_share = 0.15});
         return m;
       }},
      {"spacer_law_alone",
       [] {
         Machine m = machine::small_unit();
         m.membranes.law = membrane::MassTransferLaw::kSchockMiquel;
         return m;
       }},
  };
  // Machines that nobody chose, of those that run in every condition.
  int found = 0;
  for (std::uint64_t stream = 0; found < 6; ++stream) {
    numerics::Random random(11, stream);
    const auto c = support::random_case(random);
    const auto everywhere = conditions();
    const bool runs = std::all_of(everywhere.begin(), everywhere.end(), [&](const auto& condition) {
      return case_of(c.machine, condition).point().outcome == Outcome::kRuns;
    });
    if (!runs) continue;
    list.push_back({"random_" + std::to_string(stream), [m = c.machine] { return m; }});
    ++found;
  }
  return list;
}

// ---- The laws: each says what is wrong, or nothing. -----------------------------------------

struct Law {
  std::string name;
  std::function<std::string(const Case&)> wrong;
};
void PrintTo(const Law& law, std::ostream* out) { *out << law.name; }

// Balances close as far as the solver promises.
std::string imbalance(const Case& c, bool of_salt, bool of_flow) {
  for (const auto& [law, relative] :
       support::imbalances(c.machine, c.water, c.parameters, c.point())) {
    const bool salt = law.starts_with("salt");
    const bool flow = law.find(" = ") != std::string_view::npos && !salt;
    if (of_salt ? !salt : of_flow ? !flow : (salt || flow)) continue;
    if (!(relative <= machine::kBalanceTolerance)) {
      return std::string(law) + " is off by " + std::to_string(relative);
    }
  }
  return "";
}

std::string falls(double from, double to, const char* what) {
  return to < from ? ""
                   : std::string(what) + " went from " + std::to_string(from) + " to " +
                         std::to_string(to);
}

Case changed(Case c, Parameter p, double value) {
  c.parameters[p] = value;
  return c;
}

// One element in each of n rows of n times the flow is one element of n times the area: the
// formulas see width and flow only as a ratio. Tolerance: that of two solves.
std::string split_in_rows(const Case& c) {
  Case rows = c;
  rows.machine.membranes.in_parallel = 4 * c.machine.membranes.in_parallel;
  rows.machine.membranes.channel.area = c.machine.membranes.channel.area / 4;
  const auto one = c.point();
  const auto four = rows.point();
  for (const auto& output : support::kOutputs) {
    const double size = std::fmax(std::fabs(one.*output.member), 1e-9);
    const bool pressure = output.name.ends_with("_pressure");
    const double most = 1e-9 * (pressure ? std::fmax(size, one.membrane_pressure) : size);
    if (!(std::fabs(one.*output.member - four.*output.member) <= most)) {
      return std::string(output.name) + " differs";
    }
  }
  return "";
}

// The power that the water gains on the way from filters to membrane is what the pump's curve gives
// at that flow, P = Q Δp(Q) [W]; nothing without a pump. A blend from behind it passes it too.
std::string pump_power_eq_q_dp(const Case& c) {
  const auto p = c.point();
  const bool pressurised = c.machine.blend && c.machine.blend->pressurised;
  const double flow = p.feed_flow + (pressurised ? p.blend_flow : 0.0);
  const double added =
      c.machine.pump
          ? plumbing::pressure_added(*c.machine.pump, flow, c.parameters[Parameter::kPumpFlow])
          : 0.0;
  const double power = flow * (p.membrane_pressure - p.filtered_pressure);
  return std::fabs(power - flow * added) <= machine::kBalanceTolerance * flow * p.membrane_pressure
             ? ""
             : "power differs";
}

// The second law of the machine: water never runs up a pressure without a pump.
std::string pressures_fall_along_the_way(const Case& c) {
  const auto p = c.point();
  if (p.filtered_pressure > p.unit_inlet_pressure) return "filters";
  if (p.reject_pressure > p.membrane_pressure) return "membrane";
  if (p.permeate_pressure > p.membrane_pressure) return "permeate";
  if (p.tee_pressure > p.permeate_pressure) return "check valve";
  return "";
}

std::string salt_is_held_back(const Case& c) {
  const auto p = c.point();
  if (p.permeate_salt > p.feed_salt) return "permeate is stronger than feed";
  if (p.reject_salt < p.feed_salt) return "reject is weaker than feed";
  if (p.product_salt < p.permeate_salt) return "product is weaker than permeate";
  if (p.polarisation < 1) return "polarisation below 1";
  return "";
}

const std::vector<Law>& laws() {
  static const std::vector<Law> list = {
      {"mass_balance_closes", [](const Case& c) { return imbalance(c, false, true); }},
      {"salt_balance_closes", [](const Case& c) { return imbalance(c, true, false); }},
      {"pressures_balance_at_every_part", [](const Case& c) { return imbalance(c, false, false); }},
      {"colder_water_makes_less_product",
       [](const Case& c) {
         return falls(c.point().permeate_flow,
                      changed(c, Parameter::kTemperature, -2).point().permeate_flow,
                      "permeate flow");
       }},
      {"more_supply_pressure_makes_more_product",
       [](const Case& c) {
         Case more = c;
         more.machine.supply.pressure += units::bar(0.2);
         return falls(
             more.point().product_flow, c.point().product_flow, "product flow with less pressure");
       }},
      {"stronger_water_makes_less_permeate",
       [](const Case& c) {
         return falls(c.point().permeate_flow,
                      changed(c, Parameter::kFeedSalt, 1.2).point().permeate_flow,
                      "permeate flow");
       }},
      {"wider_restrictor_lowers_the_membrane_pressure",
       [](const Case& c) {
         return falls(c.point().reject_pressure,
                      changed(c, Parameter::kRestrictorFlow, 1.2).point().reject_pressure,
                      "reject pressure");
       }},
      {"clogged_pre_filter_makes_less_product",
       [](const Case& c) {
         Case clogged = c;
         clogged.machine.pre_filters.a +=
             plumbing::loss_from_plate({.flow = units::litre_per_hour(300),
                                        .pressure = units::bar(0.2),
                                        .laminar_share = 1})
                 .a;
         return falls(c.point().product_flow, clogged.point().product_flow, "product flow");
       }},
      {"higher_outlet_makes_less_permeate",
       [](const Case& c) {
         return falls(c.point().permeate_flow,
                      changed(c, Parameter::kProductBackPressure, 1e4).point().permeate_flow,
                      "permeate flow");
       }},
      {"leakier_salt_makes_saltier_permeate",
       [](const Case& c) {
         return falls(changed(c, Parameter::kSaltPermeability, 1.2).point().permeate_salt,
                      c.point().permeate_salt,
                      "permeate strength with less salt passage");
       }},
      {"parallel_rows_equal_one_wide_element", split_in_rows},
      {"pump_power_eq_q_dp", pump_power_eq_q_dp},
      {"pressures_fall_along_the_way", pressures_fall_along_the_way},
      {"salt_is_held_back", salt_is_held_back},
  };
  return list;
}

// Laws that a machine breaks, each with the reason.
struct KnownFailure {
  std::string machine;
  std::string law;
  std::string reason;
};
const std::vector<KnownFailure>& known_failures() {
  static const std::vector<KnownFailure> list = {
      {"random_21",
       "colder_water_makes_less_product",
       "its restrictor is a capillary: thicker water raises the little pressure that there is"}};
  return list;
}

class MachineLaws : public testing::TestWithParam<std::tuple<NamedMachine, NamedCondition, Law>> {};

TEST_P(MachineLaws, hold) {
  const auto& [machine, condition, law] = GetParam();
  for (const auto& known : known_failures()) {
    if (known.machine == machine.name && known.law == law.name) GTEST_SKIP() << known.reason;
  }
  const Case c = case_of(machine.make(), condition);
  const auto outcome = c.point().outcome;
  ASSERT_TRUE(outcome == Outcome::kRuns || outcome == Outcome::kOverPressure);
  EXPECT_EQ(law.wrong(c), "");
}

INSTANTIATE_TEST_SUITE_P(all,
                         MachineLaws,
                         testing::Combine(testing::ValuesIn(machines()),
                                          testing::ValuesIn(conditions()),
                                          testing::ValuesIn(laws())),
                         [](const auto& of) {
                           return std::get<0>(of.param).name + "_" + std::get<1>(of.param).name +
                                  "_" + std::get<2>(of.param).name;
                         });

// ---- Derivatives -------------------------------------------------------------------------------

// Central differences with a relative step h err by h² f'''/6 and by the solver's rounding/h. Two
// steps, h and h/2, show the first: their difference is 3/4 of it. Allowed is twice that
// difference, and the rounding of two solves (1e-12 of the output's size) over the step.
void expect_derivatives(const Case& c) {
  const auto with = machine::operating_point_with_derivatives(c.machine, c.water, c.parameters);
  ASSERT_TRUE(with.outcome == Outcome::kRuns || with.outcome == Outcome::kOverPressure);
  double largest_pressure =
      std::fmax(std::fabs(with.membrane_pressure.x), std::fabs(with.unit_inlet_pressure.x));
  for (std::size_t i = 0; i < machine::kParameterCount; ++i) {
    const auto parameter = static_cast<Parameter>(i);
    // A step in each parameter's own unit; a leak and a back pressure of 0 are moved off 0 first.
    const double step = parameter == Parameter::kTemperature           ? 0.05
                        : parameter == Parameter::kProductBackPressure ? 200.0
                                                                       : 2e-4;
    auto at = [&](double value) { return changed(c, parameter, value).point(); };
    const double here = c.parameters[parameter];
    const auto up = at(here + step);
    const auto down = at(here - step);
    const auto half_up = at(here + step / 2);
    const auto half_down = at(here - step / 2);
    if (up.outcome != down.outcome) continue;  // a switching edge
    for (std::size_t o = 0; o < std::size(support::kOutputs); ++o) {
      const auto member = support::kOutputs[o].member;
      const double exact = (with.*support::kOutputsOf<machine::Seeded>[o].member).v[i];
      const double wide = (up.*member - down.*member) / (2 * step);
      const double narrow = (half_up.*member - half_down.*member) / step;
      double size = std::fabs(up.*member);
      if (support::kOutputs[o].name.ends_with("_pressure")) size = largest_pressure;
      if (support::kOutputs[o].name.ends_with("_flow")) size = up.supply_flow;
      const double allowed = 2 * std::fabs(wide - narrow) + 2e-12 * size / (step / 2);
      EXPECT_NEAR(narrow, exact, allowed) << support::kOutputs[o].name << " by parameter " << i;
    }
  }
}

Case off_the_edges(const Machine& machine, units::Temperature t) {
  Case c{.machine = machine, .water = machine::feed_water(machine::hard_water(), t)};
  c.parameters[Parameter::kLeak] = 0.01;
  c.parameters[Parameter::kProductBackPressure] = 3e3;
  return c;
}

TEST(Derivatives, match_finite_differences_with_a_pump) {
  expect_derivatives(off_the_edges(machine::wall_unit(), units::celsius(18)));
}
TEST(Derivatives, match_finite_differences_without_a_pump) {
  expect_derivatives(off_the_edges(machine::small_unit(), units::celsius(9)));
}
TEST(Derivatives, match_finite_differences_of_every_part) {
  const auto valve = [](double flow) {
    return plumbing::loss_from_plate(
        {.flow = units::litre_per_hour(flow), .pressure = units::bar(1), .laminar_share = 0.5});
  };
  Machine m = machine::wall_unit();
  m.regulator = plumbing::Regulator{.set_pressure = units::bar(2.5),
                                    .droop = units::bar(0.3),
                                    .flow = units::litre_per_hour(300)};
  m.feed_valves = valve(800);
  m.pump->kind = plumbing::PumpKind::kMultistage;
  m.recirculation = valve(60);
  m.flush_valve = valve(50);
  m.flushing = true;
  m.blend->pressurised = true;
  m.membranes.in_series = 2;
  m.membranes.positions = {{.water_permeability = 0.6, .salt_permeability = 2}};
  expect_derivatives(off_the_edges(m, units::celsius(18)));
  m.pump->kind = plumbing::PumpKind::kVane;
  m.pump->speed = 0.9;
  m.blend->pressurised = false;
  expect_derivatives(off_the_edges(m, units::celsius(12)));
}
TEST(Derivatives, match_finite_differences_of_random_machines) {
  int pumps = 0;
  int without = 0;
  for (std::uint64_t stream = 0; pumps < 4 || without < 4; ++stream) {
    numerics::Random random(12, stream);
    const auto drawn = support::random_case(random);
    Case c{drawn.machine, drawn.feed.water, drawn.parameters};
    if (c.parameters[Parameter::kLeak] == 0) c.parameters[Parameter::kLeak] = 0.01;
    int& count = c.machine.pump ? pumps : without;
    if (count >= 4 || c.point().outcome != Outcome::kRuns) continue;
    ++count;
    SCOPED_TRACE("stream " + std::to_string(stream));
    expect_derivatives(c);
  }
}

}  // namespace
}  // namespace drawoff
