// What an entry of kind "photo" says. The picture itself lives outside entries, by its hash, so
// that it can be erased.
#pragma once

#include <array>
#include <string>

#include "fields/field.h"

namespace drawoff::book {

enum class PhotoOf { kPlate, kWork, kFault };

struct PhotoEntry {
  std::string sha256;  // of the JPEG file's bytes, 64 hexadecimal digits
  std::string type = "image/jpeg";
  PhotoOf of = PhotoOf::kPlate;
  std::string part;  // path of the plate's values: "element", "pump"
  std::string note;
  fields::Json unknown;
};

}  // namespace drawoff::book

namespace drawoff::fields {

template <>
struct EnumTable<book::PhotoOf> {
  static constexpr std::string_view name = "photo_of";
  static constexpr std::array list = {choice(book::PhotoOf::kPlate, "plate"),
                                      choice(book::PhotoOf::kWork, "work"),
                                      choice(book::PhotoOf::kFault, "fault")};
};

template <>
struct Table<book::PhotoEntry> {
  using T = book::PhotoEntry;
  static constexpr std::string_view name = "photo";
  static constexpr auto list =
      std::make_tuple(field("sha256", &T::sha256, Range{64, 64}, kRequired),
                      field("type", &T::type, Range{1, 40}),
                      field("of", &T::of),
                      field("part", &T::part, Range{0, 80}),
                      field("note", &T::note, Range{0, 400}));
  static constexpr auto unknown = &T::unknown;
};

}  // namespace drawoff::fields
