// The field tables of machine_question.h.
#pragma once

#include "api/machine_question.h"

namespace drawoff::fields {

template <>
struct EnumTable<machine::Outcome> {
  static constexpr std::string_view name = "outcome";
  static constexpr std::array list = {
      choice(machine::Outcome::kRuns, "runs"),
      choice(machine::Outcome::kNothingFlows, "nothing_flows"),
      choice(machine::Outcome::kNoProduct, "no_product"),
      choice(machine::Outcome::kStarvesPump, "starves_pump"),
      choice(machine::Outcome::kOverConcentrates, "over_concentrates"),
      choice(machine::Outcome::kOverPressure, "over_pressure"),
      choice(machine::Outcome::kNotSolved, "not_solved")};
};
template <>
struct EnumTable<inference::Fit> {
  static constexpr std::string_view name = "fit";
  static constexpr std::array list = {choice(inference::Fit::kAsExpected, "as_expected"),
                                      choice(inference::Fit::kALittleLow, "a_little_low"),
                                      choice(inference::Fit::kALittleHigh, "a_little_high"),
                                      choice(inference::Fit::kLow, "low"),
                                      choice(inference::Fit::kHigh, "high")};
};
template <>
struct EnumTable<visit::StartUpStanding> {
  static constexpr std::string_view name = "standing";
  static constexpr std::array list = {choice(visit::StartUpStanding::kAsExpected, "as_expected"),
                                      choice(visit::StartUpStanding::kRemarks, "remarks"),
                                      choice(visit::StartUpStanding::kNotYet, "not_yet"),
                                      choice(visit::StartUpStanding::kNoReadings, "no_readings"),
                                      choice(visit::StartUpStanding::kCannotRun, "cannot_run")};
};
template <>
struct EnumTable<visit::Warranted> {
  static constexpr std::string_view name = "warranted";
  static constexpr std::array list = {choice(visit::Warranted::kDisinfectFirst, "disinfect_first"),
                                      choice(visit::Warranted::kCannotSay, "cannot_say"),
                                      choice(visit::Warranted::kNear, "near"),
                                      choice(visit::Warranted::kYes, "yes"),
                                      choice(visit::Warranted::kPartly, "partly"),
                                      choice(visit::Warranted::kNotEnough, "not_enough"),
                                      choice(visit::Warranted::kTaste, "taste"),
                                      choice(visit::Warranted::kNo, "no")};
};
template <>
struct EnumTable<visit::Standing> {
  static constexpr std::string_view name = "substance_standing";
  static constexpr std::array list = {choice(visit::Standing::kBelow, "below"),
                                      choice(visit::Standing::kNearLimit, "near_limit"),
                                      choice(visit::Standing::kNotSeen, "not_seen"),
                                      choice(visit::Standing::kBroughtBelow, "brought_below"),
                                      choice(visit::Standing::kDoubtful, "doubtful"),
                                      choice(visit::Standing::kStaysAbove, "stays_above")};
};
template <>
struct EnumTable<visit::Evidence> {
  static constexpr std::string_view name = "evidence";
  static constexpr std::array list = {choice(visit::Evidence::kLaboratory, "laboratory"),
                                      choice(visit::Evidence::kSupplier, "supplier"),
                                      choice(visit::Evidence::kStrip, "strip"),
                                      choice(visit::Evidence::kLocal, "local"),
                                      choice(visit::Evidence::kNone, "none")};
};
template <>
struct EnumTable<visit::Microbes> {
  static constexpr std::string_view name = "microbes";
  static constexpr std::array list = {choice(visit::Microbes::kFound, "found"),
                                      choice(visit::Microbes::kControlled, "controlled"),
                                      choice(visit::Microbes::kClearSample, "clear_sample"),
                                      choice(visit::Microbes::kBarrier, "barrier"),
                                      choice(visit::Microbes::kOldSample, "old_sample"),
                                      choice(visit::Microbes::kNothingSpeaks, "nothing_speaks")};
};
template <>
struct EnumTable<visit::LimitConfidence> {
  static constexpr std::string_view name = "limit_confidence";
  static constexpr std::array list = {choice(visit::LimitConfidence::kRead, "read"),
                                      choice(visit::LimitConfidence::kSecondHand, "second_hand"),
                                      choice(visit::LimitConfidence::kMemory, "memory"),
                                      choice(visit::LimitConfidence::kEntered, "entered")};
};

template <>
struct Table<api::MachineInput> {
  using T = api::MachineInput;
  static constexpr std::string_view name = "machine_input";
  static constexpr auto list =
      std::make_tuple(field("survey", &T::survey),
                      field("machine", &T::machine),
                      field("draws", &T::draws, Range{100, 2000}, kNotAsked),
                      field("seed", &T::seed, at_least(0), kNotAsked));
};
template <>
struct Table<api::AcceptInput> {
  using T = api::AcceptInput;
  static constexpr std::string_view name = "accept_input";
  static constexpr auto list =
      std::make_tuple(field("survey", &T::survey),
                      field("machine", &T::machine),
                      field("readings", &T::readings, Range{1, 60}, kRequired),
                      field("draws", &T::draws, Range{100, 2000}, kNotAsked),
                      field("seed", &T::seed, at_least(0), kNotAsked));
};
template <>
struct Table<api::VerdictInput> {
  using T = api::VerdictInput;
  static constexpr std::string_view name = "verdict_input";
  static constexpr auto list =
      std::make_tuple(field("survey", &T::survey),
                      field("machine", &T::machine),
                      field("draws", &T::draws, Range{100, 2000}, kNotAsked),
                      field("seed", &T::seed, at_least(0), kNotAsked));
};

template <>
struct Table<api::Band> {
  using T = api::Band;
  static constexpr std::string_view name = "band";
  static constexpr auto list = std::make_tuple(field("low", &T::low),
                                               field("middle", &T::middle),
                                               field("high", &T::high),
                                               field("unit", &T::unit));
};
template <>
struct Table<api::PointBand> {
  using T = api::PointBand;
  static constexpr std::string_view name = "point_band";
  static constexpr auto list =
      std::make_tuple(field("point", &T::point), field("expected", &T::expected));
};
template <>
struct Table<api::MedianRun> {
  using T = api::MedianRun;
  static constexpr std::string_view name = "median_run";
  static constexpr auto list =
      std::make_tuple(field("feed_flow_L_h", &T::feed_flow),
                      field("permeate_flow_L_h", &T::permeate_flow),
                      field("reject_flow_L_h", &T::reject_flow),
                      field("blend_flow_L_h", &T::blend_flow),
                      field("product_flow_L_h", &T::product_flow),
                      field("inlet_pressure_bar", &T::inlet),
                      field("filtered_pressure_bar", &T::filtered),
                      field("membrane_pressure_bar", &T::membrane),
                      field("reject_pressure_bar", &T::reject),
                      field("permeate_pressure_bar", &T::permeate),
                      field("recovery_pct", &T::recovery),
                      field("permeate_strength_pct", &T::permeate_strength),
                      field("product_strength_pct", &T::product_strength),
                      field("reject_strength_pct", &T::reject_strength),
                      field("wall_strength_pct", &T::wall_strength),
                      field("polarisation", &T::polarisation),
                      field("flux_L_m2_h", &T::flux));
};
template <>
struct Table<api::SpeciesBands> {
  using T = api::SpeciesBands;
  static constexpr std::string_view name = "species_bands";
  static constexpr auto list = std::make_tuple(field("species", &T::species),
                                               field("raw", &T::raw),
                                               field("permeate", &T::permeate),
                                               field("product", &T::product),
                                               field("reject", &T::reject),
                                               field("wall", &T::wall));
};
template <>
struct Table<api::MachineOutput> {
  using T = api::MachineOutput;
  static constexpr std::string_view name = "machine_output";
  static constexpr auto list = std::make_tuple(
      field("outcome", &T::outcome),
      field("runs_pct", &T::runs),
      field("expected", &T::expected),
      field("recovery", &T::recovery, kNullWhenAbsent),
      field("reduction_ppm", &T::reduction_ppm, kNullWhenAbsent),
      field("reduction_mass", &T::reduction_mass, kNullWhenAbsent),
      field("permeate_reduction_mass", &T::permeate_reduction_mass, kNullWhenAbsent),
      field("species", &T::species),
      field("permeate_pH", &T::permeate_ph, kNullWhenAbsent),
      field("product_pH", &T::product_ph, kNullWhenAbsent),
      field("reject_pH", &T::reject_ph, kNullWhenAbsent),
      field("median", &T::median, kNullWhenAbsent),
      field("blend_gap_um", &T::blend_gap, kNullWhenAbsent),
      field("assumed", &T::assumed));
};
template <>
struct Table<api::ReadingOutput> {
  using T = api::ReadingOutput;
  static constexpr std::string_view name = "reading_output";
  static constexpr auto list =
      std::make_tuple(field("point", &T::point),
                      field("value", &T::value),
                      field("unit", &T::unit),
                      field("expected", &T::expected, kNullWhenAbsent),
                      field("probability_below_pct", &T::probability_below, kNullWhenAbsent),
                      field("fit", &T::fit, kNullWhenAbsent),
                      field("set_aside", &T::set_aside, kNullWhenAbsent));
};
template <>
struct Table<api::CauseOutput> {
  using T = api::CauseOutput;
  static constexpr std::string_view name = "cause_output";
  static constexpr auto list = std::make_tuple(field("cause", &T::cause),
                                               field("probability_pct", &T::probability),
                                               field("alike", &T::alike));
};
template <>
struct Table<api::AcceptOutput> {
  using T = api::AcceptOutput;
  static constexpr std::string_view name = "accept_output";
  static constexpr auto list =
      std::make_tuple(field("machine", &T::machine),
                      field("standing", &T::standing),
                      field("unread", &T::unread),
                      field("probability_pct", &T::probability, kNullWhenAbsent),
                      field("recovery_read_pct", &T::recovery_read, kNullWhenAbsent),
                      field("reduction_ppm_read_pct", &T::reduction_ppm_read, kNullWhenAbsent),
                      field("reduction_mass_read_pct", &T::reduction_mass_read, kNullWhenAbsent),
                      field("readings", &T::readings),
                      field("causes", &T::causes),
                      field("next_reading", &T::next_reading, kNullWhenAbsent),
                      field("next_reading_min", &T::next_reading_time, kNullWhenAbsent));
};
template <>
struct Table<api::SubstanceOutput> {
  using T = api::SubstanceOutput;
  static constexpr std::string_view name = "substance_output";
  static constexpr auto list = std::make_tuple(field("substance", &T::substance),
                                               field("evidence", &T::evidence),
                                               field("raw_mg_L", &T::raw),
                                               field("below", &T::below),
                                               field("raw_high_mg_L", &T::raw_high),
                                               field("limit_mg_L", &T::limit),
                                               field("product_low_mg_L", &T::product_low),
                                               field("product_high_mg_L", &T::product_high),
                                               field("kind", &T::kind),
                                               field("edition", &T::edition),
                                               field("confidence", &T::confidence),
                                               field("standing", &T::standing));
};
template <>
struct Table<api::ScaleOutput> {
  using T = api::ScaleOutput;
  static constexpr std::string_view name = "scale_output";
  static constexpr auto list = std::make_tuple(field("mineral", &T::mineral),
                                               field("index", &T::index),
                                               field("low", &T::low),
                                               field("likely", &T::likely),
                                               field("high", &T::high),
                                               field("with_antiscalant", &T::with_antiscalant));
};
template <>
struct Table<api::RejectOutput> {
  using T = api::RejectOutput;
  static constexpr std::string_view name = "reject_output";
  static constexpr auto list = std::make_tuple(field("conductivity_25_uS_cm", &T::conductivity_25),
                                               field("irrigation", &T::irrigation));
};
template <>
struct Table<api::VerdictOutput> {
  using T = api::VerdictOutput;
  static constexpr std::string_view name = "verdict_output";
  static constexpr auto list = std::make_tuple(field("warranted", &T::warranted),
                                               field("microbes", &T::microbes),
                                               field("substances", &T::substances),
                                               field("not_analysed", &T::not_analysed),
                                               field("scaling", &T::scaling),
                                               field("reject", &T::reject, kNullWhenAbsent),
                                               field("reasons", &T::reasons),
                                               field("pre_treatment", &T::pre_treatment),
                                               field("behind", &T::behind),
                                               field("cautions", &T::cautions));
};
}  // namespace drawoff::fields
