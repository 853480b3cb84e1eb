// The site file: a survey, a machine and its visits, as entries that are never changed.
//
//   fields::ReadContext context;
//   TRY(SiteFile file, read_site_file(text, context));
//   const Folded now = fold(file);                       // fold.h: how things stand
//   std::string again = write_site_file(file);           // nothing lost, the unknown included
//
// An entry says who wrote what, on which device, and when. To correct one, a later entry
// supersedes it; the old one stays in the file. Entries may stand in any order: their clocks order
// them. Kinds and fields that this version does not know are kept, and named in a warning.
//
// Refused with one sentence: what is no site file, what a newer version wrote, a malformed id, time
// or clock, an id that stands twice, a correction of what is not there. docs/formats/site-file.md.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <tuple>
#include <vector>

#include "base/result.h"
#include "book/stamp.h"
#include "fields/field.h"
#include "fields/read.h"

namespace drawoff::book {

inline constexpr std::string_view kSiteSchema = "drawoff.site";
inline constexpr int kSiteVersion = 1;  // the highest that can be read; what is written

// The kinds of entry that are used. The last one of "site", "survey", "machine", "start_up",
// "blend", "blend_left" and "handed_over" holds; every "reading", "not_possible", "photo", "step"
// and "blend_turn" counts; "withdrawn" takes back what it supersedes.
inline constexpr std::array<std::string_view, 13> kKinds = {"site",
                                                            "survey",
                                                            "machine",
                                                            "reading",
                                                            "not_possible",
                                                            "photo",
                                                            "start_up",
                                                            "step",
                                                            "blend",
                                                            "blend_turn",
                                                            "blend_left",
                                                            "handed_over",
                                                            "withdrawn"};

// What an entry says: an object whose form depends on the kind. Rooms further on read it.
struct Body {
  fields::Json json = fields::Json::object();
  bool operator==(const Body&) const = default;
};

struct Entry {
  Uuid id;
  UtcTime at;
  std::string author;
  std::string device;
  Clock clock;
  std::string kind;
  std::optional<Uuid> supersedes;
  Body body;
  fields::Json unknown;
  bool operator==(const Entry&) const = default;
};

struct SiteFile {
  std::string schema{kSiteSchema};
  int version = kSiteVersion;
  std::vector<Entry> entries;
  fields::Json unknown;
  bool operator==(const SiteFile&) const = default;
};

base::Result<SiteFile> read_site_file(std::string_view text, fields::ReadContext& context);
// The same from JSON that was parsed already.
base::Result<SiteFile> read_site_json(const fields::Json& json, fields::ReadContext& context);
// Indented by two spaces, the last line ended.
std::string write_site_file(const SiteFile& file);

// The order of entries: by clock, then by id. A strict total order of entries with different ids.
bool comes_before(const Entry& a, const Entry& b);

// Every id of the catalogue that this folder uses, for its test.
inline constexpr std::array<std::string_view, 11> kBookMessages = {
    "error.book.clock_device",
    "error.book.clock_early",
    "error.book.device",
    "error.book.duplicate",
    "error.book.schema",
    "error.book.stamp",
    "error.book.supersedes_circle",
    "error.book.supersedes_late",
    "error.book.supersedes_nothing",
    "error.book.version",
    "warning.book.kind",
};

}  // namespace drawoff::book

namespace drawoff::fields {

template <>
struct Codec<book::Body> {
  static base::Result<book::Body> read(const Json& json, const Place& place, ReadContext& context);
  static Json write(const book::Body& body, const units::Unit* unit);
  static Json schema(const units::Unit* unit);
};

template <>
struct Table<book::Entry> {
  using T = book::Entry;
  static constexpr std::string_view name = "entry";
  static constexpr auto list = std::make_tuple(field("id", &T::id, kRequired),
                                               field("at", &T::at, kRequired),
                                               field("author", &T::author, Range{1, 80}, kRequired),
                                               field("device", &T::device, kRequired),
                                               field("clock", &T::clock, kRequired),
                                               field("kind", &T::kind, Range{1, 40}, kRequired),
                                               field("supersedes", &T::supersedes),
                                               field("body", &T::body, kRequired));
  static constexpr auto unknown = &T::unknown;
  // The clock is of this device and not earlier than the time.
  static base::Result<base::Done> check(const T& entry, const Path& path);
};

template <>
struct Table<book::SiteFile> {
  using T = book::SiteFile;
  static constexpr std::string_view name = "site_file";
  static constexpr auto list =
      std::make_tuple(field("schema", &T::schema, kRequired),
                      field("version", &T::version, at_least(1), kRequired),
                      field("entries", &T::entries, kRequired));
  static constexpr auto unknown = &T::unknown;
  // Ids stand once; what is superseded is there and came before.
  static base::Result<base::Done> check(const T& file, const Path& path);
};

}  // namespace drawoff::fields
