// What the product does behind the unit: to metals, to diets.
#pragma once

#include <span>
#include <vector>

#include "base/message.h"
#include "visit/survey.h"

namespace drawoff::visit {

// `products`: equally likely compositions of the product.
std::vector<base::Message> downstream(const SurveyEntry& survey,
                                      const water::Composition& raw,
                                      std::span<const water::Composition> products,
                                      units::Temperature temperature);

}  // namespace drawoff::visit
