// Judged start-up: how the machine should run on this water today, whether the readings fit, and
// what to look at first where they do not.
//
// Every expectation is an interval from the ensemble of machines that the plates could be, for the
// state in which the reading was taken. Readings of temperature and raw water set the day's water;
// the rest are judged. Reduction by ppm is what a pen shows; reduction by mass is what the water
// holds: the two differ, since raw and product have different ppm factors.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "base/message.h"
#include "inference/causes.h"
#include "inference/predict.h"
#include "machine/ensemble.h"
#include "machine/streams.h"
#include "plumbing/gap.h"
#include "transients/fill.h"
#include "visit/reading.h"
#include "visit/survey.h"
#include "visit/verdict.h"

namespace drawoff::visit {

// Fewer draws than this say too little about the ends of an interval.
inline constexpr std::size_t kLeastDraws = 50;

struct Sampling {
  int draws = 400;
  std::uint64_t seed = 1;
};

struct Expectation {
  machine::Point point;
  inference::Interval expected;  // 90 %, SI
};

// 90 % interval of what equally likely machines give, NaN for none; nothing where too few give any.
std::optional<inference::Interval> expected_of(std::vector<double> draws);

// What a reading not yet taken would show.
struct Forecast {
  ReadingEntry like;             // where, with what, in which state; its value says nothing
  std::vector<double> likely;    // equally likely true values, sorted, in the unit of the reading
  inference::Interval expected;  // 90 %, of a reading with that instrument
};

struct JudgedReading {
  std::size_t index = 0;  // among the readings given
  ReadingEntry reading;
  std::optional<inference::Judgement> judgement;  // in the unit of the reading; none if set aside
  std::optional<base::Message> set_aside;         // why it was not judged
};

// What the low-pressure switch does with the machines that the plates could be.
struct LowSwitchForecast {
  double holds = 0;                        // share that never starts
  double hunts = 0;                        // share that stops and starts again and again
  std::optional<transients::Cycle> cycle;  // of the median machine, if that hunts
};

enum class StartUpStanding {
  kAsExpected,  // as a good machine reads
  kRemarks,     // one far outside, more a little outside than by chance, or another raw water
  kNotYet,      // together, a good machine reads so in fewer than one visit of twenty
  kNoReadings,
  kCannotRun,  // the machine as described does not run, or must not
};

struct StartUp {
  machine::Outcome outcome = machine::Outcome::kRuns;
  double runs_share = 1;           // of the specimens that run
  double over_pressure_share = 0;  // of those, with a housing beyond its rating
  LowSwitchForecast low_switch;
  bool raw_differs = false;      // the raw water is not the one that was surveyed
  machine::RawWater raw;         // of the day
  inference::Interval surveyed;  // its conductivity at 25 °C by the survey alone [S/m]: 90 %
  machine::OperatingPoint<double> median;  // the machine with everything at its median
  machine::Machine median_machine;         // that machine, as built
  units::Temperature median_temperature;
  std::vector<Expectation> expected;            // every point, as built and set
  inference::Interval recovery;                 // share
  inference::Interval reduction_ppm;            // share, raw to product, as a pen shows it
  inference::Interval reduction_mass;           // share, of dissolved solids by mass
  inference::Interval permeate_reduction_mass;  // the same before the blend
  std::vector<Forecast> forecasts;              // of what was asked; none if it cannot be said
  std::vector<JudgedReading> readings;
  // That a good machine's readings of this visit lie as far off or farther.
  double probability = 1;
  StartUpStanding standing = StartUpStanding::kNoReadings;
  std::vector<machine::Point> unread;        // as unread_of() has it, of what was judged
  inference::Ranking causes;                 // empty without readings
  std::optional<machine::Point> next_point;  // of the next reading worth taking
  std::vector<machine::Streams> streams;     // one per specimen that runs
  std::vector<std::string> assumed;          // plate values that were not given
};

// What no machine passes without, and was not read: flow and quality of the product (behind the
// blend or before it). Common practice, no source.
std::vector<machine::Point> unread_of(std::span<const ReadingEntry> readings);

// Fails only where the element's plate contradicts itself. `asked`: readings to forecast. `own`:
// the machine as its first days left it (visit/first_day.h), against which it is judged in place of
// its plates; what belongs to the day is drawn anew.
base::Result<StartUp> judge_start_up(const SurveyEntry& survey,
                                     const machine::MachineEntry& entry,
                                     std::span<const ReadingEntry> readings,
                                     const Sampling& sampling,
                                     std::span<const ReadingEntry> asked = {},
                                     std::span<const machine::Specimen> own = {});

// How fine the metering valve stands in the median machine; none where no blend runs.
std::optional<plumbing::GapStanding> blend_gap(const StartUp& start_up);
// A caution where that is too fine to hold.
std::optional<base::Message> blend_caution(const StartUp& start_up);

// A caution where the pump gets more than a tenth less than the voltage on its plate, if both are
// known: common practice, no source.
std::optional<base::Message> voltage_caution(const machine::MachineEntry& entry);

// The water of the day, and what each specimen that runs makes of it.
JudgedWater judged_water(const SurveyedWater& surveyed,
                         const machine::MachineEntry& entry,
                         const StartUp& start_up);

// The part of the machine that a cause sits in: "supply", "filters", "pump", "membrane",
// "restrictor", "drain", "blend", "polish" or "vessel"; empty for a cause that names none.
std::string_view part_of_cause(std::string_view cause);

// One reading against a forecast's likely values: what judge_start_up() says of it, at once.
inference::Judgement judge_reading(std::span<const double> likely, const ReadingEntry& reading);

}  // namespace drawoff::visit
