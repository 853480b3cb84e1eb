// What an entry of kind "handed_over" says: who did the work, who took it over for the site, and
// what each drew with a finger. The drawn signatures are JPEG files that live outside entries, by
// their hash, as photos do.
//
// Who is not drawn may sign on the printed record instead: that is said too, so that the record
// keeps a line for it.
//
// It speaks of all that was written before it. What was added later, or came in later from another
// device though it was written before, nobody has taken over: `covers` tells.
#pragma once

#include <array>
#include <optional>
#include <string>

#include "book/site_name.h"
#include "fields/field.h"
#include "fields/json.h"

namespace drawoff::book {

// Why nobody signed for the site.
enum class Nobody { kNobodyThere, kMayNotSign, kWouldNotSign, kOther };

struct HandedOverEntry {
  std::string technician;
  std::string technician_signature;  // SHA-256, 64 hexadecimal digits
  bool technician_on_paper = false;  // signs on the printed record
  std::string firm;                  // of the technician: whom the site calls
  std::string telephone;             // as typed, see is_telephone()
  std::string next_visit;            // "2027-05-14", or a month, "2027-05"
  std::string receiver;              // for the site
  std::string role;                  // of the receiver: "caretaker"
  std::string receiver_signature;
  bool receiver_on_paper = false;
  std::optional<Nobody> nobody;
  std::string note;                  // of kOther: the reason
  std::optional<Language> language;  // that the papers had as it was signed
  std::optional<int> covers;         // how many entries stood before it when it was signed
  fields::Json unknown;
};

// Longest firm and telephone, in characters.
inline constexpr double kLongestFirm = 80;
inline constexpr double kLongestTelephone = 40;

// Digits, three at least, spaces, + ( ) - . / and letters, for an extension: as people write one,
// of any country. Nothing is one too.
bool is_telephone(const std::string& text);

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
                      field("technician_on_paper", &T::technician_on_paper),
                      field("firm", &T::firm, Range{0, book::kLongestFirm}),
                      field("telephone", &T::telephone, Range{0, book::kLongestTelephone}),
                      field("next_visit", &T::next_visit, Range{0, 10}),
                      field("receiver", &T::receiver, Range{0, 80}),
                      field("role", &T::role, Range{0, 80}),
                      field("receiver_signature", &T::receiver_signature, Range{64, 64}),
                      field("receiver_on_paper", &T::receiver_on_paper),
                      field("nobody", &T::nobody),
                      field("note", &T::note, Range{0, 400}),
                      field("language", &T::language, kNotAsked),
                      field("covers", &T::covers, Range{0, 1e6}));
  static constexpr auto unknown = &T::unknown;
  // Somebody took it over, or there is a reason why nobody did; "other" says which.
  static base::Result<base::Done> check(const T& entry, const Path& path);
};

}  // namespace drawoff::fields
