// A machine as a technician enters it: from the plates of its parts.
//
// What a plate does not say has a default. Those of the element, the restrictor and the housing
// weigh on the result and are listed by assumed(), so that every screen and paper can mark them.
// How plates become the machine that is solved, and how far the real one may differ from them, is
// the ensemble's matter (ensemble.h).
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "fields/json.h"
#include "units/quantity.h"

namespace drawoff::machine {

enum class FilterKind { kSediment, kCarbon, kPolish };
enum class RestrictorKind { kTrade, kOrifice, kCapillary };
// What the rejection in an entry is. In service: of a membrane of unknown make and age, as found on
// a visit; nothing on a plate says so.
enum class RejectionKind { kNominal, kMinimum, kInService };
enum class ProductVessel { kJug, kCooler, kTank };

struct TubeEntry {
  units::Length length = units::metre(2);
  units::Length bore = units::millimetre(4.3);
  double minor_loss = 4;  // ΣK of fittings
};

struct SupplyEntry {
  units::Pressure pressure;  // static, gauge
  units::Pressure uncertainty = units::bar(0.3);
  units::Length height;  // of the gauge above the unit
  TubeEntry tube;
};

// A cartridge or block: the pressure it takes, clean, at a flow.
struct FilterEntry {
  FilterKind kind = FilterKind::kSediment;
  units::VolumeFlow flow = units::litre_per_hour(240);
  units::Pressure loss = units::bar(0.15);
};

struct PumpEntry {
  units::VolumeFlow open_flow;
  units::VolumeFlow rated_flow;
  units::Pressure rated_pressure;
  units::Pressure bypass_pressure;
};

struct ElementEntry {
  std::string size;
  units::VolumeFlow permeate_flow;
  std::optional<double> rejection;  // share
  RejectionKind rejection_is = RejectionKind::kNominal;
  units::Pressure test_pressure;
  std::optional<units::Density> test_salt;
  std::optional<units::Temperature> test_temperature;
  std::optional<double> test_recovery;  // share
  double flow_tolerance_low = 0.15;
  double flow_tolerance_high = 0.25;
  int in_series = 1;
  int in_parallel = 1;
};

struct RestrictorEntry {
  units::VolumeFlow flow;
  std::optional<units::Pressure> pressure;  // at which that flow holds
  RestrictorKind kind = RestrictorKind::kTrade;
  double tolerance = 0.12;
};

struct DrainEntry {
  TubeEntry tube;
  units::Length height;  // of its outlet above the unit
};

struct BlendEntry {
  units::VolumeFlow full_open_flow;  // at 1 bar
  double opening = 0;                // share of full open, as set
  units::Pressure check_valve = units::bar(0.05);
};

struct ProductEntry {
  units::Pressure check_valve = units::bar(0.05);
  TubeEntry tube;
  units::Length height;  // of the outlet above the unit
  ProductVessel vessel = ProductVessel::kCooler;
  units::Pressure vessel_pressure;  // of an air-charged tank
};

// Where the values come from. By size: nobody read a plate, and all but the element's size is what
// is usual for it.
enum class PlatesBasis { kPlates, kSize };

struct MachineEntry {
  std::string name;
  PlatesBasis basis = PlatesBasis::kPlates;
  SupplyEntry supply;
  std::vector<FilterEntry> filters;  // in the order of the water; kPolish stands after the membrane
  std::optional<PumpEntry> pump;
  ElementEntry element;
  RestrictorEntry restrictor;
  DrainEntry drain;
  std::optional<BlendEntry> blend;
  ProductEntry product;
  std::optional<units::Pressure> housing_rating;  // highest pressure it may see
  fields::Json unknown;
};

// Defaults for what a plate does not say (common practice, no source).
inline constexpr double kUsualRejection = 0.96;
inline constexpr double kInServiceRejection = 0.945;
inline constexpr units::Density kUsualTestSalt = units::milligram_per_litre(500);
inline constexpr units::Temperature kUsualTestTemperature = units::celsius(25);
inline constexpr double kUsualTestRecovery = 0.15;
inline constexpr units::Pressure kUsualRestrictorPressure = units::bar(4);
inline constexpr units::Pressure kUsualHousingRating = units::bar(8.5);

// Keys of what was not given and is assumed: "element.rejection_pct", "restrictor.pressure_bar"…
std::vector<std::string> assumed(const MachineEntry& entry);
std::vector<std::string> assumed(const ElementEntry& element);

}  // namespace drawoff::machine
