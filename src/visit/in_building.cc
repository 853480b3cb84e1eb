#include "visit/in_building.h"

#include <algorithm>

#include "messages/number.h"

namespace drawoff::visit {
namespace {

using base::Message;
using base::Number;

constexpr double kDay = 24;  // [h]

Number hours_number(double hours) { return {hours, "h", messages::digits_of(hours)}; }

// A whole day leaves no rest to bridge.
void hours(const BuildingEntry& building,
           const std::optional<UnitFlow>& unit,
           std::vector<Message>& out) {
  const bool electric = !unit || unit->electric;
  const double water = building.water_hours.value_or(kDay);
  const double power = electric ? building.power_hours.value_or(kDay) : kDay;
  const bool few_water = water < kDay;
  const bool few_power = power < kDay;
  if (!few_water && !few_power) return;
  out.push_back({few_water && few_power ? "verdict.behind.hours_both"
                 : few_water            ? "verdict.behind.hours_water"
                                        : "verdict.behind.hours_power",
                 {{"water", hours_number(water)}, {"power", hours_number(power)}}});
  if (unit) {
    // Two that come and go by themselves are there together for as long as the shorter, at most.
    const double time = std::min(water, power);
    const auto day = [&](units::VolumeFlow flow) {
      return Number{flow / units::litre_per_hour(1) * time, "L/day", 2};
    };
    out.push_back(
        {few_water && few_power ? "verdict.behind.hours_make_most" : "verdict.behind.hours_make",
         {{"low", day(unit->low)}, {"high", day(unit->high)}}});
  }
  out.push_back({"verdict.behind.hours_tank"});
}

}  // namespace

std::vector<Message> in_building(const BuildingEntry& building,
                                 const std::optional<UnitFlow>& unit) {
  std::vector<Message> out;
  if (building.clear_tube_in_light) out.push_back({"verdict.behind.clear_tube"});
  if (building.drain_unscreened) out.push_back({"verdict.behind.drain_tail"});
  hours(building, unit, out);
  return out;
}

}  // namespace drawoff::visit
