// Raw water over permeate in the product of one machine, k = Q_b/Q_p, whose valve stays as it is.
//
// An air-charged tank pushes back the fuller it is, and k goes with it: where nothing but the
// supply drives both, it rises, for the membrane feels the back pressure more than the valve does;
// before a pump it falls, for the pump is strong and the supply is not. What is drawn may be any of
// what ran in, so the worst moment of a fill counts and not its mean. Asked are the two ends, empty
// and where the machine stops; that no moment between is forgotten is asked all through a filling
// in tests/statistics/validate_blend_limit.cc.
//
// A valve is set at a sample tee: with an open outlet, or on a tank that was drained (common
// practice, no source).
//
// Check by hand (blend_limit_test.cc): at 0.65 of the feed's pressure a valve keeps √0.35 of its
// flow, a membrane with a tenth of it as osmotic pressure (0.35 − 0.1)/0.9 of its own: k × 2.1.
#pragma once

#include <optional>

#include "machine/ensemble.h"
#include "transients/plant.h"

namespace drawoff::visit {

class BlendRatio {
 public:
  BlendRatio(const machine::MachineEntry& entry, const machine::Specimen& specimen);

  // As it is set; of a tank the least of open outlet and drained. Infinite where raw water runs on
  // alone, 0 where none does.
  double set(const machine::Feed& feed, const machine::Parameters<double>& parameters) const;
  // The most that it comes to between empty and full.
  double most(const machine::Feed& feed, const machine::Parameters<double>& parameters) const;

 private:
  double full(const machine::Feed& feed, const machine::Parameters<double>& parameters) const;

  machine::Machine machine_;
  std::optional<double> empty_;  // [Pa] at the outlet, of an air-charged tank
  transients::Controls controls_;
};

}  // namespace drawoff::visit
