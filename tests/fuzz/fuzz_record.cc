// A signed record: whatever comes, it is taken apart or refused, and what is taken is of the text.
#include <cstdint>
#include <string>
#include <string_view>

#include "base/check.h"
#include "book/signature.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace drawoff;
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  fields::ReadContext context;
  const auto record = book::read_record(text, context);
  if (!record) return 0;
  CHECK(book::is_record(text) && record->covered.data() == text.data());
  CHECK(record->key.size() == 32 && record->signature.size() == 64);
  // Nothing but the signature stands outside what it covers, and that in one form only.
  CHECK(book::with_signature(std::string(record->covered), record->signature) == text);
  const auto site = book::site_of(*record, context);
  if (site) CHECK(site->entries.size() == record->entries.size());
  return 0;
}
