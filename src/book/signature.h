// The signed record: the entries of a site as lines of text, the hashes of what belongs to them
// (photos, papers), and one Ed25519 signature [rfc8032] over those very bytes, never over JSON that
// was written again. docs/formats/record.md.
//
//   const auto restored = as_sent(given);                 // where a mail program was at it
//   TRY(const Record record, read_record(text, context));
//   holds(record.covered, record.signature, record.key)   // the shell's own: libsodium, WebCrypto
//   TRY(const SiteFile site, site_of(record, context));   // what was signed
//
//   std::string covered = text_to_sign(claims, key, site, attachments);
//   std::string text = with_signature(std::move(covered), sign(covered));
//
// Pure functions of bytes, in the browser too: hashing and signing need a library or a platform,
// and are done by whoever calls. Bytes are std::string, as in base/base64.h.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <tuple>
#include <vector>

#include "base/result.h"
#include "book/site_file.h"
#include "book/stamp.h"
#include "fields/field.h"
#include "fields/read.h"

namespace drawoff::book {

inline constexpr int kRecordVersion = 1;
// The first line, without its end. It begins all that such a key ever signs, so that a signature
// made for something else can never be taken for one of a record.
inline constexpr std::string_view kRecordLine = R"({"schema":"drawoff.record","version":1})";

// Who says that they sign, and when: claims, as far as the signature goes.
struct RecordHead {
  std::string signed_by;
  UtcTime at;
  std::string key;  // the public key, 64 hexadecimal digits
  int entries = 0;  // how many lines of each follow
  int attachments = 0;
  fields::Json unknown;
};

// A file that belongs to the record and stands outside it.
struct Attachment {
  std::string sha256;               // of its bytes, 64 hexadecimal digits
  std::optional<std::string> name;  // of the file, for people; a photo has none
  fields::Json unknown;
};

// The parts of a record. Views of the text it was read from: they live as long as that.
struct Record {
  RecordHead head;
  std::vector<std::string_view> entries;  // each a line of JSON, as it was signed
  std::vector<Attachment> attachments;
  std::string_view covered;  // what the signature is over: every byte before its line
  std::string key;           // 32 bytes
  std::string signature;     // 64 bytes
};

// What mail programs and editors add to a text, taken off: a byte-order mark before it, a carriage
// return before every line feed. None where neither was added. No record has either, so that the
// bytes that were signed come back; the signature is over those, and nothing else can pass.
std::optional<std::string> as_sent(std::string_view text);

// Whether the text begins as a record of this version: if so and it cannot be read, it was changed.
bool is_record(std::string_view text);

// Takes it apart, without a look into the entries: that is for after the signature held.
base::Result<Record> read_record(std::string_view text, fields::ReadContext& context);

// The entries of a record as a site file, read by its rules.
base::Result<SiteFile> site_of(const Record& record, fields::ReadContext& context);

struct Claims {
  std::string signed_by;
  UtcTime at;
};
// The hashes of the site's photos and drawn signatures, whether they are still kept or not.
std::vector<Attachment> photos_of(const SiteFile& site);
// All lines before the signature's. Entries stand in the order of their clocks, attachments in that
// of their hashes, each once: the same site gives the same bytes.
std::string text_to_sign(const Claims& claims,
                         std::string_view key,
                         const SiteFile& site,
                         std::vector<Attachment> attachments);
std::string with_signature(std::string covered, std::string_view signature);

// What people compare: the first 100 bits of the SHA-256 of the public key's 32 bytes, in base32
// [rfc4648, 6], "K7QX-…", five groups of four. Neither 0, 1, 8 nor 9 occurs in it.
std::string fingerprint(std::string_view sha256_of_key);

// Every id of the catalogue that this file uses, for its test.
inline constexpr std::array<std::string_view, 8> kRecordMessages = {
    "error.record.cut",
    "error.record.hex",
    "error.record.line",
    "error.record.line_ends",
    "error.record.lines",
    "error.record.not_one",
    "error.record.order",
    "error.record.version",
};

}  // namespace drawoff::book

namespace drawoff::fields {

template <>
struct Table<book::RecordHead> {
  using T = book::RecordHead;
  static constexpr std::string_view name = "record_head";
  static constexpr auto list =
      std::make_tuple(field("signed_by", &T::signed_by, Range{1, 80}, kRequired),
                      field("at", &T::at, kRequired),
                      field("key", &T::key, Range{64, 64}, kRequired),
                      field("entries", &T::entries, Range{0, 1e6}, kRequired),
                      field("attachments", &T::attachments, Range{0, 1e6}, kRequired));
  static constexpr auto unknown = &T::unknown;
  // The key is hexadecimal.
  static base::Result<base::Done> check(const T& head, const Path& path);
};

template <>
struct Table<book::Attachment> {
  using T = book::Attachment;
  static constexpr std::string_view name = "attachment";
  static constexpr auto list =
      std::make_tuple(field("sha256", &T::sha256, Range{64, 64}, kRequired),
                      field("name", &T::name, Range{1, 200}));
  static constexpr auto unknown = &T::unknown;
  // The hash is hexadecimal.
  static base::Result<base::Done> check(const T& attachment, const Path& path);
};

}  // namespace drawoff::fields
