// Screen own_values: what the readings say of this very machine, in words. It takes as long as the
// whole judgement again, so it is asked for only where it is looked at.
#pragma once

#include "api/view_screen_fields.h"

namespace drawoff::api {

struct OwnValuesInput {
  book::Body site_file;
};
struct OwnValuesOutput {
  std::vector<LineOutput> lines;
};

base::Result<OwnValuesOutput> ask_own_values(const OwnValuesInput& in,
                                             Working& working,
                                             const messages::Catalogue& words);

}  // namespace drawoff::api

namespace drawoff::fields {

template <>
struct Table<api::OwnValuesInput> {
  using T = api::OwnValuesInput;
  static constexpr std::string_view name = "own_values_input";
  static constexpr auto list = std::make_tuple(field("site_file", &T::site_file, kRequired));
};
template <>
struct Table<api::OwnValuesOutput> {
  using T = api::OwnValuesOutput;
  static constexpr std::string_view name = "own_values_output";
  static constexpr auto list = std::make_tuple(field("lines", &T::lines, kRequired));
};

}  // namespace drawoff::fields
