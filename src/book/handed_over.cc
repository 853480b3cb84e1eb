#include "book/handed_over.h"

#include <algorithm>
#include <string_view>
#include <utility>

#include "base/hex.h"
#include "fields/errors.h"
#include "fields/quote.h"
#include "visit/date.h"

namespace drawoff::book {

// An emergency or short number has three.
constexpr std::ptrdiff_t kLeastDigits = 3;

bool is_telephone(const std::string& text) {
  // Other scripts have digits of their own.
  const auto digits = std::count_if(text.begin(), text.end(), [](unsigned char c) {
    return (c >= '0' && c <= '9') || c >= 0x80;
  });
  if (!text.empty() && digits < kLeastDigits) return false;
  return std::all_of(text.begin(), text.end(), [](unsigned char c) {
    const bool letter = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c >= 0x80;
    const bool digit = c >= '0' && c <= '9';
    return letter || digit || std::string_view(" +()-./").find(static_cast<char>(c)) < 7;
  });
}

}  // namespace drawoff::book

namespace drawoff::fields {

base::Result<base::Done> Table<book::HandedOverEntry>::check(const book::HandedOverEntry& entry,
                                                             const Path& path) {
  const auto refused = [](const char* id, const Path& at) {
    return base::Error{base::ErrorKind::kData, {id, {{"path", path_argument(at)}}}};
  };
  for (const auto& [key, sha256] : {std::pair{"technician_signature", &entry.technician_signature},
                                    std::pair{"receiver_signature", &entry.receiver_signature}}) {
    if (base::from_hex(*sha256)) continue;
    return base::Error{base::ErrorKind::kData,
                       {"error.record.hex",
                        {{"path", path_argument(path / key)}, {"value", quote_text(*sha256)}}}};
  }
  if (entry.technician_on_paper && !entry.technician_signature.empty()) {
    return refused("error.handed_over.drawn", path / "technician_on_paper");
  }
  if (entry.receiver_on_paper && !entry.receiver_signature.empty()) {
    return refused("error.handed_over.drawn", path / "receiver_on_paper");
  }
  if (!book::is_telephone(entry.telephone)) {
    return refused("error.handed_over.telephone", path / "telephone");
  }
  if (!entry.next_visit.empty() && !visit::is_date(entry.next_visit)) {
    return refused("error.handed_over.date", path / "next_visit");
  }
  if (entry.receiver.empty() && !entry.nobody) {
    return refused("error.handed_over.nobody", path / "receiver");
  }
  if (!entry.receiver.empty() && entry.nobody) {
    return refused("error.handed_over.both", path / "nobody");
  }
  if (entry.nobody && !entry.receiver_signature.empty()) {
    return refused("error.handed_over.whose", path / "receiver_signature");
  }
  if (entry.nobody && entry.receiver_on_paper) {
    return refused("error.handed_over.whose", path / "receiver_on_paper");
  }
  if (entry.nobody == book::Nobody::kOther && entry.note.empty()) {
    return refused("error.handed_over.reason", path / "note");
  }
  return base::Done{};
}

}  // namespace drawoff::fields
