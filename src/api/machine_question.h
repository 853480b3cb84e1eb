// calc machine: how a machine should run, at every test point, with intervals.
// calc accept: the same against readings; what to look at first.
// calc verdict: is reverse osmosis right for this water.
//
// One input for all three: the survey of the water, the plates of the machine, the readings. What
// a question does not need may be absent.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "api/question.h"
#include "visit/start_up.h"
#include "visit/verdict.h"

namespace drawoff::api {

struct MachineInput {
  visit::SurveyEntry survey;
  machine::MachineEntry machine;
  int draws = 400;
  long long seed = 1;
};
struct AcceptInput {
  visit::SurveyEntry survey;
  machine::MachineEntry machine;
  std::vector<visit::ReadingEntry> readings;
  int draws = 400;
  long long seed = 1;
};
struct VerdictInput {
  visit::SurveyEntry survey;
  std::optional<machine::MachineEntry> machine;
  int draws = 400;
  long long seed = 1;
};

// An interval that holds with 90 % probability, and the median.
struct Band {
  double low = 0;
  double middle = 0;
  double high = 0;
  std::string unit;  // key of the unit: "L_h", "bar", "uS_cm", "C", "pct"
};
struct PointBand {
  machine::Point point = machine::Point::kProductQuality;
  Band expected;
};

// The machine with everything at its median: one consistent state, from one solve.
struct MedianRun {
  units::VolumeFlow feed_flow, permeate_flow, reject_flow, blend_flow, product_flow;
  units::Pressure inlet, filtered, membrane, reject, permeate;
  double recovery = 0;
  double permeate_strength = 0;  // relative to the raw water, in charge equivalents
  double product_strength = 0;
  double reject_strength = 0;
  double wall_strength = 0;
  double polarisation = 0;
  units::Velocity flux;
};

// One dissolved species, in every stream of the machine.
struct SpeciesBands {
  std::string species;
  Band raw, permeate, product, reject;
  Band wall;  // at the membrane, near the reject end
};

struct MachineOutput {
  machine::Outcome outcome = machine::Outcome::kRuns;
  double runs = 0;  // share of the equally likely machines that run
  std::vector<PointBand> expected;
  std::optional<Band> recovery;
  std::optional<Band> reduction_ppm;
  std::optional<Band> reduction_mass;
  std::optional<Band> permeate_reduction_mass;
  std::vector<SpeciesBands> species;
  std::optional<Band> permeate_ph, product_ph, reject_ph;
  std::optional<MedianRun> median;
  std::optional<units::Length> blend_gap;  // of the metering valve, of the median machine
  std::vector<std::string> assumed;
};

struct ReadingOutput {
  machine::Point point = machine::Point::kProductQuality;
  double value = 0;
  visit::ReadingUnit unit = visit::ReadingUnit::kPpm;
  std::optional<Band> expected;  // in the unit of the reading
  std::optional<double> probability_below;
  std::optional<inference::Fit> fit;
  std::optional<std::string> set_aside;  // message id
};
struct CauseOutput {
  std::string cause;  // "none": nothing is wrong
  double probability = 0;
  std::vector<std::string> alike;
};
struct AcceptOutput {
  MachineOutput machine;
  visit::StartUpStanding standing = visit::StartUpStanding::kNoReadings;
  std::vector<machine::Point> unread;  // without which it has not passed
  std::optional<double> probability;   // of readings as far off, from a good machine
  std::optional<double> recovery_read, reduction_ppm_read, reduction_mass_read;
  std::vector<ReadingOutput> readings;
  std::vector<CauseOutput> causes;
  std::optional<machine::Point> next_reading;
  std::optional<units::Time> next_reading_time;  // that it takes
};

struct SubstanceOutput {
  std::string substance;
  visit::Evidence evidence = visit::Evidence::kNone;
  bool below = false;  // only seen to be below twice the raw amount
  units::Density raw, raw_high, limit, product_low, product_high;
  visit::LimitKind kind = visit::LimitKind::kHealth;
  visit::LimitConfidence confidence = visit::LimitConfidence::kMemory;
  std::string edition;
  visit::Standing standing = visit::Standing::kBelow;
};
struct ScaleOutput {
  water::Mineral mineral = water::Mineral::kCalcite;
  Band index;
  visit::ScaleGrade low = visit::ScaleGrade::kNone;
  visit::ScaleGrade likely = visit::ScaleGrade::kNone;
  visit::ScaleGrade high = visit::ScaleGrade::kNone;
  visit::ScaleGrade with_antiscalant = visit::ScaleGrade::kNone;
};
struct RejectOutput {
  units::Conductivity conductivity_25;
  visit::Irrigation irrigation = visit::Irrigation::kUnrestricted;
};
struct VerdictOutput {
  visit::Warranted warranted = visit::Warranted::kNo;
  visit::Microbes microbes = visit::Microbes::kNothingSpeaks;
  std::vector<SubstanceOutput> substances;
  std::vector<std::string> not_analysed;
  std::vector<ScaleOutput> scaling;  // at the planned recovery
  std::optional<RejectOutput> reject;
  std::vector<std::string> reasons;  // message ids
  std::vector<std::string> pre_treatment;
  std::vector<std::string> behind;
  std::vector<std::string> cautions;
};

base::Result<MachineOutput> ask_machine(const MachineInput& in, Working& working);
base::Result<AcceptOutput> ask_accept(const AcceptInput& in, Working& working);
base::Result<VerdictOutput> ask_verdict(const VerdictInput& in, Working& working);

// The parts from which a job is put together.
AcceptOutput accept_output(const visit::StartUp& start_up, Working& working, const std::string& at);
VerdictOutput verdict_output(const visit::SourceVerdict& verdict,
                             Working& working,
                             const std::string& at);

// The three numbers of a band, and where they come from.
void explain_band(Working& working,
                  const std::string& at,
                  const Band& band,
                  double draws,
                  std::string_view source);
// An interval of a point, in the unit in which it is given where no reading says otherwise.
Band band_at(machine::Point point, const inference::Interval& interval);
// What every point should show, under `at` + "expected".
std::vector<PointBand> point_bands(std::span<const visit::Expectation> expected,
                                   Working& working,
                                   const std::string& at,
                                   double draws);
// An interval that is in this unit already.
Band band_in_unit(const inference::Interval& interval, visit::ReadingUnit unit);

}  // namespace drawoff::api
