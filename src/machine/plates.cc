#include "machine/plates.h"

#include <algorithm>
#include <optional>
#include <utility>

#include "fields/errors.h"
#include "machine/plates_fields.h"
#include "messages/number.h"
#include "plumbing/fluid.h"

namespace drawoff {

namespace machine {

std::vector<std::string> assumed(const ElementEntry& element) {
  std::vector<std::string> keys;
  if (!element.rejection) keys.emplace_back("element.rejection_pct");
  if (!element.test_salt) keys.emplace_back("element.test_salt_mg_L");
  if (!element.test_temperature) keys.emplace_back("element.test_temperature_C");
  if (!element.test_recovery) keys.emplace_back("element.test_recovery_pct");
  return keys;
}

std::vector<std::string> assumed(const MachineEntry& entry) {
  auto keys = assumed(entry.element);
  if (!entry.restrictor.pressure) keys.emplace_back("restrictor.pressure_bar");
  if (entry.pump && entry.pump->voltage && !entry.pump->plate_voltage) {
    keys.emplace_back("pump.plate_voltage_V");
  }
  if (entry.flush_valve && !entry.flush_valve->pressure) {
    keys.emplace_back("flush_valve.pressure_bar");
  }
  if (!entry.housing_rating) keys.emplace_back("housing_rating_bar");
  return keys;
}

}  // namespace machine

namespace fields {

namespace {

// As it was typed, in the unit of its key.
base::Number shown(std::string_view unit_key, double si) {
  const units::Unit& unit = *units::unit_of_key(unit_key);
  return given_number(units::from_si_shortest(unit, si), &unit);
}

// An error of a field's value against that of another part.
base::Error against(std::string_view id,
                    const Path& path,
                    const base::Number& value,
                    const base::Number& other) {
  return {base::ErrorKind::kData,
          {std::string(id), {{"path", path_argument(path)}, {"value", value}, {"other", other}}}};
}
base::Number count(double n) { return {n, "", messages::digits_of(n)}; }
base::Error bar_against(std::string_view id,
                        const Path& path,
                        units::Pressure value,
                        units::Pressure other) {
  return against(id, path, shown("bar", value.si()), shown("bar", other.si()));
}
// The other value is the model's own, not one that was typed.
base::Error bar_against_reached(std::string_view id,
                                const Path& path,
                                units::Pressure value,
                                units::Pressure reached) {
  return against(
      id, path, shown("bar", value.si()), base::Number{reached / units::bar(1), "bar", 3});
}
// A part that does nothing without another, which is not there.
base::Error alone(std::string_view id, const Path& path) {
  return {base::ErrorKind::kData, {std::string(id), {{"path", path_argument(path)}}}};
}

// What the unit can be fed with, at most [gauge]: about ρ g h of a raw tank.
units::Pressure fed_with(const machine::MachineEntry& m) {
  constexpr double kWeight = 998.2 * plumbing::kGravity;  // [Pa/m], 20 °C
  return m.raw_tank ? units::pascal(kWeight * m.raw_tank->level.si()) : m.supply.pressure;
}

// What its product can reach at rest, at most.
units::Pressure highest_pressure(const machine::MachineEntry& m) {
  units::Pressure fed = fed_with(m);
  if (m.regulator) fed = std::min(fed, m.regulator->set_pressure);
  if (!m.pump) return fed;
  const int count = m.pump->arrangement == machine::Arrangement::kSeries ? m.pump->count : 1;
  const bool bypass = m.pump->kind != machine::PumpKind::kMultistage;
  return fed + m.pump->bypass_pressure * (count * (1 + (bypass ? plumbing::kBypassSpan : 0)));
}

std::optional<base::Error> wrong_switches(const machine::MachineEntry& m, const Path& path) {
  if (const auto& low = m.low_pressure_switch; low && !(low->cut_in > low->cut_out)) {
    return bar_against("error.low_pressure_switch.order",
                       path / "low_pressure_switch" / "cut_in_bar",
                       low->cut_in,
                       low->cut_out);
  }
  const auto& high = m.high_pressure_switch;
  if (!high) return std::nullopt;
  if (!(high->cut_in < high->cut_out)) {
    return bar_against("error.high_pressure_switch.order",
                       path / "high_pressure_switch" / "cut_in_bar",
                       high->cut_in,
                       high->cut_out);
  }
  const Path cut_out = path / "high_pressure_switch" / "cut_out_bar";
  if (m.housing_rating && high->cut_out > *m.housing_rating) {
    return bar_against(
        "error.high_pressure_switch.housing", cut_out, high->cut_out, *m.housing_rating);
  }
  if (const auto reached = highest_pressure(m); !(high->cut_out < reached)) {
    return bar_against_reached("error.high_pressure_switch.reach", cut_out, high->cut_out, reached);
  }
  return std::nullopt;
}

}  // namespace

base::Result<base::Done> Table<machine::PumpEntry>::check(const T& pump, const Path& path) {
  if (!(pump.rated_flow < pump.open_flow)) {
    return base::Error{base::ErrorKind::kData,
                       {"error.pump.rated_flow",
                        {{"path", path_argument(path / "rated_flow_L_h")},
                         {"value", shown("L_h", pump.rated_flow.si())},
                         {"open", shown("L_h", pump.open_flow.si())}}}};
  }
  if (pump.bypass_pressure < pump.rated_pressure) {
    return base::Error{base::ErrorKind::kData,
                       {"error.pump.bypass",
                        {{"path", path_argument(path / "bypass_pressure_bar")},
                         {"value", shown("bar", pump.bypass_pressure.si())},
                         {"rated", shown("bar", pump.rated_pressure.si())}}}};
  }
  if (pump.kind == machine::PumpKind::kMultistage &&
      !(pump.bypass_pressure > pump.rated_pressure)) {
    return bar_against("error.pump.no_flow",
                       path / "bypass_pressure_bar",
                       pump.bypass_pressure,
                       pump.rated_pressure);
  }
  return base::Done{};
}

base::Result<base::Done> Table<machine::ProductEntry>::check(const T& product, const Path& path) {
  if (product.vessel != machine::ProductVessel::kTank && product.vessel_pressure.si() > 0) {
    return base::Error{base::ErrorKind::kData,
                       {"error.product.vessel",
                        {{"path", path_argument(path / "vessel_pressure_bar")},
                         {"value", shown("bar", product.vessel_pressure.si())}}}};
  }
  return base::Done{};
}

base::Result<base::Done> Table<machine::ElementEntry>::check(const T& element, const Path& path) {
  if (membrane::find_element_size(element.size) == nullptr) {
    std::vector<std::string> sizes;
    for (const auto& size : membrane::element_sizes()) sizes.push_back(size.name);
    return not_a_choice(
        {.path = path / "size", .meaning = "field.element.size"}, element.size, sizes);
  }
  const int elements = element.in_series * element.in_parallel;
  if (std::cmp_greater(element.positions.size(), elements)) {
    return against("error.element.positions",
                   path / "positions",
                   count(static_cast<double>(element.positions.size())),
                   count(elements));
  }
  return base::Done{};
}

base::Result<base::Done> Table<machine::MachineEntry>::check(const T& m, const Path& path) {
  if (m.recirculation && !m.pump) return alone("error.recirculation.pump", path / "recirculation");
  if (m.blend && m.blend->from == machine::BlendFrom::kPressurised && !m.pump) {
    return alone("error.blend.pump", path / "blend" / "from");
  }
  if (m.blend && m.blend->from == machine::BlendFrom::kAfterSolenoid && !m.solenoid) {
    return alone("error.blend.solenoid", path / "blend" / "from");
  }
  if (m.low_pressure_switch && !m.pump) {
    return alone("error.low_pressure_switch.pump", path / "low_pressure_switch");
  }
  if (m.raw_tank && m.regulator && !(m.regulator->set_pressure < fed_with(m))) {
    return bar_against_reached("error.regulator.raw_tank",
                               path / "regulator" / "set_pressure_bar",
                               m.regulator->set_pressure,
                               fed_with(m));
  }
  if (const auto& valve = m.hydraulic_shut_off; valve && !(valve->opens_at < valve->closes_at)) {
    return against("error.hydraulic_shut_off.order",
                   path / "hydraulic_shut_off" / "opens_at_pct",
                   shown("pct", valve->opens_at),
                   shown("pct", valve->closes_at));
  }
  if (auto wrong = wrong_switches(m, path)) return *std::move(wrong);
  // A machine without any pressure says so itself.
  const auto& precharge = m.product.precharge;
  if (const auto reached = highest_pressure(m); reached.si() > 0 && precharge &&
                                                m.product.vessel == machine::ProductVessel::kTank &&
                                                !(*precharge < reached)) {
    return bar_against_reached(
        "error.product.precharge", path / "product" / "precharge_bar", *precharge, reached);
  }
  return base::Done{};
}

}  // namespace fields

}  // namespace drawoff
