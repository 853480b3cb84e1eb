// The handing over of a site as results and words: who signed, and whether that still covers all
// that was written.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "api/site_state.h"
#include "base/message.h"

namespace drawoff::api {

struct HandedOverOutput {
  std::string entry;
  std::string at;      // UTC
  bool holds = false;  // nothing was added since
  book::HandedOverEntry said;
};

// Absent where nobody handed the site over.
std::optional<HandedOverOutput> handed_over_output(const SiteState& state);
// None where nobody did.
std::vector<base::Message> handed_over_in_words(const SiteState& state);
// Why nobody signed for the site; of an entry that says so.
base::Argument nobody_because(const book::HandedOverEntry& entry);

// Whom those who drink can call; each empty where nobody said it.
struct Call {
  std::string who;
  std::string telephone;
  std::string next_visit;
};
// What is `asked` for stands before what was said at the last hand-over. That stands for as long as
// nobody says otherwise; its next visit only until the site was visited again.
Call call_of(const SiteState& state, const Call& asked);
// A telephone number runs from left to right in any script.
std::string left_to_right(const std::string& telephone);

}  // namespace drawoff::api

namespace drawoff::fields {

template <>
struct Table<api::HandedOverOutput> {
  using T = api::HandedOverOutput;
  static constexpr std::string_view name = "handed_over_output";
  static constexpr auto list = std::make_tuple(field("entry", &T::entry, kRequired),
                                               field("at", &T::at, kRequired),
                                               field("holds", &T::holds, kRequired),
                                               field("said", &T::said, kRequired));
};

}  // namespace drawoff::fields
