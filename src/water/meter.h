// What a pocket meter shows.
//
// A pen measures conductivity, brings it to 25 °C and multiplies by its maker's factor: the "ppm"
// on its display is that product and never a mass concentration. A reading is kept and shown as
// the instrument showed it; this header goes between the display and the conductivity.
//
//   Meter pen{MeterScale::kHalf};
//   double display = shown(microsiemens_per_cm(1000), pen);   // 500 ppm
#pragma once

#include "base/check.h"
#include "units/quantity.h"

namespace drawoff::water {

enum class MeterScale {
  kMicrosiemens,  // shows µS/cm at 25 °C: factor 1
  kHalf,          // ppm = 0.5 · µS/cm
  kSevenTenths,   // ppm = 0.7 · µS/cm
  kCalibrated,    // a factor found by calibration
};

struct Meter {
  MeterScale scale = MeterScale::kHalf;
  double calibrated_factor = 0.5;  // [ppm per µS/cm], used by kCalibrated alone
};

// Factors 0.5 and 0.7: common practice, no source.
constexpr double meter_factor(const Meter& meter) {
  switch (meter.scale) {
    case MeterScale::kMicrosiemens:
      return 1.0;
    case MeterScale::kHalf:
      return 0.5;
    case MeterScale::kSevenTenths:
      return 0.7;
    case MeterScale::kCalibrated:
      return meter.calibrated_factor;
  }
  return 1.0;
}

// Number on the display [ppm of the meter's scale, or µS/cm] for a conductivity at 25 °C.
// Check: 1000 µS/cm on the 0.7 scale -> 700.
template <class Rep>
Rep shown(const units::Quantity<units::dim::Conductivity, Rep>& conductivity_25,
          const Meter& meter) {
  return conductivity_25.si() * Rep(meter_factor(meter) / units::microsiemens_per_cm(1).si());
}

// The way back: conductivity at 25 °C [S/m] behind a number on the display.
inline units::Conductivity conductivity_25_from(double display, const Meter& meter) {
  const double factor = meter_factor(meter);
  CHECK(factor > 0);
  return units::microsiemens_per_cm(display / factor);
}

}  // namespace drawoff::water
