// What an entry of kind "site" says.
#pragma once

#include <string>

#include "fields/field.h"

namespace drawoff::book {

struct SiteName {
  std::string name;
  std::string note;
  fields::Json unknown;
};

}  // namespace drawoff::book

namespace drawoff::fields {

template <>
struct Table<book::SiteName> {
  using T = book::SiteName;
  static constexpr std::string_view name = "site";
  static constexpr auto list = std::make_tuple(field("name", &T::name, Range{1, 80}, kRequired),
                                               field("note", &T::note, Range{0, 400}));
  static constexpr auto unknown = &T::unknown;
};

}  // namespace drawoff::fields
