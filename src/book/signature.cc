#include "book/signature.h"

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <utility>

#include "base/check.h"
#include "base/hex.h"
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

constexpr std::string_view kLineOfAnyVersion = R"({"schema":"drawoff.record","version":)";
// The last line is exactly this: a byte that could be written in two ways could be changed.
constexpr std::string_view kBeforeSignature = R"({"signature":")";
constexpr std::string_view kAfterSignature = "\"}\n";
constexpr std::size_t kSignatureBytes = 64;
constexpr std::size_t kSignatureLine =
    kBeforeSignature.size() + 2 * kSignatureBytes + kAfterSignature.size();
constexpr std::size_t kLinesBeforeEntries = 2;

base::Argument number(std::size_t count) {
  return fields::given_number(static_cast<double>(count), nullptr);
}

// A whole number of at most nine digits at the start of the text, what a version may be.
std::optional<int> version_at(std::string_view text) {
  constexpr std::size_t kMostDigits = 9;
  int version = 0;
  std::size_t i = 0;
  for (; i < std::min(text.size(), kMostDigits) && text[i] >= '0' && text[i] <= '9'; ++i) {
    version = version * 10 + (text[i] - '0');
  }
  return i == 0 ? std::nullopt : std::optional(version);
}

Error refuse_other(std::string_view text) {
  if (text.substr(0, kLineOfAnyVersion.size()) == kLineOfAnyVersion) {
    const auto version = version_at(text.substr(kLineOfAnyVersion.size()));
    if (version && *version > kRecordVersion) {
      return {ErrorKind::kVersion,
              {"error.record.version",
               {{"version", number(static_cast<std::size_t>(*version))},
                {"known", number(kRecordVersion)}}}};
    }
  }
  return {ErrorKind::kData, {"error.record.not_one", {{"wanted", std::string(kRecordLine)}}}};
}

// The lines without their ends; the text ends with the end of a line.
std::vector<std::string_view> lines_of(std::string_view text) {
  std::vector<std::string_view> lines;
  while (!text.empty()) {
    const std::size_t end = text.find('\n');
    lines.push_back(text.substr(0, end));
    text.remove_prefix(end == std::string_view::npos ? text.size() : end + 1);
  }
  return lines;
}

// A line as JSON; `index` counts from 0.
Result<Json> json_of(std::string_view line, std::size_t index) {
  auto json = fields::parse_json(line);
  if (json && json->is_object()) return json;
  return Error{ErrorKind::kData, {"error.record.line", {{"line", number(index + 1)}}}};
}

template <class T>
Result<T> read_line(std::string_view line,
                    std::size_t index,
                    const Path& path,
                    fields::ReadContext& context) {
  TRY(const Json json, json_of(line, index));
  return fields::read_at<T>(json, path, context);
}

base::Result<base::Done> check_hex(const std::string& text, const Path& path) {
  if (base::from_hex(text)) return base::Done{};
  return Error{ErrorKind::kData,
               {"error.record.hex",
                {{"path", fields::path_argument(path)}, {"value", fields::quote_text(text)}}}};
}

// The signature of a text that ends in one.
std::optional<std::string> signature_of(std::string_view text) {
  if (text.size() < kSignatureLine) return std::nullopt;
  std::string_view line = text.substr(text.size() - kSignatureLine);
  if (line.substr(0, kBeforeSignature.size()) != kBeforeSignature) return std::nullopt;
  if (line.substr(line.size() - kAfterSignature.size()) != kAfterSignature) return std::nullopt;
  return base::from_hex(line.substr(kBeforeSignature.size(), 2 * kSignatureBytes));
}

template <class T>
std::string line_of(const T& value) {
  return fields::dump(fields::write(value)) + '\n';
}

}  // namespace

std::optional<std::string> as_sent(std::string_view text) {
  constexpr std::string_view kByteOrderMark = "\xef\xbb\xbf";
  const bool marked = text.substr(0, kByteOrderMark.size()) == kByteOrderMark;
  if (marked) text.remove_prefix(kByteOrderMark.size());
  const bool returns = is_record(text) && text.substr(kRecordLine.size(), 2) == "\r\n";
  if (!marked && !returns) return std::nullopt;
  if (!returns) return std::string(text);
  std::string out;
  out.reserve(text.size());
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (text.substr(i, 2) != "\r\n") out += text[i];
  }
  return out;
}

bool is_record(std::string_view text) {
  if (text.substr(0, kRecordLine.size()) != kRecordLine) return false;
  text.remove_prefix(kRecordLine.size());
  return text.empty() || text[0] == '\n' || text[0] == '\r';
}

Result<Record> read_record(std::string_view text, fields::ReadContext& context) {
  if (!is_record(text)) return refuse_other(text);
  if (text.substr(kRecordLine.size(), 1) == "\r") {
    return Error{ErrorKind::kData, {"error.record.line_ends"}};
  }
  auto signature = signature_of(text);
  if (!signature) return Error{ErrorKind::kData, {"error.record.cut"}};

  Record record;
  record.covered = text.substr(0, text.size() - kSignatureLine);
  record.signature = *std::move(signature);
  const std::vector<std::string_view> lines = lines_of(record.covered);
  if (lines.size() < kLinesBeforeEntries || record.covered.back() != '\n') {
    return Error{ErrorKind::kData, {"error.record.cut"}};
  }
  TRY(record.head, read_line<RecordHead>(lines[1], 1, context.path / "head", context));
  record.key = *base::from_hex(record.head.key);  // checked by its table
  const auto entries = static_cast<std::size_t>(record.head.entries);
  const auto attachments = static_cast<std::size_t>(record.head.attachments);
  const std::size_t found = lines.size() - kLinesBeforeEntries;
  if (found != entries + attachments) {
    return Error{ErrorKind::kData,
                 {"error.record.lines",
                  {{"entries", number(entries)},
                   {"attachments", number(attachments)},
                   {"found", number(found)}}}};
  }
  const auto begin = lines.begin() + kLinesBeforeEntries;
  record.entries.assign(begin, begin + static_cast<std::ptrdiff_t>(entries));
  const Path path = context.path / "attachments";
  for (std::size_t i = 0; i < attachments; ++i) {
    const std::size_t index = kLinesBeforeEntries + entries + i;
    TRY(Attachment attachment, read_line<Attachment>(lines[index], index, path[i], context));
    if (i > 0 && attachment.sha256 <= record.attachments.back().sha256) {
      return Error{ErrorKind::kData, {"error.record.order", {{"line", number(index + 1)}}}};
    }
    record.attachments.push_back(std::move(attachment));
  }
  return record;
}

Result<SiteFile> site_of(const Record& record, fields::ReadContext& context) {
  Json entries = Json::array();
  for (std::size_t i = 0; i < record.entries.size(); ++i) {
    TRY(Json entry, json_of(record.entries[i], kLinesBeforeEntries + i));
    entries.push_back(std::move(entry));
  }
  return read_site_json(Json{{"schema", std::string(kSiteSchema)},
                             {"version", kSiteVersion},
                             {"entries", std::move(entries)}},
                        context);
}

std::vector<Attachment> photos_of(const SiteFile& site) {
  // Where a kind of entry names pictures.
  constexpr std::pair<std::string_view, const char*> kPictures[] = {
      {"photo", "sha256"},
      {"handed_over", "technician_signature"},
      {"handed_over", "receiver_signature"}};
  std::vector<Attachment> out;
  for (const Entry& entry : site.entries) {
    for (const auto& [kind, key] : kPictures) {
      if (entry.kind != kind) continue;
      const auto found = entry.body.json.find(key);
      if (found == entry.body.json.end()) continue;
      const auto* sha256 = found->get_ptr<const std::string*>();
      constexpr std::size_t kHashDigits = 64;
      if (sha256 == nullptr || sha256->size() != kHashDigits || !base::from_hex(*sha256)) continue;
      out.push_back({.sha256 = *sha256, .name = std::nullopt});
    }
  }
  return out;
}

std::string text_to_sign(const Claims& claims,
                         std::string_view key,
                         const SiteFile& site,
                         std::vector<Attachment> attachments) {
  std::vector<Entry> entries = site.entries;
  std::sort(entries.begin(), entries.end(), comes_before);
  // Of two with the same hash the one with a name stays.
  std::sort(attachments.begin(), attachments.end(), [](const Attachment& a, const Attachment& b) {
    return std::tie(a.sha256, b.name) < std::tie(b.sha256, a.name);
  });
  attachments.erase(
      std::unique(attachments.begin(),
                  attachments.end(),
                  [](const Attachment& a, const Attachment& b) { return a.sha256 == b.sha256; }),
      attachments.end());
  std::string out(kRecordLine);
  out += '\n';
  out += line_of(RecordHead{.signed_by = claims.signed_by,
                            .at = claims.at,
                            .key = base::to_hex(key),
                            .entries = static_cast<int>(entries.size()),
                            .attachments = static_cast<int>(attachments.size())});
  for (const Entry& entry : entries) out += line_of(entry);
  for (const Attachment& attachment : attachments) out += line_of(attachment);
  return out;
}

std::string with_signature(std::string covered, std::string_view signature) {
  CHECK(signature.size() == kSignatureBytes);
  covered += kBeforeSignature;
  covered += base::to_hex(signature);
  covered += kAfterSignature;
  return covered;
}

std::string fingerprint(std::string_view sha256_of_key) {
  constexpr std::string_view kLetters = "ABCDEFGHIJKLMNOPQRSTUVWXYZ234567";
  constexpr std::size_t kShown = 20;
  constexpr std::size_t kGroup = 4;
  constexpr unsigned kBitsOfLetter = 5;
  constexpr unsigned kBitsOfByte = 8;
  CHECK(sha256_of_key.size() * kBitsOfByte >= kShown * kBitsOfLetter);
  std::string out;
  std::uint32_t held = 0;  // bits read and not yet written, in its low end
  unsigned bits = 0;
  std::size_t next = 0;
  for (std::size_t i = 0; i < kShown; ++i) {
    if (bits < kBitsOfLetter) {
      held = held << kBitsOfByte | static_cast<unsigned char>(sha256_of_key[next++]);
      bits += kBitsOfByte;
    }
    bits -= kBitsOfLetter;
    if (i > 0 && i % kGroup == 0) out += '-';
    out += kLetters[held >> bits & 31U];
    held &= (1U << bits) - 1U;
  }
  return out;
}

}  // namespace drawoff::book

namespace drawoff::fields {

base::Result<base::Done> Table<book::RecordHead>::check(const book::RecordHead& head,
                                                        const Path& path) {
  return book::check_hex(head.key, path / "key");
}

base::Result<base::Done> Table<book::Attachment>::check(const book::Attachment& attachment,
                                                        const Path& path) {
  return book::check_hex(attachment.sha256, path / "sha256");
}

}  // namespace drawoff::fields
