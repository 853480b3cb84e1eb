// calc quick: raw, product, temperature, flow, size: is it right? Three lines of answer.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "api/machine_question_fields.h"
#include "api/question.h"
#include "visit/quick_check.h"

namespace drawoff::api {

struct QuickOutput {
  visit::StartUpStanding standing = visit::StartUpStanding::kNoReadings;
  std::vector<std::string> lines;  // salt, flow, what now
  std::vector<std::string> cautions;
  std::optional<double> reduction;       // share, by the meter, as read
  std::optional<Band> expected_product;  // in the unit of the pen
  std::optional<Band> expected_flow;
  // To be kept as the entries of a site.
  visit::SurveyEntry survey;
  machine::MachineEntry machine;
  std::vector<visit::ReadingEntry> readings;
};

base::Result<QuickOutput> ask_quick(const visit::QuickCheck& in,
                                    Working& working,
                                    const messages::Catalogue& words);

}  // namespace drawoff::api

namespace drawoff::fields {

template <>
struct Table<api::QuickOutput> {
  using T = api::QuickOutput;
  static constexpr std::string_view name = "quick_output";
  static constexpr auto list =
      std::make_tuple(field("standing", &T::standing, kRequired),
                      field("lines", &T::lines, kRequired),
                      field("cautions", &T::cautions, kRequired),
                      field("reduction_pct", &T::reduction, kRequired, kNullWhenAbsent),
                      field("expected_product", &T::expected_product, kRequired, kNullWhenAbsent),
                      field("expected_flow", &T::expected_flow, kRequired, kNullWhenAbsent),
                      field("survey", &T::survey, kRequired),
                      field("machine", &T::machine, kRequired),
                      field("readings", &T::readings, kRequired));
};

}  // namespace drawoff::fields
