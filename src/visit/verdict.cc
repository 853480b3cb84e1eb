#include "visit/verdict.h"

#include <algorithm>
#include <cmath>

#include "membrane/ions.h"
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

// The 95 % point of a normal spread: how strong the raw water gets over the year.
constexpr double kStrongest = numerics::kNormal95;

// As many digits as the number has, at most three; two for what is only expected.
Number shown(units::Density d) {
  const double rounded = messages::rounded(d / milligram_per_litre(1), 3);
  return {rounded, "mg/L", std::min(3, messages::digits_of(rounded))};
}
Number expected(units::Density d) { return {d / milligram_per_litre(1), "mg/L", 2}; }

// Beyond this the sum of an analysis' charges says that something is missing or wrong [%].
// Standard Methods asks for 5 % or better (from memory); twice that is said.
constexpr double kMostImbalance = 10;

Number counted(std::size_t n) {
  const auto value = static_cast<double>(n);
  return {value, "", messages::digits_of(value)};
}

Ref substance(const std::string& key) { return {"substance." + key}; }

// Whether anything of a limit's substance was analysed.
bool analysed(const std::string& key, const water::Analysis& a) {
  auto has = [&](Species s) { return a[s].report != water::Report::kNotAnalysed; };
  if (key == "As") return has(Species::As3) || has(Species::As5);
  if (key == "hardness") return has(Species::Ca) && has(Species::Mg);
  if (key == "TDS") return true;
  const auto species = water::species_from_key(key);
  return species && has(*species);
}

// "Below" a bound that is over the limit says nothing about the limit.
bool unseen(const Limit& limit, const water::Analysis& a) {
  auto hides = [&](Species s) {
    return a[s].report == water::Report::kBelow && a[s].value > limit.value;
  };
  if (limit.substance == "As") return hides(Species::As3) || hides(Species::As5);
  const auto species = water::species_from_key(limit.substance);
  return species && hides(*species);
}

// Arsenic of one form only: the other, which passes unlike, may be part of it.
bool form_unknown(const Limit& limit, const water::Analysis& a) {
  return limit.substance == "As" && (a[Species::As3].report == water::Report::kNotAnalysed) !=
                                        (a[Species::As5].report == water::Report::kNotAnalysed);
}

void add_pre_treatment(const SurveyEntry& survey,
                       const water::Composition& raw,
                       std::vector<Message>& out) {
  if (survey.faecal_indicators == FaecalIndicators::kPresent) {
    out.push_back({"verdict.front.disinfection"});
  }
  out.push_back({"verdict.front.sediment"});
  const bool may_hold_chlorine = survey.free_chlorine ? *survey.free_chlorine > kChlorineForCarbon
                                                      : survey.source == SourceKind::kMains ||
                                                            survey.source == SourceKind::kUnknown ||
                                                            survey.source == SourceKind::kTanker;
  if (may_hold_chlorine) {
    out.push_back(survey.free_chlorine ? Message{"verdict.front.carbon",
                                                 {{"chlorine", shown(*survey.free_chlorine)}}}
                                       : Message{"verdict.front.carbon_unknown"});
  }
  if (survey.basis == SurveyBasis::kMeter) {
    out.push_back({"verdict.front.hardness_unknown"});
    return;
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
    std::string keys;
    for (const auto& key : v.not_analysed) keys += (keys.empty() ? "" : ", ") + key;
    out.push_back(
        {"verdict.caution.not_analysed", {{"n", counted(v.not_analysed.size())}, {"keys", keys}}});
  }
  const double balance = water::charge_balance_error_pct(water::analysis_of(survey.water));
  if (survey.basis == SurveyBasis::kAnalysis && std::fabs(balance) > kMostImbalance) {
    out.push_back(
        {"verdict.caution.balance", {{"error", Number{std::round(std::fabs(balance)), "%", 3}}}});
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
  // A make-up that was only assumed is no analysis.
  const bool assumed = survey.basis == SurveyBasis::kMeter;
  const auto analysis = assumed ? water::Analysis{} : water::analysis_of(survey.water);
  if (assumed) v.reasons.push_back({"verdict.reason.meter_only"});
  bool health = false;
  bool taste = false;
  bool doubtful = false;
  bool near = false;
  bool unseen_health = false;
  for (const Limit& limit : limits_of(authority_key(survey.authority))) {
    if (assumed || !analysed(limit.substance, analysis)) {
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
    const auto strongest = s.raw * std::exp(kStrongest * survey.strength_spread);
    if (unseen(limit, analysis)) {
      s.standing = Standing::kNotSeen;
      v.reasons.push_back({"verdict.reason.not_seen",
                           {{"substance", substance(limit.substance)},
                            {"limit", shown(limit.value)},
                            {"authority", limit.authority}}});
      if (limit.kind == LimitKind::kHealth) {
        v.not_analysed.push_back(limit.substance);
        unseen_health = true;
      }
    } else if (s.raw > limit.value) {
      const bool below = s.product_high < limit.value && !form_unknown(limit, analysis);
      s.standing = below ? Standing::kBroughtBelow : Standing::kDoubtful;
      (limit.kind == LimitKind::kHealth ? health : taste) = true;
      doubtful |= !below && limit.kind == LimitKind::kHealth;
      std::string id = below ? "verdict.reason.brought_below" : "verdict.reason.doubtful";
      if (below && limit.kind == LimitKind::kTaste) id = "verdict.reason.taste_brought_below";
      if (form_unknown(limit, analysis)) id = "verdict.reason.arsenic_form";
      v.reasons.push_back({id,
                           {{"substance", substance(limit.substance)},
                            {"raw", shown(s.raw)},
                            {"limit", shown(limit.value)},
                            {"authority", limit.authority},
                            {"low", expected(s.product_low)},
                            {"high", expected(s.product_high)}}});
    } else if (strongest > limit.value) {
      s.standing = Standing::kNearLimit;
      near |= limit.kind == LimitKind::kHealth;
      v.reasons.push_back({"verdict.reason.near_limit",
                           {{"substance", substance(limit.substance)},
                            {"raw", shown(s.raw)},
                            {"limit", shown(limit.value)},
                            {"authority", limit.authority},
                            {"strongest", expected(strongest)}}});
    }
    v.substances.push_back(s);
  }
  const bool seen =
      std::any_of(v.substances.begin(), v.substances.end(), [](const SubstanceVerdict& s) {
        return s.limit.substance != "TDS" && s.standing != Standing::kNotSeen;
      });
  if (survey.faecal_indicators == FaecalIndicators::kPresent) {
    v.warranted = Warranted::kDisinfectFirst;
  } else if (!seen || (!health && unseen_health)) {
    v.warranted = Warranted::kCannotSay;
  } else if (health || near) {
    v.warranted = doubtful ? Warranted::kPartly : health ? Warranted::kYes : Warranted::kNear;
  } else {
    v.warranted = taste ? Warranted::kTaste : Warranted::kNo;
  }
  if (v.warranted == Warranted::kNo) {
    v.reasons.push_back({"verdict.reason.nothing_over",
                         {{"authority", std::string(authority_key(survey.authority))}}});
    if (survey.faecal_indicators == FaecalIndicators::kAbsent) {
      const auto hard = water::hardness(raw);
      v.reasons.push_back(hard > kHardForScale
                              ? Message{"verdict.instead.softener", {{"hardness", shown(hard)}}}
                              : Message{"verdict.instead.carbon"});
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
    // The B of sodium chloride that this passage means at a unit flux: s = B/(J + B).
    products.push_back(
        membrane::local_ions({&ratios, passage / (1 - passage)}, raw, 1, 1).permeate);
  }
  return products;
}

}  // namespace drawoff::visit
