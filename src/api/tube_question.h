// calc tube: the pressure that a run of tube takes.
#pragma once

#include "api/question.h"
#include "units/quantity.h"

namespace drawoff::api {

enum class FlowRegime { kLaminar, kCritical, kTurbulent };

struct TubeInput {
  units::Length length;
  units::Length bore;
  units::Length roughness = units::millimetre(0.0015);
  double minor_loss = 0;
  units::Length rise;  // of the outlet above the inlet
  units::VolumeFlow flow;
  units::Temperature temperature = units::celsius(20);
};

struct TubeOutput {
  units::Velocity velocity;
  double reynolds = 0;
  FlowRegime regime = FlowRegime::kLaminar;
  std::optional<double> friction_factor;  // none without flow
  units::Pressure friction;               // of tube and fittings
  units::Pressure height;                 // ρ g × rise
  units::Pressure pressure;               // both together
};

base::Result<TubeOutput> ask_tube(const TubeInput& in, Working& working);

}  // namespace drawoff::api

namespace drawoff::fields {

template <>
struct EnumTable<api::FlowRegime> {
  static constexpr std::string_view name = "flow_regime";
  static constexpr std::array list = {choice(api::FlowRegime::kLaminar, "laminar"),
                                      choice(api::FlowRegime::kCritical, "critical"),
                                      choice(api::FlowRegime::kTurbulent, "turbulent")};
};
template <>
struct Table<api::TubeInput> {
  using T = api::TubeInput;
  static constexpr std::string_view name = "tube_input";
  static constexpr auto list =
      std::make_tuple(field("length_m", &T::length, Range{0.01, 1000}, kRequired),
                      field("bore_mm", &T::bore, Range{0.5, 200}, kRequired),
                      field("roughness_um", &T::roughness, Range{0, 500}),
                      field("minor_loss", &T::minor_loss, Range{0, 1000}),
                      field("rise_m", &T::rise, Range{-100, 100}),
                      field("flow_L_h", &T::flow, Range{0, 100000}, kRequired),
                      field("temperature_C", &T::temperature, Range{0, 60}));
};
template <>
struct Table<api::TubeOutput> {
  using T = api::TubeOutput;
  static constexpr std::string_view name = "tube_output";
  static constexpr auto list = std::make_tuple(field("velocity_m_s", &T::velocity),
                                               field("reynolds", &T::reynolds),
                                               field("regime", &T::regime),
                                               field("friction_factor", &T::friction_factor),
                                               field("friction_bar", &T::friction),
                                               field("height_bar", &T::height),
                                               field("pressure_bar", &T::pressure));
};

}  // namespace drawoff::fields
