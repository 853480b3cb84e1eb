// How much raw water may be in the product, at any time until the next visit.
//
// A share s of raw water beside what passes the membranes brings the substance's concentration to
//
//   c = p + s (r − p)          s_most = (L − p)/(r − p) where r > L, else 1
//
//   r  in the raw water, 95 % point, as strong as it gets over year and sources   [kg/m³]
//   p  in the permeate, 95 % point, of water as strong                            [kg/m³]
//   L  the limit that holds here                                                  [kg/m³]
//
// and the least over all substances counts. Nitrate and nitrite act alike: their shares of their
// limits add up (WHO, EU). A health limit's substance of which nothing is known allows none, unless
// the local profile names an upper value; nor does a water with faecal indicators, ever.
//
// A valve that stays as it stands does not keep the share. What it lets through over the permeate,
// k = s/(1 − s), goes with the water's warmth, the supply, the membranes' age and how full a tank
// is (blend_ratio.h); drift() asks the machines that the plates could be, at all corners of that.
// Today's k may be the permitted one over the drift.
//
// Checks: r 100, p 10, L 50 -> 0.444; with a drift of 1.6 today 1/3.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "machine/ensemble.h"
#include "machine/streams.h"
#include "visit/verdict.h"

namespace drawoff::visit {

enum class BlendBound {
  kNone,       // nothing in the raw water is over its limit
  kSubstance,  // named
  kUnknown,    // nobody knows a substance that has a health limit
  kFaecal,
};

struct HighestShare {
  BlendBound bound = BlendBound::kNone;
  double ever = 1;                   // of raw water in the product
  double today = 1;                  // the same, so that it holds until the next visit
  std::string substance;             // that binds, "" if none
  std::vector<std::string> unknown;  // with a health limit
};

// The verdict must be one on the permeate (water_behind_membranes).
HighestShare highest_share(const SurveyEntry& survey, const SourceVerdict& verdict, double drift);

// Of one substance.
double share_below(units::Density limit, units::Density raw, units::Density permeate);
// k = s/(1 − s) over the drift, as a share again.
double today_of(double share, double drift);

// The judged water of the machines' permeates; of a usual unit's where `streams` is empty.
JudgedWater water_behind_membranes(const SurveyedWater& surveyed,
                                   const water::Composition& day,
                                   const std::vector<machine::Streams>& streams);

// What may come until the next visit.
struct Until {
  units::Temperature coldest;
  units::Temperature hottest;
  units::Pressure lowest;  // supply
  units::Pressure highest;
  double ageing = 0.8;  // of the membranes' permeability that is left (common practice, no source)
};

// Where no machine is known (common practice, no source).
inline constexpr double kUsualDrift = 2;

// Factor by which k may rise from what is set at a sample tee: 95 % point of the machines at the
// worst corner, at least 1. None where too few of them run with the valve open.
std::optional<double> drift(const machine::MachineEntry& entry,
                            const machine::RawWater& raw,
                            const Until& until,
                            std::uint64_t seed,
                            int draws);

// Flow of the valve full open over that of the permeate, in the machine with everything at its
// median, as if the valve were linear: the K of blend_valve.h. None where that does not run.
std::optional<double> capacity_by_plates(const machine::MachineEntry& entry,
                                         const machine::RawWater& raw);

}  // namespace drawoff::visit
