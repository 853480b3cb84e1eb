#include "machine/plates.h"

#include "fields/errors.h"
#include "machine/plates_fields.h"

namespace drawoff {

namespace machine {

std::vector<std::string> assumed(const MachineEntry& entry) {
  std::vector<std::string> keys;
  if (!entry.element.rejection) keys.emplace_back("element.rejection_pct");
  if (!entry.element.test_salt) keys.emplace_back("element.test_salt_mg_L");
  if (!entry.element.test_temperature) keys.emplace_back("element.test_temperature_C");
  if (!entry.element.test_recovery) keys.emplace_back("element.test_recovery_pct");
  return keys;
}

}  // namespace machine

namespace fields {

namespace {
base::Number shown(units::Pressure p) { return {p / units::bar(1), "bar", 6}; }
base::Number shown(units::VolumeFlow q) { return {q / units::litre_per_hour(1), "L/h", 6}; }
}  // namespace

base::Result<base::Done> Table<machine::PumpEntry>::check(const T& pump, const Path& path) {
  if (!(pump.rated_flow < pump.open_flow)) {
    return base::Error{base::ErrorKind::kData,
                       {"error.pump.rated_flow",
                        {{"path", path_argument(path / "rated_flow_L_h")},
                         {"value", shown(pump.rated_flow)},
                         {"open", shown(pump.open_flow)}}}};
  }
  if (pump.bypass_pressure < pump.rated_pressure) {
    return base::Error{base::ErrorKind::kData,
                       {"error.pump.bypass",
                        {{"path", path_argument(path / "bypass_pressure_bar")},
                         {"value", shown(pump.bypass_pressure)},
                         {"rated", shown(pump.rated_pressure)}}}};
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
  return base::Done{};
}

}  // namespace fields

}  // namespace drawoff
