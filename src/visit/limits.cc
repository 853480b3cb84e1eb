#include "visit/limits.h"

#include "base/check.h"
#include "base/csv.h"
#include "data/embedded.h"

namespace drawoff::visit {

namespace {

using water::Species;

units::Density mass_of(Species s, const water::Composition& c) {
  return units::Density(c[s] * water::molar_mass_of(s));
}

LimitConfidence confidence_of(std::string_view text) {
  if (text == "READ") return LimitConfidence::kRead;
  if (text == "READ2") return LimitConfidence::kSecondHand;
  CHECK(text == "MEMORY");
  return LimitConfidence::kMemory;
}

const std::vector<Limit>& table() {
  static const std::vector<Limit> limits = [] {
    std::vector<Limit> result;
    const auto csv = base::Csv::parse(data::file("limits.csv"));
    for (std::size_t i = 0; i < csv.rows(); ++i) {
      result.push_back(
          {.authority = csv.text(i, "authority"),
           .substance = csv.text(i, "substance"),
           .value = units::milligram_per_litre(csv.number(i, "limit_mg_L")),
           .kind = csv.text(i, "kind") == "health" ? LimitKind::kHealth : LimitKind::kTaste,
           .edition = csv.text(i, "edition"),
           .confidence = confidence_of(csv.text(i, "confidence"))});
    }
    return result;
  }();
  return limits;
}

}  // namespace

base::Argument authority_of(const Limit& limit) {
  if (limit.confidence == LimitConfidence::kEntered) return limit.authority;
  return base::Ref{"choice.authority." + limit.authority};
}

std::vector<Limit> limits_of(std::string_view authority) {
  std::vector<Limit> result;
  for (const Limit& limit : table()) {
    if (limit.authority == authority) result.push_back(limit);
  }
  return result;
}

bool is_limit_substance(std::string_view key) {
  return key == "TDS" || key == "hardness" || key == "As" || water::species_from_key(key);
}

units::Density amount_of(std::string_view substance, const water::Composition& c) {
  if (substance == "TDS") return water::total_dissolved(c);
  if (substance == "hardness") return water::hardness(c);
  if (substance == "As") return mass_of(Species::As3, c) + mass_of(Species::As5, c);
  const auto species = water::species_from_key(substance);
  CHECK(species.has_value());
  return mass_of(*species, c);
}

}  // namespace drawoff::visit
