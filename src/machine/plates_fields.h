// The field tables of a machine's plates.
#pragma once

#include <array>
#include <tuple>

#include "fields/errors.h"
#include "fields/field.h"
#include "machine/plates.h"
#include "membrane/sizes.h"

namespace drawoff::fields {

template <>
struct EnumTable<machine::FilterKind> {
  static constexpr std::string_view name = "filter_kind";
  static constexpr std::array list = {choice(machine::FilterKind::kSediment, "sediment"),
                                      choice(machine::FilterKind::kCarbon, "carbon"),
                                      choice(machine::FilterKind::kSoftener, "softener"),
                                      choice(machine::FilterKind::kPolish, "polish"),
                                      choice(machine::FilterKind::kMineral, "mineral"),
                                      choice(machine::FilterKind::kUv, "uv")};
};
template <>
struct EnumTable<machine::PumpKind> {
  static constexpr std::string_view name = "pump_kind";
  static constexpr std::array list = {choice(machine::PumpKind::kDiaphragm, "diaphragm"),
                                      choice(machine::PumpKind::kVane, "vane"),
                                      choice(machine::PumpKind::kMultistage, "multistage")};
};
template <>
struct EnumTable<machine::Arrangement> {
  static constexpr std::string_view name = "arrangement";
  static constexpr std::array list = {choice(machine::Arrangement::kSeries, "series"),
                                      choice(machine::Arrangement::kParallel, "parallel")};
};
template <>
struct EnumTable<machine::BlendFrom> {
  static constexpr std::string_view name = "blend_from";
  static constexpr std::array list = {choice(machine::BlendFrom::kBeforePump, "before_pump"),
                                      choice(machine::BlendFrom::kAfterSolenoid, "after_solenoid"),
                                      choice(machine::BlendFrom::kPressurised, "pressurised")};
};
template <>
struct EnumTable<machine::RestrictorKind> {
  static constexpr std::string_view name = "restrictor_kind";
  static constexpr std::array list = {choice(machine::RestrictorKind::kTrade, "trade"),
                                      choice(machine::RestrictorKind::kOrifice, "orifice"),
                                      choice(machine::RestrictorKind::kCapillary, "capillary")};
};
template <>
struct EnumTable<machine::RejectionKind> {
  static constexpr std::string_view name = "rejection_kind";
  static constexpr std::array list = {choice(machine::RejectionKind::kNominal, "nominal"),
                                      choice(machine::RejectionKind::kMinimum, "minimum"),
                                      choice(machine::RejectionKind::kInService, "in_service")};
};
template <>
struct EnumTable<machine::ProductVessel> {
  static constexpr std::string_view name = "product_vessel";
  static constexpr std::array list = {choice(machine::ProductVessel::kJug, "jug"),
                                      choice(machine::ProductVessel::kCooler, "cooler"),
                                      choice(machine::ProductVessel::kTank, "tank"),
                                      choice(machine::ProductVessel::kOpenTank, "open_tank")};
};

template <>
struct Table<machine::TubeEntry> {
  using T = machine::TubeEntry;
  static constexpr std::string_view name = "tube";
  static constexpr auto list = std::make_tuple(field("length_m", &T::length, Range{0.05, 200}),
                                               field("bore_mm", &T::bore, Range{1, 60}),
                                               field("minor_loss", &T::minor_loss, Range{0, 500}));
};

template <>
struct Table<machine::SupplyEntry> {
  using T = machine::SupplyEntry;
  static constexpr std::string_view name = "supply";
  static constexpr auto list =
      std::make_tuple(field("pressure_bar", &T::pressure, Range{0, 12}, kRequired),
                      field("pressure_uncertainty_bar", &T::uncertainty, Range{0, 3}),
                      field("height_m", &T::height, Range{-30, 60}),
                      field("tube", &T::tube));
};

template <>
struct Table<machine::FilterEntry> {
  using T = machine::FilterEntry;
  static constexpr std::string_view name = "filter";
  static constexpr auto list = std::make_tuple(field("kind", &T::kind, kRequired),
                                               field("flow_L_h", &T::flow, Range{5, 5000}),
                                               field("loss_bar", &T::loss, Range{0.001, 2}));
};

template <>
struct Table<machine::PumpEntry> {
  using T = machine::PumpEntry;
  static constexpr std::string_view name = "pump";
  static constexpr auto list =
      std::make_tuple(field("open_flow_L_h", &T::open_flow, Range{10, 5000}, kRequired),
                      field("rated_flow_L_h", &T::rated_flow, Range{5, 5000}, kRequired),
                      field("rated_pressure_bar", &T::rated_pressure, Range{0.5, 25}, kRequired),
                      field("bypass_pressure_bar", &T::bypass_pressure, Range{0.5, 30}, kRequired),
                      field("kind", &T::kind),
                      field("count", &T::count, Range{1, 4}),
                      field("arrangement", &T::arrangement),
                      field("plate_voltage_V", &T::plate_voltage, Range{5, 420}),
                      field("voltage_V", &T::voltage, Range{1, 500}));
  static base::Result<base::Done> check(const T& pump, const Path& path);
};

template <>
struct Table<machine::RawTankEntry> {
  using T = machine::RawTankEntry;
  static constexpr std::string_view name = "raw_tank";
  static constexpr auto list =
      std::make_tuple(field("volume_L", &T::volume, Range{5, 20000}, kRequired),
                      field("level_m", &T::level, Range{-5, 60}, kRequired));
};

template <>
struct Table<machine::RegulatorEntry> {
  using T = machine::RegulatorEntry;
  static constexpr std::string_view name = "regulator";
  static constexpr auto list =
      std::make_tuple(field("set_pressure_bar", &T::set_pressure, Range{0.3, 10}, kRequired),
                      field("droop_bar", &T::droop, Range{0, 3}),
                      field("flow_L_h", &T::flow, Range{10, 10000}));
};

template <>
struct Table<machine::SolenoidEntry> {
  using T = machine::SolenoidEntry;
  static constexpr std::string_view name = "solenoid";
  static constexpr auto list = std::make_tuple(field("flow_L_h", &T::flow, Range{5, 5000}),
                                               field("loss_bar", &T::loss, Range{0.001, 2}));
};

template <>
struct Table<machine::SwitchEntry> {
  using T = machine::SwitchEntry;
  static constexpr std::string_view name = "switch";
  static constexpr auto list =
      std::make_tuple(field("cut_out_bar", &T::cut_out, Range{0.02, 15}, kRequired),
                      field("cut_in_bar", &T::cut_in, Range{0.02, 15}, kRequired));
};

template <>
struct Table<machine::HydraulicShutOffEntry> {
  using T = machine::HydraulicShutOffEntry;
  static constexpr std::string_view name = "hydraulic_shut_off";
  static constexpr auto list = std::make_tuple(field("closes_at_pct", &T::closes_at, Range{20, 99}),
                                               field("opens_at_pct", &T::opens_at, Range{5, 95}));
};

template <>
struct Table<machine::RecirculationEntry> {
  using T = machine::RecirculationEntry;
  static constexpr std::string_view name = "recirculation";
  static constexpr auto list =
      std::make_tuple(field("full_open_flow_L_h", &T::full_open_flow, Range{1, 5000}, kRequired),
                      field("opening_pct", &T::opening, Range{0, 100}));
};

template <>
struct Table<machine::FlushValveEntry> {
  using T = machine::FlushValveEntry;
  static constexpr std::string_view name = "flush_valve";
  static constexpr auto list =
      std::make_tuple(field("flow_L_h", &T::flow, Range{5, 5000}, kRequired),
                      field("pressure_bar", &T::pressure, Range{0.2, 25}));
};

template <>
struct Table<machine::PositionEntry> {
  using T = machine::PositionEntry;
  static constexpr std::string_view name = "position";
  static constexpr auto list =
      std::make_tuple(field("water_permeability_pct", &T::water_permeability, Range{1, 400}),
                      field("salt_permeability_pct", &T::salt_permeability, Range{1, 2000}));
};

template <>
struct Table<machine::CoolerEntry> {
  using T = machine::CoolerEntry;
  static constexpr std::string_view name = "cooler";
  static constexpr auto list = std::make_tuple(field("volume_L", &T::volume, Range{0.5, 200}),
                                               field("height_m", &T::height, Range{-10, 30}));
};

template <>
struct Table<machine::ElementEntry> {
  using T = machine::ElementEntry;
  static constexpr std::string_view name = "element";
  static constexpr auto list =
      std::make_tuple(field("size", &T::size, Range{1, 12}, kRequired),
                      field("permeate_flow_L_h", &T::permeate_flow, Range{1, 1500}, kRequired),
                      field("rejection_pct", &T::rejection, Range{40, 99.9}),
                      field("rejection_is", &T::rejection_is),
                      field("test_pressure_bar", &T::test_pressure, Range{0.5, 45}, kRequired),
                      field("test_salt_mg_L", &T::test_salt, Range{50, 5000}),
                      field("test_temperature_C", &T::test_temperature, Range{5, 45}),
                      field("test_recovery_pct", &T::test_recovery, Range{1, 60}),
                      field("flow_tolerance_low_pct", &T::flow_tolerance_low, Range{0, 50}),
                      field("flow_tolerance_high_pct", &T::flow_tolerance_high, Range{0, 80}),
                      field("in_series", &T::in_series, Range{1, 6}),
                      field("in_parallel", &T::in_parallel, Range{1, 6}),
                      field("positions", &T::positions, Range{0, 36}),
                      field("run_time_h", &T::run_time, Range{0, 1e5}));
  static base::Result<base::Done> check(const T& element, const Path& path);
};

template <>
struct Table<machine::RestrictorEntry> {
  using T = machine::RestrictorEntry;
  static constexpr std::string_view name = "restrictor";
  static constexpr auto list =
      std::make_tuple(field("flow_mL_min", &T::flow, Range{20, 100000}, kRequired),
                      field("pressure_bar", &T::pressure, Range{0.2, 25}),
                      field("kind", &T::kind),
                      field("tolerance_pct", &T::tolerance, Range{0, 50}));
};

template <>
struct Table<machine::DrainEntry> {
  using T = machine::DrainEntry;
  static constexpr std::string_view name = "drain";
  static constexpr auto list =
      std::make_tuple(field("tube", &T::tube), field("height_m", &T::height, Range{-10, 10}));
};

template <>
struct Table<machine::BlendEntry> {
  using T = machine::BlendEntry;
  static constexpr std::string_view name = "blend";
  static constexpr auto list =
      std::make_tuple(field("full_open_flow_L_h", &T::full_open_flow, Range{0.1, 2000}, kRequired),
                      field("opening_pct", &T::opening, Range{0, 100}, kRequired),
                      field("check_valve_bar", &T::check_valve, Range{0, 1}),
                      field("from", &T::from),
                      field("seat_leak_pct", &T::seat_leak, Range{0, 20}));
};

template <>
struct Table<machine::ProductEntry> {
  using T = machine::ProductEntry;
  static constexpr std::string_view name = "product";
  static constexpr auto list =
      std::make_tuple(field("check_valve_bar", &T::check_valve, Range{0, 1}),
                      field("tube", &T::tube),
                      field("height_m", &T::height, Range{-10, 30}),
                      field("vessel", &T::vessel),
                      field("vessel_pressure_bar", &T::vessel_pressure, Range{0, 6}),
                      field("volume_L", &T::volume, Range{0.2, 20000}),
                      field("precharge_bar", &T::precharge, Range{0, 4}),
                      field("coolers", &T::coolers, Range{0, 8}));
  static base::Result<base::Done> check(const T& product, const Path& path);
};

template <>
struct EnumTable<machine::PlatesBasis> {
  static constexpr std::string_view name = "plates_basis";
  static constexpr std::array list = {choice(machine::PlatesBasis::kPlates, "plates"),
                                      choice(machine::PlatesBasis::kSize, "size")};
};

template <>
struct Table<machine::MachineEntry> {
  using T = machine::MachineEntry;
  static constexpr std::string_view name = "machine";
  static constexpr auto list =
      std::make_tuple(field("name", &T::name, Range{0, 80}),
                      field("basis", &T::basis),
                      field("supply", &T::supply),
                      field("raw_tank", &T::raw_tank),
                      field("regulator", &T::regulator),
                      field("solenoid", &T::solenoid),
                      field("filters", &T::filters, Range{0, 12}),
                      field("low_pressure_switch", &T::low_pressure_switch),
                      field("pump", &T::pump),
                      field("element", &T::element),
                      field("restrictor", &T::restrictor),
                      field("flush_valve", &T::flush_valve),
                      field("recirculation", &T::recirculation),
                      field("drain", &T::drain),
                      field("blend", &T::blend),
                      field("hydraulic_shut_off", &T::hydraulic_shut_off),
                      field("high_pressure_switch", &T::high_pressure_switch),
                      field("product", &T::product),
                      field("housing_rating_bar", &T::housing_rating, Range{1, 70}));
  static constexpr auto unknown = &T::unknown;
  static base::Result<base::Done> check(const T& machine, const Path& path);
};

}  // namespace drawoff::fields
