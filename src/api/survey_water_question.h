// calc survey-water: the make-up, with intervals, of a water that is known only in part.
//
// The readings (visit/known_water.h) are asked of 64 equally likely whole waters
// (water/half_known.h). Each quantity comes with the 90 % interval over them. A reading that no
// likely water explains is doubted, with what the others would have let expect there. `members`
// asks for the waters themselves, each as `calc water` takes it.
#pragma once

#include <string>
#include <tuple>
#include <vector>

#include "api/machine_question_fields.h"
#include "api/question.h"
#include "visit/known_water.h"
#include "water/analysis_entry.h"

namespace drawoff::api {

struct SurveyWaterInput {
  visit::KnownWaterEntry water;
  bool members = false;
  long long seed = 1;
};

struct LikelyAmount {
  std::string of;  // key of a species, or the name of another quantity
  Band likely;
};

struct ReadingAgainstWater {
  std::string of;
  Band likely;
  bool fits = true;
};

struct SurveyWaterOutput {
  std::vector<LikelyAmount> water;
  std::vector<LikelyAmount> species;
  std::vector<LikelyAmount> saturation_index;
  std::vector<ReadingAgainstWater> readings;
  std::vector<std::string> doubts;  // sentences
  std::vector<water::AnalysisEntry> members;
};

base::Result<SurveyWaterOutput> ask_survey_water(const SurveyWaterInput& in,
                                                 Working& working,
                                                 const messages::Catalogue& words);

// The analysis that would find this water.
water::AnalysisEntry analysis_entry_of(const water::Speciation& water);

}  // namespace drawoff::api

namespace drawoff::fields {

template <>
struct Table<api::SurveyWaterInput> {
  using T = api::SurveyWaterInput;
  static constexpr std::string_view name = "survey_water_input";
  static constexpr auto list = std::make_tuple(field("water", &T::water, kRequired),
                                               field("members", &T::members, kNotAsked),
                                               field("seed", &T::seed, at_least(0), kNotAsked));
};
template <>
struct Table<api::LikelyAmount> {
  using T = api::LikelyAmount;
  static constexpr std::string_view name = "likely_amount";
  static constexpr auto list = std::make_tuple(field("of", &T::of), field("likely", &T::likely));
};
template <>
struct Table<api::ReadingAgainstWater> {
  using T = api::ReadingAgainstWater;
  static constexpr std::string_view name = "reading_against_water";
  static constexpr auto list =
      std::make_tuple(field("of", &T::of), field("likely", &T::likely), field("fits", &T::fits));
};
template <>
struct Table<api::SurveyWaterOutput> {
  using T = api::SurveyWaterOutput;
  static constexpr std::string_view name = "survey_water_output";
  static constexpr auto list = std::make_tuple(field("water", &T::water),
                                               field("species", &T::species),
                                               field("saturation_index", &T::saturation_index),
                                               field("readings", &T::readings),
                                               field("doubts", &T::doubts, kRequired),
                                               field("members", &T::members));
};

}  // namespace drawoff::fields
