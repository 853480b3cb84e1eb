// What the building adds to a source: what stands before the tap, and what is meant to be fitted.
#pragma once

#include <optional>
#include <string>

#include "fields/field.h"
#include "units/quantity.h"

namespace drawoff::visit {

// How iron looks: dissolved water is clear when drawn and turns brown; rust is brown at once.
enum class IronForm { kNotLooked, kClear, kRust };

// Seen and measured at the tap, beside the analysis.
struct TapEntry {
  std::optional<units::Density> total_chlorine;  // free and combined
  std::optional<double> turbidity;               // NTU
  std::optional<double> worst_turbidity;         // NTU, after rain or in the wet season
  std::optional<units::Density> sulfide;         // as S; by its smell from about 0.05 mg/L
  IronForm iron = IronForm::kNotLooked;
  std::optional<units::Temperature> warmest;  // that the water gets over the year
};

// What keeps microbes back behind all open tanks, looked after and in date.
enum class Barrier { kNone, kUvLamp, kDisinfection };

struct BuildingEntry {
  bool open_tank = false;  // between the supply and the tap: on a roof, in a cellar
  bool roof_tank = false;  // in the sun
  bool softener = false;   // in front of the unit
  Barrier barrier = Barrier::kNone;
  // Of what touches the product behind the unit: tubes, fittings, taps.
  bool copper = false;
  bool brass = false;
  bool galvanised = false;
  bool clear_tube_in_light = false;   // algae grow in it
  bool drain_unscreened = false;      // the tail of the drain line stands open
  std::optional<double> water_hours;  // a day with water [h]; all day if absent
  std::optional<double> power_hours;  // a day with electricity [h]; all day if absent
};

struct PlanEntry {
  double recovery = 0.3;     // of the unit
  bool antiscalant = false;  // dosed
};

}  // namespace drawoff::visit

namespace drawoff::fields {

template <>
struct EnumTable<visit::IronForm> {
  static constexpr std::string_view name = "iron_form";
  static constexpr std::array list = {choice(visit::IronForm::kNotLooked, "not_looked"),
                                      choice(visit::IronForm::kClear, "clear"),
                                      choice(visit::IronForm::kRust, "rust")};
};
template <>
struct EnumTable<visit::Barrier> {
  static constexpr std::string_view name = "barrier";
  static constexpr std::array list = {choice(visit::Barrier::kNone, "none"),
                                      choice(visit::Barrier::kUvLamp, "uv_lamp"),
                                      choice(visit::Barrier::kDisinfection, "disinfection")};
};
template <>
struct Table<visit::TapEntry> {
  using T = visit::TapEntry;
  static constexpr std::string_view name = "tap";
  static constexpr auto list =
      std::make_tuple(field("total_chlorine_mg_L", &T::total_chlorine, Range{0, 20}),
                      field("turbidity_NTU", &T::turbidity, Range{0, 4000}),
                      field("worst_turbidity_NTU", &T::worst_turbidity, Range{0, 4000}),
                      field("sulfide_mg_L", &T::sulfide, Range{0, 50}),
                      field("iron", &T::iron),
                      field("warmest_C", &T::warmest, Range{0, 60}));
};
template <>
struct Table<visit::BuildingEntry> {
  using T = visit::BuildingEntry;
  static constexpr std::string_view name = "building";
  static constexpr auto list =
      std::make_tuple(field("open_tank", &T::open_tank),
                      field("roof_tank", &T::roof_tank),
                      field("softener", &T::softener),
                      field("barrier", &T::barrier),
                      field("copper", &T::copper),
                      field("brass", &T::brass),
                      field("galvanised", &T::galvanised),
                      field("clear_tube_in_light", &T::clear_tube_in_light),
                      field("drain_unscreened", &T::drain_unscreened),
                      field("water_hours", &T::water_hours, Range{0.5, 24}),
                      field("power_hours", &T::power_hours, Range{0.5, 24}));
};
template <>
struct Table<visit::PlanEntry> {
  using T = visit::PlanEntry;
  static constexpr std::string_view name = "plan";
  static constexpr auto list = std::make_tuple(field("recovery_pct", &T::recovery, Range{5, 85}),
                                               field("antiscalant", &T::antiscalant));
};

}  // namespace drawoff::fields
