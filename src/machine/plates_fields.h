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
                                      choice(machine::FilterKind::kPolish, "polish")};
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
                                      choice(machine::ProductVessel::kTank, "tank")};
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
                      field("bypass_pressure_bar", &T::bypass_pressure, Range{0.5, 30}, kRequired));
  static base::Result<base::Done> check(const T& pump, const Path& path);
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
                      field("in_parallel", &T::in_parallel, Range{1, 6}));
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
                      field("check_valve_bar", &T::check_valve, Range{0, 1}));
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
                      field("vessel_pressure_bar", &T::vessel_pressure, Range{0, 6}));
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
                      field("filters", &T::filters, Range{0, 12}),
                      field("pump", &T::pump),
                      field("element", &T::element),
                      field("restrictor", &T::restrictor),
                      field("drain", &T::drain),
                      field("blend", &T::blend),
                      field("product", &T::product),
                      field("housing_rating_bar", &T::housing_rating, Range{1, 70}));
  static constexpr auto unknown = &T::unknown;
};

}  // namespace drawoff::fields
