// The analysis of a water, as it is typed: read, written and read again it is the same.
#include <cstdint>
#include <string_view>

#include "fields/json.h"
#include "fields/read.h"
#include "fields/write.h"
#include "water/analysis_entry.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace drawoff;
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  const auto json = fields::parse_json(text);
  if (!json) return 0;
  fields::ReadContext context;
  const auto entry = fields::read<water::AnalysisEntry>(*json, context);
  if (!entry) return 0;
  const auto again = fields::read<water::AnalysisEntry>(fields::write(*entry), context);
  CHECK(again && *again == *entry);
  return 0;
}
