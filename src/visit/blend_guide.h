// How far to turn the blend next, how long to wait, and when it is done.
//
// The valves that it could be (blend_valve.h) are asked what each position within a hand's reach, a
// sixteenth of a turn, would give. Advised is the position that makes it likeliest to be done after
// this wait or the next: of each reading that may come, what the best turn after it would then be
// worth. Positions are approached by opening only, so that the play is taken up alike; to come back
// the valve is turned past and opened again.
//
// Done: the meter reads inside the window, and what is truly in the product lies in it with 80 %
// probability. Where no position is surer than the one that reads inside, as with a meter or a
// valve that is too coarse, it is as near as it can be set, and that is said.
//
// All of it runs to waste until then. No position is advised that exceeds the permitted share of
// raw water with more than 5 % probability, and none is left with more than 1 %. One turn is
// excepted: the least one further while the product still reads below the window (from shut, the
// first), without which nothing more is learnt of a valve.
//
// A valve cannot be set where no position of it lies in the window: sure to 95 %, or, from the
// third wait on, likelier than not. Common practice, no source: every number of this header.
//
//   const BlendGuide g = blend_guide(setting);   // g.standing kTurn: to g.to turns, wait g.wait
#pragma once

#include "inference/predict.h"
#include "visit/blend_valve.h"

namespace drawoff::visit {

enum class BlendStanding {
  kTurn,
  kWait,  // as it stands: it has not shown fully yet
  kDone,
  kNearest,      // reads as wanted and cannot be set surer: this meter, or the valve, is too coarse
  kNoneNeeded,   // the permeate alone holds as much as is wanted
  kOverWithout,  // the permeate alone holds more than is wanted
  kRawTooWeak,   // the raw water holds less than is wanted
  kNotPermitted,   // what is wanted needs more raw water than is permitted
  kTooCoarse,      // no position in between hits the window
  kTooSmall,       // full open lets too little through
  kDoesNotFollow,  // no valve would read like that: it sticks, or something else has changed
  kNotHeld,        // turned again and again, and not done
};

inline constexpr double kFinestTurn = 1.0 / 16;
inline constexpr double kOverShare = 0.05;  // most probability of more raw water than is permitted
inline constexpr double kOverLeft = 0.01;   // the same, of a setting that is left
inline constexpr double kSure = 0.80;       // that the product is as wanted
inline constexpr int kMostWaits = 6;        // more tell that it cannot be held

struct BlendGuide {
  BlendStanding standing = BlendStanding::kTurn;
  // Of kTurn.
  std::optional<double> back_to;  // first turn back to here, then open; from shut
  double to = 0;                  // where the handle then stands [turns from shut]
  double turn = 0;                // last move, from where it stands or from back_to; opening
  bool trial = false;             // the least turn, allowed though it may exceed the share
  // Of kTurn and kWait.
  units::Time wait;
  std::optional<inference::Interval> expected;  // 90 %, of the reading after it, as the meter shows
  // As it stands now.
  std::optional<inference::Interval> product;  // 90 %, true [ppm, half scale]
  std::optional<inference::Interval> share;    // 90 %, of raw water in it
  double inside = 0;                           // probability that the product is as wanted
  double over_share = 0;  // of more raw water than permitted, now or as advised
};

BlendGuide blend_guide(const BlendSetting& setting, std::uint64_t seed = 1);

}  // namespace drawoff::visit
