// A number as a person types it.
#include <cmath>
#include <cstdint>
#include <string_view>

#include "base/check.h"
#include "fields/form.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace drawoff;
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  for (const char* key : {"pressure_bar", "temperature_C", "count"}) {
    for (const auto system : {fields::UnitSystem::kMetric, fields::UnitSystem::kUs}) {
      const auto number = fields::typed_number(text, units::unit_of_key(key), system);
      if (number) CHECK(std::isfinite(*number));
    }
  }
  return 0;
}
