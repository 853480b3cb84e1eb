#include "machine/plates.h"

#include "fields/errors.h"
#include "machine/plates_fields.h"

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
  return base::Done{};
}

}  // namespace fields

}  // namespace drawoff
