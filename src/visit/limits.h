// Limits for drinking water by authority: data/limits.csv, with edition and how well it is known.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "base/message.h"
#include "units/quantity.h"
#include "water/composition.h"

namespace drawoff::visit {

enum class LimitKind { kHealth, kTaste };
// Whether the number was read in the source, in an older or second-hand copy, or recalled.
// kEntered: written here by a person, with the place where it stands.
enum class LimitConfidence { kRead, kSecondHand, kMemory, kEntered };

struct Limit {
  std::string authority;
  std::string substance;  // "NO3", "As" (both forms together), "TDS", "hardness"
  units::Density value;
  LimitKind kind = LimitKind::kHealth;
  std::string edition;
  LimitConfidence confidence = LimitConfidence::kMemory;
};

// In the order of the table.
std::vector<Limit> limits_of(std::string_view authority);

// Who says so, as the language names an authority; a place's own name as it was entered.
base::Argument authority_of(const Limit& limit);

// Whether a limit may be of this: a species' key, "As", "TDS" or "hardness".
bool is_limit_substance(std::string_view key);

// Mass concentration of a limit's substance in a water.
units::Density amount_of(std::string_view substance, const water::Composition& c);

}  // namespace drawoff::visit
