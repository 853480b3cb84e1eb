// What drawoff job answers to programs.
#pragma once

#include <string>

#include "api/first_day_question.h"
#include "api/handing_over.h"

namespace drawoff::api {

struct JobOutput {
  std::string site;
  VerdictOutput verdict;
  std::optional<AcceptOutput> start_up;  // none without a machine
  std::optional<FirstDayOutput> first_day;
  std::optional<HandedOverOutput> handed_over;
};

}  // namespace drawoff::api

namespace drawoff::fields {

template <>
struct Table<api::JobOutput> {
  using T = api::JobOutput;
  static constexpr std::string_view name = "job_output";
  static constexpr auto list = std::make_tuple(field("site", &T::site),
                                               field("verdict", &T::verdict),
                                               field("start_up", &T::start_up),
                                               field("first_day", &T::first_day),
                                               field("handed_over", &T::handed_over));
};

}  // namespace drawoff::fields
