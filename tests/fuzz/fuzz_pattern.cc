// Patterns of the catalogue, and their pseudo-language.
#include <cstdint>
#include <string>
#include <string_view>

#include "messages/pattern.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  std::string fault;
  static_cast<void>(drawoff::messages::parse_pattern(text, &fault));
  static_cast<void>(drawoff::messages::pseudo(text));
  return 0;
}
