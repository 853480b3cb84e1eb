// What the reject is good for: never to drink; to water plants by the salinity classes of the FAO.
#pragma once

#include <span>
#include <vector>

#include "base/message.h"
#include "fields/field.h"
#include "visit/survey.h"

namespace drawoff::visit {

// By conductivity: under 0.7 dS/m no restriction on use for irrigation, to 3 slight to moderate,
// beyond severe. [ayers1985, table 1], from memory.
enum class Irrigation { kUnrestricted, kModerate, kSevere };

struct RejectUse {
  units::Conductivity conductivity;  // at 25 °C
  Irrigation irrigation = Irrigation::kUnrestricted;
  std::vector<base::Message> words;
};

// Of the raw water at a recovery, with nothing of its salts in the product.
RejectUse reject_use(const SurveyEntry& survey, const water::Composition& raw, double recovery);

}  // namespace drawoff::visit

namespace drawoff::fields {

template <>
struct EnumTable<visit::Irrigation> {
  static constexpr std::string_view name = "irrigation";
  static constexpr std::array list = {choice(visit::Irrigation::kUnrestricted, "unrestricted"),
                                      choice(visit::Irrigation::kModerate, "moderate"),
                                      choice(visit::Irrigation::kSevere, "severe")};
};

}  // namespace drawoff::fields
