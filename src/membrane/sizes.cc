#include "membrane/sizes.h"

#include <vector>

#include "base/csv.h"
#include "data/embedded.h"

namespace drawoff::membrane {

std::span<const ElementSize> element_sizes() {
  static const std::vector<ElementSize> sizes = [] {
    std::vector<ElementSize> result;
    const auto csv = base::Csv::parse(data::file("element_sizes.csv"));
    for (std::size_t i = 0; i < csv.rows(); ++i) {
      auto number = [&](std::string_view name) { return csv.number(i, name); };
      result.push_back({.name = csv.text(i, "size"),
                        .channel = {.area = units::square_metre(number("area_m2")),
                                    .length = units::metre(number("length_m")),
                                    .height = units::millimetre(number("height_mm"))},
                        .area_spread = number("area_spread"),
                        .length_spread = number("length_spread"),
                        .height_spread = number("height_spread"),
                        .mass_transfer_spread = number("mass_transfer_spread"),
                        .typical_flow = units::litre_per_hour(number("typical_flow_L_h"))});
    }
    return result;
  }();
  return sizes;
}

const ElementSize* find_element_size(std::string_view name) {
  for (const ElementSize& size : element_sizes()) {
    if (size.name == name) return &size;
  }
  return nullptr;
}

}  // namespace drawoff::membrane
