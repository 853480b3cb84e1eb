// Screen found: a number that a step of the start-up showed, judged as it is typed by the band that
// `calc start-up` gave for it.
#pragma once

#include "api/machine_question_fields.h"
#include "visit/found.h"

namespace drawoff::api {

struct FoundInput {
  visit::FoundEntry found;
  std::optional<Band> expected;
};
struct FoundOutput {
  std::optional<visit::SignBand> expected;  // in the unit of the number, to be kept with it
  std::string text;
  std::optional<visit::SignFit> fit;
  std::string look;  // at, where it does not fit
};

base::Result<FoundOutput> ask_found(const FoundInput& in,
                                    Working& working,
                                    const messages::Catalogue& words);

}  // namespace drawoff::api

namespace drawoff::fields {

template <>
struct Table<api::FoundInput> {
  using T = api::FoundInput;
  static constexpr std::string_view name = "found_input";
  static constexpr auto list =
      std::make_tuple(field("found", &T::found, kRequired), field("expected", &T::expected));
  // The band is of a unit that the number can be shown in.
  static base::Result<base::Done> check(const T& in, const Path& path);
};
template <>
struct Table<api::FoundOutput> {
  using T = api::FoundOutput;
  static constexpr std::string_view name = "found_output";
  static constexpr auto list =
      std::make_tuple(field("expected", &T::expected, kRequired, kNullWhenAbsent),
                      field("text", &T::text, kRequired),
                      field("fit", &T::fit, kRequired, kNullWhenAbsent),
                      field("look", &T::look, kRequired));
};

}  // namespace drawoff::fields
