#include "book/site_file.h"

#include <algorithm>
#include <cstddef>
#include <unordered_map>
#include <utility>

#include "fields/errors.h"
#include "fields/json.h"
#include "fields/quote.h"
#include "fields/write.h"

namespace drawoff::book {

namespace {

using base::Error;
using base::ErrorKind;
using base::Result;
using fields::Json;
using fields::Path;
using fields::path_argument;
using fields::quote_text;

using Index = std::unordered_map<std::string_view, std::size_t>;

// Before anything else, so that the sentence is about the file and not about some field of it.
std::optional<Error> refuse_other_files(const Json& json, const Path& root) {
  if (!json.is_object()) {
    return fields::wrong_type({.path = root, .meaning = ""}, json, fields::Wanted::kObject);
  }
  const auto schema = json.find("schema");
  if (schema != json.end()) {
    const auto* text = schema->get_ptr<const std::string*>();
    if (text != nullptr && *text != kSiteSchema) {
      return Error{ErrorKind::kData,
                   {"error.book.schema",
                    {{"path", path_argument(root / "schema")},
                     {"value", quote_text(*text)},
                     {"wanted", quote_text(kSiteSchema)}}}};
    }
  }
  const auto version = json.find("version");
  if (schema != json.end() && version != json.end() && version->is_number()) {
    double number = 0;
    if (const auto* f = version->get_ptr<const Json::number_float_t*>()) number = *f;
    if (const auto* i = version->get_ptr<const Json::number_integer_t*>()) {
      number = static_cast<double>(*i);
    }
    if (const auto* u = version->get_ptr<const Json::number_unsigned_t*>()) {
      number = static_cast<double>(*u);
    }
    if (number > kSiteVersion) {
      return Error{ErrorKind::kVersion,
                   {"error.book.version",
                    {{"version", fields::given_number(number, nullptr)},
                     {"known", fields::given_number(kSiteVersion, nullptr)}}}};
    }
  }
  return std::nullopt;
}

// Whether following corrections from `from` leads to `to`.
bool leads_to(const SiteFile& file, const Index& index, std::size_t from, std::size_t to) {
  for (std::size_t steps = 0; steps <= file.entries.size(); ++steps) {
    if (from == to) return true;
    const auto& next = file.entries[from].supersedes;
    if (!next) return false;
    const auto found = index.find(next->text);
    if (found == index.end()) return false;
    from = found->second;
  }
  return false;  // a circle, but not through `to`
}

std::optional<Error> check_supersedes(const SiteFile& file,
                                      const Index& index,
                                      std::size_t i,
                                      const Path& entries) {
  const Entry& entry = file.entries[i];
  if (!entry.supersedes) return std::nullopt;
  const auto refuse = [&](const char* id, std::size_t other) -> Error {
    return {ErrorKind::kData,
            {id,
             {{"path", path_argument(entries[i] / "supersedes")},
              {"value", quote_text(entry.supersedes->text)},
              {"other", path_argument(entries[other])},
              {"entry", path_argument(entries[i])}}}};
  };
  const auto found = index.find(entry.supersedes->text);
  if (found == index.end()) return refuse("error.book.supersedes_nothing", i);
  const std::size_t other = found->second;
  if (comes_before(file.entries[other], entry)) return std::nullopt;
  // Every circle has a step that goes back in time, so looking here finds them all.
  return refuse(leads_to(file, index, other, i) ? "error.book.supersedes_circle"
                                                : "error.book.supersedes_late",
                other);
}

// One warning a kind, not one an entry: a file may hold hundreds of photos.
void warn_of_kinds(const SiteFile& file, fields::ReadContext& context) {
  const Path entries = context.path / "entries";
  std::vector<std::pair<std::string_view, std::size_t>> unknown;
  std::vector<std::size_t> first;
  for (std::size_t i = 0; i < file.entries.size(); ++i) {
    const std::string_view kind = file.entries[i].kind;
    if (std::find(kKinds.begin(), kKinds.end(), kind) != kKinds.end()) continue;
    const auto seen = std::find_if(
        unknown.begin(), unknown.end(), [kind](const auto& u) { return u.first == kind; });
    if (seen != unknown.end()) {
      ++seen->second;
    } else {
      unknown.emplace_back(kind, 1);
      first.push_back(i);
    }
  }
  for (std::size_t k = 0; k < unknown.size(); ++k) {
    const std::string similar = fields::nearest(unknown[k].first, kKinds);
    const auto count = static_cast<double>(unknown[k].second);
    context.warnings.push_back({"warning.book.kind",
                                {{"path", path_argument(entries[first[k]] / "kind")},
                                 {"value", quote_text(unknown[k].first)},
                                 {"count", fields::given_number(count, nullptr)},
                                 {"similar", similar.empty() ? "none" : quote_text(similar)}}});
  }
}

}  // namespace

bool comes_before(const Entry& a, const Entry& b) {
  if (a.clock.text != b.clock.text) return a.clock.text < b.clock.text;
  return a.id.text < b.id.text;
}

Result<SiteFile> read_site_file(std::string_view text, fields::ReadContext& context) {
  TRY(const Json json, fields::parse_json(text));
  return read_site_json(json, context);
}

Result<SiteFile> read_site_json(const Json& json, fields::ReadContext& context) {
  if (auto error = refuse_other_files(json, context.path)) return *std::move(error);
  TRY(SiteFile file, fields::read<SiteFile>(json, context));
  warn_of_kinds(file, context);
  return file;
}

std::string write_site_file(const SiteFile& file) {
  return fields::dump(fields::write(file), 2) + '\n';
}

}  // namespace drawoff::book

namespace drawoff::fields {

using base::Error;
using base::ErrorKind;

base::Result<book::Body> Codec<book::Body>::read(const Json& json,
                                                 const Place& place,
                                                 ReadContext& /*context*/) {
  if (!json.is_object()) return wrong_type(place, json, Wanted::kObject);
  return book::Body{json};
}
Json Codec<book::Body>::write(const book::Body& body, const units::Unit* /*unit*/) {
  return body.json;
}
Json Codec<book::Body>::schema(const units::Unit* /*unit*/) { return {{"type", "object"}}; }

base::Result<base::Done> Table<book::Entry>::check(const book::Entry& entry, const Path& path) {
  if (!book::is_device(entry.device)) {
    return Error{ErrorKind::kData,
                 {"error.book.device",
                  {{"path", path_argument(path / "device")}, {"value", quote_text(entry.device)}}}};
  }
  if (entry.clock.device() != entry.device) {
    return Error{ErrorKind::kData,
                 {"error.book.clock_device",
                  {{"path", path_argument(path / "clock")},
                   {"value", quote_text(entry.clock.text)},
                   {"device_path", path_argument(path / "device")},
                   {"device", quote_text(entry.device)}}}};
  }
  if (entry.clock.time() < book::to_millisecond(entry.at)) {
    return Error{ErrorKind::kData,
                 {"error.book.clock_early",
                  {{"path", path_argument(path / "clock")},
                   {"value", quote_text(entry.clock.text)},
                   {"at_path", path_argument(path / "at")},
                   {"at", quote_text(entry.at.text)}}}};
  }
  return base::Done{};
}

base::Result<base::Done> Table<book::SiteFile>::check(const book::SiteFile& file,
                                                      const Path& path) {
  const Path entries = path / "entries";
  book::Index index;
  for (std::size_t i = 0; i < file.entries.size(); ++i) {
    const std::string& id = file.entries[i].id.text;
    const auto [found, fresh] = index.emplace(id, i);
    if (fresh) continue;
    return Error{ErrorKind::kData,
                 {"error.book.duplicate",
                  {{"path", path_argument(entries[i] / "id")},
                   {"value", quote_text(id)},
                   {"other", path_argument(entries[found->second])}}}};
  }
  for (std::size_t i = 0; i < file.entries.size(); ++i) {
    if (auto error = book::check_supersedes(file, index, i, entries)) return *std::move(error);
  }
  return base::Done{};
}

}  // namespace drawoff::fields
