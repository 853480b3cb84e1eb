// The fold: from all entries to how things stand now. The same on every phone and server, however
// the entries arrived: only their clocks and ids matter, never their place in the file.
//
// An entry and all its corrections are one record, which stands where the first of them stands in
// time and says what the last of them says. So a slip corrected in July does not come before the
// new machine of June, and of two corrections made apart the later one holds everywhere. A record
// whose last entry is "withdrawn", or of an unknown kind, is ignored.
//
//   const Folded now = fold(file);
//   if (now.survey) read_at<SurveyEntry>(now.survey->body, now.survey->path, context);
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "book/site_file.h"

namespace drawoff::book {

// What holds, and where it stands in the file, for the sentences about it.
struct Current {
  Uuid id;             // of the entry that holds
  Uuid first;          // of the record's first entry: what the thing itself is called
  UtcTime at;          // of the record's first entry
  std::string author;  // of the entry that holds
  fields::Json body;
  std::size_t index = 0;  // in SiteFile::entries
  std::size_t order = 0;  // of the entry that holds, among all, by the logical clock
  fields::Path path;      // "entries[3].body"
};

struct Folded {
  std::optional<Current> site;
  std::optional<Current> survey;
  std::vector<Current> machines;       // in the order of time; the last one is there now
  std::vector<Current> machines_said;  // every entry of them, also those corrected since
  std::vector<Current> readings;       // in the order of time
  std::vector<Current> not_possible;   // readings that could not be taken, in the order of time
  std::vector<Current> photos;         // in the order of time
  std::vector<Current> start_ups;      // in the order of time
  std::vector<Current> steps;          // of the last of them, in the order of time
  std::vector<Current> blends;         // settings of the blend, in the order of time
  std::vector<Current> blend_turns;    // of the last of them, in the order of time
  std::optional<Current> turned_last;  // of all blend turns, also of a setting before
  std::vector<Current> blends_left;    // how it was left, in the order of time
  std::optional<Current> handed_over;  // the latest
};

// For a file that read_site_file() gave or that keeps to the same rules. `root` is where the
// document stands, as ReadContext::path.
Folded fold(const SiteFile& file, const fields::Path& root = {});

}  // namespace drawoff::book
