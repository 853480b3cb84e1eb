// The machine's own first-day values: what its readings say of this very unit, beyond its plates.
//
// Plates leave much open: how freely the membrane passes, what the restrictor lets through. Each
// specimen of the ensemble is made by numbers of chance (machine/ensemble.h); the readings of a
// start-up are fitted through them (inference/fit.h), so that whatever was read, of whichever
// points and in whichever states, tells what it can and no more. What it cannot tell apart, say a
// membrane that passes more salt from one that mixes worse, stays uncertain together: known as a
// pair, not each.
//
// First-day values are provisional until a reading at least a day after the first ones: a new
// membrane settles within its first days. Then both days are fitted together, each on its own
// water; of the machine the same numbers of chance made both, of the day each has its own
// (kDayNumbers). A membrane whose running time is known (ElementEntry::run_time) is taken to have
// run on from the one day to the other by the clock; what it loses by settling is among the numbers
// of chance (data/tolerances.csv, settling_*). Settled values stand for as long as the membrane is
// in.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "visit/start_up.h"

namespace drawoff::visit {

// What of a machine is its own.
enum class Own {
  kMembraneFlow,     // water that the membranes pass, at equal pressure
  kMembranePassage,  // salt that they pass
  kMembraneWarmth,   // how much more water they pass for each degree
  kMixing,           // how well the water mixes at the membrane
  kSupplyPressure,   // static
  kSupplyLoss,       // of valve and tube
  kFilterLoss,       // of the filters before the membrane
  kPumpFlow,         // at equal pressure
  kRestrictorFlow,   // at equal pressure
  kDrainLoss,        // of the drain tube
  kBlendFlow,        // of the metering valve, at equal pressure
  kPolishLoss,       // of the filters after the membrane
  kRawStrength,      // of the raw water, against the survey's moved by the day's readings
  kConductivity,     // what a meter shows, against what is computed
};

struct OwnValue {
  Own what = Own::kMembraneFlow;
  // 90 %, as factors: 1 is what plates and the day's water say at their median.
  inference::Interval before;
  inference::Interval after;  // by the readings
  double told = 0;            // share of the variance of its logarithm that the readings took away
};

// Two values that the readings know better together than each: correlation of their logarithms.
struct Together {
  Own first = Own::kMembraneFlow;
  Own second = Own::kMembraneFlow;
  double correlation = 0;
};

enum class FirstDayStanding {
  kFitted,
  kNotThisMachine,  // sound machines of these plates hardly ever read so: find the cause first
  kCannotTell,      // too few machines of these plates run, or the fit does not come to rest
  kNoReadings,      // none that tells of the machine
};

enum class Settling {
  kProvisional,  // nothing was read a day or more after
  kRunIn,        // the membrane had run for a day already
  kSettled,      // read again, a day or more after: a flow, and a quality behind the membrane
  kInPart,       // read again, but not both of these: still provisional
  kNotTogether,  // read again, but no longer as the same machine would: still provisional
};
// From then on what is read tells of a membrane that has settled (common practice, no source).
inline constexpr units::Time kSettledAfter{24 * 3600};

struct FirstDay {
  FirstDayStanding standing = FirstDayStanding::kNoReadings;
  Settling settling = Settling::kProvisional;
  int readings = 0;                   // that were fitted
  int drawn = 0;                      // machines of these plates that run, before the readings
  double probability = 1;             // of readings as far off or farther, from a sound machine
  std::vector<OwnValue> values;       // most told first
  std::vector<Together> together;     // closest first
  std::vector<Expectation> expected;  // every point as built and set, on the first day's water
  std::vector<machine::Specimen> specimens;  // equally likely, given the readings; as they settled
};

// The same machine, read again.
struct ReadAgain {
  StartUp start_up;   // of run_on(entry, after), on its own readings
  units::Time after;  // the first day's readings, at least kSettledAfter
};
// The entry of the machine when its membrane has run so much longer.
machine::MachineEntry run_on(machine::MachineEntry entry, units::Time after);

// `start_up`: of the same entry, sampling and readings. Its judged readings are fitted, and those
// that were read `again`.
FirstDay first_day(const StartUp& start_up,
                   const machine::MachineEntry& entry,
                   const Sampling& sampling,
                   const std::optional<ReadAgain>& again = std::nullopt);

}  // namespace drawoff::visit

namespace drawoff::fields {

template <>
struct EnumTable<visit::Own> {
  static constexpr std::string_view name = "own";
  static constexpr std::array list = {choice(visit::Own::kMembraneFlow, "membrane_flow"),
                                      choice(visit::Own::kMembranePassage, "membrane_passage"),
                                      choice(visit::Own::kMembraneWarmth, "membrane_warmth"),
                                      choice(visit::Own::kMixing, "mixing"),
                                      choice(visit::Own::kSupplyPressure, "supply_pressure"),
                                      choice(visit::Own::kSupplyLoss, "supply_loss"),
                                      choice(visit::Own::kFilterLoss, "filter_loss"),
                                      choice(visit::Own::kPumpFlow, "pump_flow"),
                                      choice(visit::Own::kRestrictorFlow, "restrictor_flow"),
                                      choice(visit::Own::kDrainLoss, "drain_loss"),
                                      choice(visit::Own::kBlendFlow, "blend_flow"),
                                      choice(visit::Own::kPolishLoss, "polish_loss"),
                                      choice(visit::Own::kRawStrength, "raw_strength"),
                                      choice(visit::Own::kConductivity, "conductivity")};
};
template <>
struct EnumTable<visit::Settling> {
  static constexpr std::string_view name = "settling";
  static constexpr std::array list = {choice(visit::Settling::kProvisional, "provisional"),
                                      choice(visit::Settling::kRunIn, "run_in"),
                                      choice(visit::Settling::kSettled, "settled"),
                                      choice(visit::Settling::kInPart, "in_part"),
                                      choice(visit::Settling::kNotTogether, "not_together")};
};
template <>
struct EnumTable<visit::FirstDayStanding> {
  static constexpr std::string_view name = "first_day_standing";
  static constexpr std::array list = {
      choice(visit::FirstDayStanding::kFitted, "fitted"),
      choice(visit::FirstDayStanding::kNotThisMachine, "not_this_machine"),
      choice(visit::FirstDayStanding::kCannotTell, "cannot_tell"),
      choice(visit::FirstDayStanding::kNoReadings, "no_readings")};
};

}  // namespace drawoff::fields
