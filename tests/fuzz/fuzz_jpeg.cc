// A photo's bytes, before they are put on a page.
#include <cstdint>
#include <string_view>

#include "base/check.h"
#include "paper/jpeg.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const auto jpeg =
      drawoff::paper::read_jpeg(std::string_view(reinterpret_cast<const char*>(data), size));
  if (jpeg) CHECK(jpeg->width > 0 && jpeg->height > 0);
  return 0;
}
