// Screen first_glass: what a machine's water is like after it stood, in words and as a curve to
// draw. It asks the question rest (rest_question.h) of the machine as its plates say it is.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "api/curve.h"
#include "api/form_screen.h"
#include "api/question.h"
#include "book/site_file.h"

namespace drawoff::api {

enum class RestLength { kMinutes, kHour, kNight, kWeekend };

struct FirstGlassInput {
  book::Body site_file;
  fields::UnitSystem units = fields::UnitSystem::kMetric;
  RestLength rest = RestLength::kNight;
};

struct RestChoiceOutput {
  RestLength value = RestLength::kNight;
  std::string label;
};
struct FirstGlassOutput {
  std::vector<RestChoiceOutput> choices;
  std::string headline;
  std::vector<std::string> first;  // sentences about the first water
  std::vector<std::string> blend;  // and about the blend while the machine stands
  // What a pen shows against the water drawn: the machine with everything at its median.
  std::optional<CurveOutput> curve;
};

base::Result<FirstGlassOutput> ask_first_glass(const FirstGlassInput& in,
                                               Working& working,
                                               const messages::Catalogue& words);

}  // namespace drawoff::api

namespace drawoff::fields {

template <>
struct EnumTable<api::RestLength> {
  static constexpr std::string_view name = "rest_length";
  static constexpr std::array list = {choice(api::RestLength::kMinutes, "minutes"),
                                      choice(api::RestLength::kHour, "hour"),
                                      choice(api::RestLength::kNight, "night"),
                                      choice(api::RestLength::kWeekend, "weekend")};
};
template <>
struct Table<api::FirstGlassInput> {
  using T = api::FirstGlassInput;
  static constexpr std::string_view name = "first_glass_input";
  static constexpr auto list = std::make_tuple(field("site_file", &T::site_file, kRequired),
                                               field("units", &T::units),
                                               field("rest", &T::rest));
};
template <>
struct Table<api::RestChoiceOutput> {
  using T = api::RestChoiceOutput;
  static constexpr std::string_view name = "rest_choice";
  static constexpr auto list =
      std::make_tuple(field("value", &T::value, kRequired), field("label", &T::label, kRequired));
};
template <>
struct Table<api::FirstGlassOutput> {
  using T = api::FirstGlassOutput;
  static constexpr std::string_view name = "first_glass_output";
  static constexpr auto list =
      std::make_tuple(field("choices", &T::choices, kRequired),
                      field("headline", &T::headline, kRequired),
                      field("first", &T::first, kRequired),
                      field("blend", &T::blend, kRequired),
                      field("curve", &T::curve, kRequired, kNullWhenAbsent));
};

}  // namespace drawoff::fields
