// Test points and test conditions: what an instrument would read, where, in which state.
//
// A prediction is made for the state in which the reading was taken. A jug on the bench stands
// lower and at no pressure, so more product comes than into a full tank; with the blend shut the
// product is the permeate.
#pragma once

#include <array>
#include <string_view>

#include "machine/ensemble.h"
#include "machine/operating_point.h"

namespace drawoff::machine {

enum class Point {
  kInletPressure,     // after the stop valve, running
  kFilteredPressure,  // after the filters, before the pump
  kMembranePressure,  // at the membrane
  kRejectPressure,    // before the restrictor
  kProductFlow,
  kRejectFlow,
  kRawQuality,       // conductivity at 25 °C
  kPermeateQuality,  // before the blend tee
  kProductQuality,   // behind it
  kRejectQuality,
  kTemperature,  // of the raw water
  kCount
};
inline constexpr int kPointCount = static_cast<int>(Point::kCount);

// What is measured there, in SI: Pa, m³/s, S/m at 25 °C, K.
enum class PointKind { kPressure, kFlow, kQuality, kTemperature };
constexpr PointKind kind_of(Point p) {
  if (p <= Point::kRejectPressure) return PointKind::kPressure;
  if (p <= Point::kRejectFlow) return PointKind::kFlow;
  if (p <= Point::kRejectQuality) return PointKind::kQuality;
  return PointKind::kTemperature;
}

enum class BlendState { kAsSet, kShut };
enum class PumpState { kOn, kOff };
enum class FlushState { kShut, kOpen };

struct Condition {
  std::optional<ProductVessel> product_to;  // as built if absent
  std::optional<units::Length> height;      // of the outlet above the unit; as built if absent
  std::optional<units::Pressure> vessel_pressure;
  BlendState blend = BlendState::kAsSet;
  PumpState pump = PumpState::kOn;
  std::optional<FlushState> flush_valve;  // shut if absent
  std::optional<units::Time> since_start;
  std::optional<units::Time> rest_before;
  bool operator==(const Condition&) const = default;
};

// The machine in that state.
Machine in_condition(Machine machine, const Condition& condition);

// SI values by point; NaN where the machine gives none (no product: no product quality).
using PointValues = std::array<double, kPointCount>;
PointValues values_at(const Specimen& specimen, const Feed& feed, const Condition& condition);

// How long after a start a reading of the product is that of the running machine: three changes
// of the water held in membranes and polish filters, and one of the tube. [s]
//   t = 3 V_mixed/Q + V_tube/Q          (95 % of a step through a mixed volume is 3 V/Q)
units::Time settled_after(const MachineEntry& entry, units::VolumeFlow product_flow);

}  // namespace drawoff::machine
