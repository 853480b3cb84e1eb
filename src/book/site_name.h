// What an entry of kind "site" says.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>

#include "fields/field.h"
#include "fields/json.h"

namespace drawoff::book {

// Of those who get the site's papers; by name as in BCP 47.
enum class Language { kEnglish, kSpanish, kHindi };

struct SiteName {
  std::string name;
  std::string note;
  std::optional<Language> language;  // none: that of whoever makes the papers
  fields::Json unknown;
};

}  // namespace drawoff::book

namespace drawoff::fields {

template <>
struct EnumTable<book::Language> {
  static constexpr std::string_view name = "language";
  static constexpr std::array list = {choice(book::Language::kEnglish, "en"),
                                      choice(book::Language::kSpanish, "es"),
                                      choice(book::Language::kHindi, "hi")};
};

template <>
struct Table<book::SiteName> {
  using T = book::SiteName;
  static constexpr std::string_view name = "site";
  static constexpr auto list = std::make_tuple(field("name", &T::name, Range{1, 80}, kRequired),
                                               field("note", &T::note, Range{0, 400}),
                                               field("language", &T::language));
  static constexpr auto unknown = &T::unknown;
};

}  // namespace drawoff::fields
