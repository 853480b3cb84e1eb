#include "book/handed_over.h"

#include <utility>

#include "base/hex.h"
#include "fields/errors.h"
#include "fields/quote.h"

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
  if (entry.receiver.empty() && !entry.nobody) {
    return refused("error.handed_over.nobody", path / "receiver");
  }
  if (!entry.receiver.empty() && entry.nobody) {
    return refused("error.handed_over.both", path / "nobody");
  }
  if (entry.nobody && !entry.receiver_signature.empty()) {
    return refused("error.handed_over.whose", path / "receiver_signature");
  }
  if (entry.nobody == book::Nobody::kOther && entry.note.empty()) {
    return refused("error.handed_over.reason", path / "note");
  }
  return base::Done{};
}

}  // namespace drawoff::fields
