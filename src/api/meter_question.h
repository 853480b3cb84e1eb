// calc meter: the technician's own meter on its standards: is it as bought, what puts it right, and
// is it good enough for the raw water and for the product? And a pressure gauge: for the inlet, for
// the membrane, for a pressure hold?
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "api/machine_question_fields.h"
#include "api/question.h"
#include "visit/meter_verdict.h"

namespace drawoff::api {

// One check, in the order of the input. Plain numbers in `unit`, that of the meter.
struct CheckedStandard {
  std::string on;
  units::Time age;
  bool vouches = true;
  std::string unit;
  double should_show = 0;
  Band error;
  std::optional<Band> error_share;
  std::optional<Band> factor;  // to multiply what it shows by
  std::optional<Band> shift;   // to add to what a pH pen shows
  double bought_for = 0;
  visit::AsBought as_bought = visit::AsBought::kCannotTell;
};

struct MeterPurpose {
  visit::Purpose purpose = visit::Purpose::kRaw;
  visit::MeterVerdict verdict = visit::MeterVerdict::kNotChecked;
  std::string why;
  std::string unit;
  double reading = 0;
  double need = 0;
  std::optional<double> off;
  std::optional<double> left;
  std::optional<Band> factor;  // where it is good with it
  std::optional<Band> shift;
};

struct MeterOutput {
  std::vector<MeterPurpose> purposes;
  std::string need;
  std::vector<std::string> remarks;
  std::vector<std::string> cautions;
  std::vector<CheckedStandard> checks;
};

base::Result<MeterOutput> ask_meter(const visit::CheckedMeter& in,
                                    Working& working,
                                    const messages::Catalogue& words);

}  // namespace drawoff::api

namespace drawoff::fields {

template <>
struct EnumTable<visit::AsBought> {
  static constexpr std::string_view name = "as_bought";
  static constexpr std::array list = {choice(visit::AsBought::kWithin, "within"),
                                      choice(visit::AsBought::kCannotTell, "cannot_tell"),
                                      choice(visit::AsBought::kBeyond, "beyond")};
};
template <>
struct EnumTable<visit::Purpose> {
  static constexpr std::string_view name = "meter_purpose";
  static constexpr std::array list = {choice(visit::Purpose::kRaw, "raw"),
                                      choice(visit::Purpose::kProduct, "product"),
                                      choice(visit::Purpose::kInlet, "inlet"),
                                      choice(visit::Purpose::kMembrane, "membrane"),
                                      choice(visit::Purpose::kHold, "hold")};
};
template <>
struct EnumTable<visit::MeterVerdict> {
  static constexpr std::string_view name = "meter_verdict";
  static constexpr std::array list = {choice(visit::MeterVerdict::kGood, "good"),
                                      choice(visit::MeterVerdict::kGoodCorrected, "good_corrected"),
                                      choice(visit::MeterVerdict::kNotGood, "not_good"),
                                      choice(visit::MeterVerdict::kNotChecked, "not_checked")};
};
template <>
struct Table<api::CheckedStandard> {
  using T = api::CheckedStandard;
  static constexpr std::string_view name = "checked_standard";
  static constexpr auto list = std::make_tuple(field("on", &T::on, kRequired),
                                               field("age_d", &T::age, kRequired),
                                               field("vouches", &T::vouches, kRequired),
                                               field("unit", &T::unit, kRequired),
                                               field("should_show", &T::should_show, kRequired),
                                               field("error", &T::error, kRequired),
                                               field("error_share", &T::error_share),
                                               field("factor", &T::factor),
                                               field("shift", &T::shift),
                                               field("bought_for", &T::bought_for, kRequired),
                                               field("as_bought", &T::as_bought, kRequired));
};
template <>
struct Table<api::MeterPurpose> {
  using T = api::MeterPurpose;
  static constexpr std::string_view name = "meter_purpose";
  static constexpr auto list = std::make_tuple(field("purpose", &T::purpose, kRequired),
                                               field("verdict", &T::verdict, kRequired),
                                               field("why", &T::why, kRequired),
                                               field("unit", &T::unit, kRequired),
                                               field("reading", &T::reading, kRequired),
                                               field("need", &T::need, kRequired),
                                               field("off", &T::off),
                                               field("left", &T::left),
                                               field("factor", &T::factor),
                                               field("shift", &T::shift));
};
template <>
struct Table<api::MeterOutput> {
  using T = api::MeterOutput;
  static constexpr std::string_view name = "meter_output";
  static constexpr auto list = std::make_tuple(field("purposes", &T::purposes, kRequired),
                                               field("need", &T::need, kRequired),
                                               field("remarks", &T::remarks, kRequired),
                                               field("cautions", &T::cautions, kRequired),
                                               field("checks", &T::checks, kRequired));
};

}  // namespace drawoff::fields
