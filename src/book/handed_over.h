// What an entry of kind "handed_over" says: who did the work, who took it over for the site, and
// what each drew with a finger. The drawn signatures are JPEG files that live outside entries, by
// their hash, as photos do.
//
// It speaks of all that was written before it. What was added later, or came in later from another
// device though it was written before, nobody has taken over: `covers` tells.
#pragma once

#include <array>
#include <optional>
#include <string>

#include "fields/field.h"
#include "fields/json.h"

namespace drawoff::book {

// Why nobody signed for the site.
enum class Nobody { kNobodyThere, kMayNotSign, kWouldNotSign, kOther };

struct HandedOverEntry {
  std::string technician;
  std::string technician_signature;  // SHA-256, 64 hexadecimal digits; empty: on paper
  std::string receiver;              // for the site
  std::string role;                  // of the receiver: "caretaker"
  std::string receiver_signature;
  std::optional<Nobody> nobody;
  std::string note;           // of kOther: the reason
  std::optional<int> covers;  // how many entries stood before it when it was signed
  fields::Json unknown;
};

}  // namespace drawoff::book

namespace drawoff::fields {

template <>
struct EnumTable<book::Nobody> {
  static constexpr std::string_view name = "nobody";
  static constexpr std::array list = {choice(book::Nobody::kNobodyThere, "nobody_there"),
                                      choice(book::Nobody::kMayNotSign, "may_not_sign"),
                                      choice(book::Nobody::kWouldNotSign, "would_not_sign"),
                                      choice(book::Nobody::kOther, "other")};
};

template <>
struct Table<book::HandedOverEntry> {
  using T = book::HandedOverEntry;
  static constexpr std::string_view name = "handed_over";
  static constexpr auto list =
      std::make_tuple(field("technician", &T::technician, Range{1, 80}, kRequired),
                      field("technician_signature", &T::technician_signature, Range{64, 64}),
                      field("receiver", &T::receiver, Range{0, 80}),
                      field("role", &T::role, Range{0, 80}),
                      field("receiver_signature", &T::receiver_signature, Range{64, 64}),
                      field("nobody", &T::nobody),
                      field("note", &T::note, Range{0, 400}),
                      field("covers", &T::covers, Range{0, 1e6}));
  static constexpr auto unknown = &T::unknown;
  // Somebody took it over, or there is a reason why nobody did; "other" says which.
  static base::Result<base::Done> check(const T& entry, const Path& path);
};

}  // namespace drawoff::fields
