// How a number was worked out: symbol, formula, what went in, what came out, and where from.
//
// Built from the values that were computed, never from a second computation. A question fills it
// only when asked to explain; a test holds that every number of an answer has its line.
//
//   working.add({.result = "velocity_m_s", .symbol = "v", .formula = "v = 4 Q/(π D²)",
//                .inputs = {{"Q", 50, "L/h"}, {"D", 4.318, "mm"}},
//                .value = 0.948, .unit = "m/s", .source = "churchill1977"});
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "fields/field.h"

namespace drawoff::api {

struct WorkingInput {
  std::string symbol;
  double value = 0;
  std::string unit;  // symbol of the unit, "" for none
};

struct WorkingLine {
  std::string result;  // key of the output, nested ones with dots; "expected[].low" covers a list
  std::string symbol;
  std::string formula;  // in the paper's symbols
  std::vector<WorkingInput> inputs;
  double value = 0;
  std::string unit;
  std::string source;  // key in docs/references.bib, or "common practice, no source"
};

// Collects lines, or nothing when no one asked.
class Working {
 public:
  explicit Working(bool asked) : asked_(asked) {}
  bool asked() const { return asked_; }
  void add(WorkingLine line) {
    if (asked_) lines_.push_back(std::move(line));
  }
  const std::vector<WorkingLine>& lines() const { return lines_; }

 private:
  bool asked_;
  std::vector<WorkingLine> lines_;
};

}  // namespace drawoff::api

namespace drawoff::fields {

template <>
struct Table<api::WorkingInput> {
  using T = api::WorkingInput;
  static constexpr std::string_view name = "working_input";
  static constexpr auto list = std::make_tuple(
      field("symbol", &T::symbol), field("value", &T::value), field("unit", &T::unit));
};
template <>
struct Table<api::WorkingLine> {
  using T = api::WorkingLine;
  static constexpr std::string_view name = "working";
  static constexpr auto list = std::make_tuple(field("result", &T::result),
                                               field("symbol", &T::symbol),
                                               field("formula", &T::formula),
                                               field("inputs", &T::inputs),
                                               field("value", &T::value),
                                               field("unit", &T::unit),
                                               field("source", &T::source));
};

}  // namespace drawoff::fields
