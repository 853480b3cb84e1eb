// The parameters of a machine: everything about it that a draw, a fault, a fit or a what-if moves.
//
// A Machine says what the unit is; a Parameters vector says how this one differs from it: factors
// of 1 and offsets of 0 leave it as it is. One vector serves uncertainty (draws), derivatives
// (a Dual per entry), hypotheses ("the restrictor lets twice as much through") and later fits, so
// that all of them ask the one model.
#pragma once

#include <array>
#include <cstddef>

namespace drawoff::machine {

enum class Parameter {
  kSupplyPressure,       // × static pressure of the supply
  kTemperature,          // + [K]
  kFeedSalt,             // × strength of the raw water
  kWaterPermeability,    // × A of every element
  kSaltPermeability,     // × B of every element
  kMassTransfer,         // × k in every element
  kChannelFriction,      // × friction in every element
  kLeak,                 // + bypass of the seals, as a share of the water permeability
  kRestrictorFlow,       // × flow of the restrictor at a given pressure
  kPumpFlow,             // × flow of the pump at a given pressure
  kPreFilterLoss,        // × pressure taken by the filters before the membrane
  kSupplyLoss,           // × pressure taken by valve and tube from the supply
  kBlendFlow,            // × flow of the metering valve at a given pressure
  kPostFilterLoss,       // × pressure taken by the filters after the membrane
  kProductBackPressure,  // + [Pa] at the product's outlet
  kDrainLoss,            // × pressure taken by the drain tube
  kCount
};

// Whether nothing of it is 0 (an offset) rather than 1 (a factor).
constexpr bool is_offset(Parameter p) {
  return p == Parameter::kTemperature || p == Parameter::kLeak ||
         p == Parameter::kProductBackPressure;
}

inline constexpr std::size_t kParameterCount = static_cast<std::size_t>(Parameter::kCount);

template <class S>
class Parameters {
 public:
  // The machine exactly as described.
  Parameters() {
    for (std::size_t i = 0; i < kParameterCount; ++i) {
      values_[i] = S(is_offset(static_cast<Parameter>(i)) ? 0.0 : 1.0);
    }
  }
  S& operator[](Parameter p) { return values_[static_cast<std::size_t>(p)]; }
  const S& operator[](Parameter p) const { return values_[static_cast<std::size_t>(p)]; }
  S& operator[](std::size_t i) { return values_[i]; }
  const S& operator[](std::size_t i) const { return values_[i]; }

 private:
  std::array<S, kParameterCount> values_{};
};

}  // namespace drawoff::machine
