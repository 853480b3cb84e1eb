// A site file: what is taken is written and read again without a loss.
#include <cstdint>
#include <string_view>

#include "base/check.h"
#include "book/site_file.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace drawoff;
  fields::ReadContext context;
  const auto file =
      book::read_site_file(std::string_view(reinterpret_cast<const char*>(data), size), context);
  if (!file) return 0;
  const std::string written = book::write_site_file(*file);
  const auto again = book::read_site_file(written, context);
  CHECK(again && book::write_site_file(*again) == written);
  return 0;
}
