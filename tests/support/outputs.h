// The numbers of an operating point by name, so that a test can run over all of them.
#pragma once

#include <string_view>

#include "machine/operating_point.h"

namespace drawoff::support {

template <class S>
struct Output {
  std::string_view name;
  S machine::OperatingPoint<S>::*member;
};

template <class S>
inline constexpr Output<S> kOutputsOf[] = {
    {"supply_flow", &machine::OperatingPoint<S>::supply_flow},
    {"feed_flow", &machine::OperatingPoint<S>::feed_flow},
    {"permeate_flow", &machine::OperatingPoint<S>::permeate_flow},
    {"reject_flow", &machine::OperatingPoint<S>::reject_flow},
    {"recirculation_flow", &machine::OperatingPoint<S>::recirculation_flow},
    {"drain_flow", &machine::OperatingPoint<S>::drain_flow},
    {"blend_flow", &machine::OperatingPoint<S>::blend_flow},
    {"product_flow", &machine::OperatingPoint<S>::product_flow},
    {"unit_inlet_pressure", &machine::OperatingPoint<S>::unit_inlet_pressure},
    {"filtered_pressure", &machine::OperatingPoint<S>::filtered_pressure},
    {"membrane_pressure", &machine::OperatingPoint<S>::membrane_pressure},
    {"reject_pressure", &machine::OperatingPoint<S>::reject_pressure},
    {"permeate_pressure", &machine::OperatingPoint<S>::permeate_pressure},
    {"tee_pressure", &machine::OperatingPoint<S>::tee_pressure},
    {"raw_salt", &machine::OperatingPoint<S>::raw_salt},
    {"feed_salt", &machine::OperatingPoint<S>::feed_salt},
    {"permeate_salt", &machine::OperatingPoint<S>::permeate_salt},
    {"reject_salt", &machine::OperatingPoint<S>::reject_salt},
    {"blend_salt", &machine::OperatingPoint<S>::blend_salt},
    {"product_salt", &machine::OperatingPoint<S>::product_salt},
    {"wall_salt", &machine::OperatingPoint<S>::wall_salt},
    {"polarisation", &machine::OperatingPoint<S>::polarisation},
    {"flux", &machine::OperatingPoint<S>::flux},
    {"recovery", &machine::OperatingPoint<S>::recovery},
};
inline constexpr auto& kOutputs = kOutputsOf<double>;

}  // namespace drawoff::support
