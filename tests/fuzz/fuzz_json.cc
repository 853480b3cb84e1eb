// JSON: what is taken is written and read again as the same.
#include <cstdint>
#include <string_view>

#include "base/check.h"
#include "fields/json.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace drawoff;
  const auto json = fields::parse_json(std::string_view(reinterpret_cast<const char*>(data), size));
  if (!json) return 0;
  const auto again = fields::parse_json(fields::dump(*json));
  CHECK(again && *again == *json);
  return 0;
}
