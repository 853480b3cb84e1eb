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
#include "plumbing/pump.h"
#include "units/quantity.h"

namespace drawoff::machine {

// Before the membrane: sediment, carbon, softener. After it: polish, mineral cartridge, UV lamp.
enum class FilterKind { kSediment, kCarbon, kSoftener, kPolish, kMineral, kUv };
constexpr bool after_membrane(FilterKind kind) {
  return kind == FilterKind::kPolish || kind == FilterKind::kMineral || kind == FilterKind::kUv;
}
using plumbing::PumpKind;
enum class Arrangement { kSeries, kParallel };
enum class RestrictorKind { kTrade, kOrifice, kCapillary };
// What the rejection in an entry is. In service: of a membrane of unknown make and age, as found on
// a visit; nothing on a plate says so.
enum class RejectionKind { kNominal, kMinimum, kInService };
enum class ProductVessel { kJug, kCooler, kTank, kOpenTank };
// Before the pump: raw water reaches the branch whether the unit runs or not. After the solenoid:
// only while it runs. Pressurised: from behind the pump.
enum class BlendFrom { kBeforePump, kAfterSolenoid, kPressurised };

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

// A tank of raw water from which the unit draws, filled through a float valve: what the unit sees
// is the height of its water, not the supply's pressure.
struct RawTankEntry {
  units::Volume volume;
  units::Length level;  // of its water above the unit, at the lowest that is usual
};

// Holds the pressure behind it down to its setting; `droop` less at the flow given.
struct RegulatorEntry {
  units::Pressure set_pressure;  // at no flow
  units::Pressure droop = units::bar(0.3);
  units::VolumeFlow flow = units::litre_per_hour(300);
};

// Opens with the machine's current: no water passes an unpowered unit.
struct SolenoidEntry {
  units::VolumeFlow flow = units::litre_per_hour(240);
  units::Pressure loss = units::bar(0.1);
};

// Two pressures of a switch. Low-pressure switch: stops the pump below cut-out, starts it above
// cut-in. High-pressure switch: the other way round.
struct SwitchEntry {
  units::Pressure cut_out;
  units::Pressure cut_in;
};

// A valve that the product's own pressure closes against the feed.
struct HydraulicShutOffEntry {
  double closes_at = 0.65;  // product pressure as a share of the feed's
  double opens_at = 0.50;
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
  units::Pressure bypass_pressure;  // diaphragm: bypass; vane: relief; multistage: at no flow
  PumpKind kind = PumpKind::kDiaphragm;
  int count = 1;
  Arrangement arrangement = Arrangement::kSeries;
  std::optional<units::Voltage> plate_voltage;
  std::optional<units::Voltage> voltage;  // at the pump under load; as its plate if absent
};

// Part of the reject led back before the pump, through a valve.
struct RecirculationEntry {
  units::VolumeFlow full_open_flow;  // at 1 bar
  double opening = 1;                // share of full open
};

// Opens beside the restrictor and rinses the membranes.
struct FlushValveEntry {
  units::VolumeFlow flow;
  std::optional<units::Pressure> pressure;  // at which that flow holds
};

// How an element in its place differs from its plate: age, a defect, another make.
struct PositionEntry {
  double water_permeability = 1;  // as a share of the plate's
  double salt_permeability = 1;
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
  // The elements along the water, the first where the feed enters; the rest as their plate. Up to a
  // row of them: every row is so. More: row by row.
  std::vector<PositionEntry> positions;
  std::optional<units::Time> run_time;  // that the membrane has run; absent: settled long ago
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
  BlendFrom from = BlendFrom::kBeforePump;
  double seat_leak = 0;  // flow of the shut valve at 1 bar, as a share of full open
};

// A further cooler on the product line.
struct CoolerEntry {
  units::Volume volume = units::litre(4);
  units::Length height;  // of its float above the unit
};

struct ProductEntry {
  units::Pressure check_valve = units::bar(0.05);
  TubeEntry tube;
  units::Length height;  // of the outlet above the unit
  ProductVessel vessel = ProductVessel::kCooler;
  units::Pressure vessel_pressure;           // of an air-charged tank
  std::optional<units::Volume> volume;       // of the vessel, whole; usual for its kind if absent
  std::optional<units::Pressure> precharge;  // of an air-charged tank, empty
  std::vector<CoolerEntry> coolers;          // beside the first
};

// Where the values come from. By size: nobody read a plate, and all but the element's size is what
// is usual for it.
enum class PlatesBasis { kPlates, kSize };

struct MachineEntry {
  std::string name;
  PlatesBasis basis = PlatesBasis::kPlates;
  SupplyEntry supply;
  std::optional<RawTankEntry> raw_tank;
  std::optional<RegulatorEntry> regulator;
  std::optional<SolenoidEntry> solenoid;
  std::vector<FilterEntry> filters;                // in the order of the water
  std::optional<SwitchEntry> low_pressure_switch;  // before the pump
  std::optional<PumpEntry> pump;
  ElementEntry element;
  RestrictorEntry restrictor;
  std::optional<FlushValveEntry> flush_valve;
  std::optional<RecirculationEntry> recirculation;
  DrainEntry drain;
  std::optional<BlendEntry> blend;
  std::optional<HydraulicShutOffEntry> hydraulic_shut_off;
  std::optional<SwitchEntry> high_pressure_switch;  // on the product line
  ProductEntry product;
  std::optional<units::Pressure> housing_rating;  // highest pressure it may see
  fields::Json unknown;
};

// Whether anything stops the machine when its vessel is full; a switch needs a pump or solenoid.
inline bool stops_itself(const MachineEntry& entry) {
  return entry.hydraulic_shut_off || (entry.high_pressure_switch && (entry.pump || entry.solenoid));
}

// Defaults for what a plate does not say (common practice, no source).
inline constexpr double kUsualRejection = 0.96;
inline constexpr double kInServiceRejection = 0.945;
inline constexpr units::Density kUsualTestSalt = units::milligram_per_litre(500);
inline constexpr units::Temperature kUsualTestTemperature = units::celsius(25);
inline constexpr double kUsualTestRecovery = 0.15;
inline constexpr units::Pressure kUsualRestrictorPressure = units::bar(4);
inline constexpr units::Pressure kUsualFlushPressure = units::bar(2);
inline constexpr units::Voltage kUsualPumpVoltage = units::volt(24);
inline constexpr units::Pressure kUsualHousingRating = units::bar(8.5);

// Keys of what was not given and is assumed: "element.rejection_pct", "restrictor.pressure_bar"…
std::vector<std::string> assumed(const MachineEntry& entry);
std::vector<std::string> assumed(const ElementEntry& element);

}  // namespace drawoff::machine
