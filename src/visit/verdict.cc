#include "visit/verdict.h"

#include <algorithm>
#include <cmath>

#include "membrane/passage.h"
#include "messages/number.h"
#include "numerics/random.h"
#include "numerics/sample.h"

namespace drawoff::visit {

namespace {

using base::Message;
using base::Number;
using base::Ref;
using units::milligram_per_litre;
using water::Species;

// Thresholds for what stands in front of a membrane: common practice, no source.
constexpr units::Density kChlorineForCarbon = milligram_per_litre(0.05);
constexpr units::Density kIronForRemoval = milligram_per_litre(0.1);
constexpr units::Density kManganeseForRemoval = milligram_per_litre(0.05);
constexpr units::Density kHardForScale = milligram_per_litre(150);  // as CaCO3
constexpr units::Density kVeryHardForScale = milligram_per_litre(400);

// As many digits as the number has, at most three; two for what is only expected.
Number shown(units::Density d) {
  const double value = d / milligram_per_litre(1);
  return {value, "mg/L", std::min(3, messages::digits_of(value))};
}
Number expected(units::Density d) { return {d / milligram_per_litre(1), "mg/L", 2}; }

Number counted(std::size_t n) {
  const auto value = static_cast<double>(n);
  return {value, "", messages::digits_of(value)};
}

Ref substance(const std::string& key) { return {"substance." + key}; }

// Whether anything of a limit's substance was analysed.
bool analysed(const std::string& key, const water::Analysis& a) {
  auto has = [&](Species s) { return a[s].report != water::Report::kNotAnalysed; };
  if (key == "As") return has(Species::As3) || has(Species::As5);
  if (key == "hardness") return has(Species::Ca);
  if (key == "TDS") return true;
  const auto species = water::species_from_key(key);
  return species && has(*species);
}

void add_pre_treatment(const SurveyEntry& survey,
                       const water::Composition& raw,
                       std::vector<Message>& out) {
  out.push_back({"verdict.front.sediment"});
  const bool may_hold_chlorine = survey.free_chlorine ? *survey.free_chlorine > kChlorineForCarbon
                                                      : survey.source == SourceKind::kMains ||
                                                            survey.source == SourceKind::kTanker;
  if (may_hold_chlorine) {
    out.push_back(survey.free_chlorine ? Message{"verdict.front.carbon",
                                                 {{"chlorine", shown(*survey.free_chlorine)}}}
                                       : Message{"verdict.front.carbon_unknown"});
  }
  const auto iron = amount_of("Fe", raw);
  const auto manganese = amount_of("Mn", raw);
  if (iron > kIronForRemoval) out.push_back({"verdict.front.iron", {{"iron", shown(iron)}}});
  if (manganese > kManganeseForRemoval) {
    out.push_back({"verdict.front.manganese", {{"manganese", shown(manganese)}}});
  }
  const auto hard = water::hardness(raw);
  if (hard > kVeryHardForScale) {
    out.push_back({"verdict.front.very_hard", {{"hardness", shown(hard)}}});
  } else if (hard > kHardForScale) {
    out.push_back({"verdict.front.hard", {{"hardness", shown(hard)}}});
  }
}

void add_cautions(const SurveyEntry& survey, const SourceVerdict& v, std::vector<Message>& out) {
  switch (survey.faecal_indicators) {
    case FaecalIndicators::kPresent:
      out.push_back({"verdict.caution.faecal_present"});
      break;
    case FaecalIndicators::kNotTested:
      out.push_back({"verdict.caution.faecal_not_tested"});
      break;
    case FaecalIndicators::kAbsent:
      out.push_back({"verdict.caution.faecal_absent"});
      break;
  }
  if (!v.not_analysed.empty()) {
    out.push_back({"verdict.caution.not_analysed", {{"n", counted(v.not_analysed.size())}}});
  }
  for (const auto& s : v.substances) {
    if (s.limit.confidence == LimitConfidence::kMemory) {
      out.push_back({"verdict.caution.limits_unverified",
                     {{"authority", std::string(authority_key(survey.authority))}}});
      break;
    }
  }
  out.push_back({"verdict.caution.local_rules"});
}

}  // namespace

SourceVerdict source_verdict(const SurveyEntry& survey,
                             const water::Composition& raw,
                             std::span<const water::Composition> products) {
  SourceVerdict v;
  const auto analysis = water::analysis_of(survey.water);
  bool health = false;
  bool taste = false;
  bool doubtful = false;
  for (const Limit& limit : limits_of(authority_key(survey.authority))) {
    if (!analysed(limit.substance, analysis)) {
      if (limit.kind == LimitKind::kHealth) v.not_analysed.push_back(limit.substance);
      continue;
    }
    SubstanceVerdict s{.limit = limit, .raw = amount_of(limit.substance, raw)};
    std::vector<double> amounts;
    for (const auto& product : products) {
      amounts.push_back(amount_of(limit.substance, product).si());
    }
    const auto sorted = numerics::sorted(amounts);
    s.product_low = units::Density(numerics::quantile(sorted, 0.05));
    s.product_high = units::Density(numerics::quantile(sorted, 0.95));
    if (s.raw > limit.value) {
      const bool below = s.product_high < limit.value;
      s.standing = below ? Standing::kBroughtBelow : Standing::kDoubtful;
      (limit.kind == LimitKind::kHealth ? health : taste) = true;
      doubtful |= !below && limit.kind == LimitKind::kHealth;
      v.reasons.push_back({below ? "verdict.reason.brought_below" : "verdict.reason.doubtful",
                           {{"substance", substance(limit.substance)},
                            {"raw", shown(s.raw)},
                            {"limit", shown(limit.value)},
                            {"authority", limit.authority},
                            {"low", expected(s.product_low)},
                            {"high", expected(s.product_high)}}});
    }
    v.substances.push_back(s);
  }
  if (health) {
    v.warranted = doubtful ? Warranted::kPartly : Warranted::kYes;
  } else {
    v.warranted = taste ? Warranted::kTaste : Warranted::kNo;
  }
  if (v.warranted == Warranted::kNo) {
    v.reasons.push_back({"verdict.reason.nothing_over",
                         {{"authority", std::string(authority_key(survey.authority))}}});
    const auto hard = water::hardness(raw);
    if (hard > kHardForScale) {
      v.reasons.push_back({"verdict.instead.softener", {{"hardness", shown(hard)}}});
    } else {
      v.reasons.push_back({"verdict.instead.carbon"});
    }
  }
  add_pre_treatment(survey, raw, v.pre_treatment);
  add_cautions(survey, v, v.cautions);
  return v;
}

std::vector<water::Composition> typical_products(const water::Composition& raw,
                                                 std::uint64_t seed,
                                                 int count) {
  constexpr double kPassage = 0.06;
  constexpr double kSpread = 0.42;  // ln 2 / 1.645
  std::vector<water::Composition> products;
  for (int i = 0; i < count; ++i) {
    numerics::Random random(seed, static_cast<std::uint64_t>(i));
    const auto ratios = membrane::draw_passage(random);
    const double passage = kPassage * std::exp(kSpread * random.normal());
    const double salt = passage * membrane::salt_ratio(raw, ratios);
    // Uncharged substances by the B that this passage means at a unit flux: s = B/(J + B).
    products.push_back(membrane::permeate_composition(
        raw, ratios, salt, {.flux = 1, .salt_permeability = passage / (1 - passage)}));
  }
  return products;
}

}  // namespace drawoff::visit
