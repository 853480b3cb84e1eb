#include "visit/verdict.h"

#include <algorithm>
#include <cmath>

#include "fields/errors.h"
#include "membrane/ions.h"
#include "messages/number.h"
#include "numerics/random.h"
#include "numerics/sample.h"
#include "visit/beside.h"
#include "visit/date.h"
#include "visit/downstream.h"
#include "visit/evidence.h"
#include "visit/pre_treatment.h"

namespace drawoff::visit {

namespace {

using base::Message;
using base::Number;
using base::Ref;
using units::milligram_per_litre;

// The 95 % point of a normal spread: how strong the raw water gets over the year.
constexpr double kStrongest = numerics::kNormal95;
// A hard water without any other trouble: common practice, no source.
constexpr units::Density kHard = milligram_per_litre(150);  // as CaCO3
// An older analysis may speak of another water: common practice, no source.
constexpr int kOldAnalysis = 3 * 365;  // days

// As many digits as the number has, at most three; two for what is only expected.
Number shown(units::Density d) {
  const double rounded = messages::rounded(d / milligram_per_litre(1), 3);
  return {rounded, "mg/L", std::min(3, messages::digits_of(rounded))};
}
Number expected(units::Density d) { return {d / milligram_per_litre(1), "mg/L", 2}; }

// Beyond this the sum of an analysis' charges says that something is missing or wrong [%].
// Standard Methods asks for 5 % or better (from memory); twice that is said.
constexpr double kMostImbalance = 10;

Number counted(std::size_t n) { return fields::given_number(static_cast<double>(n), nullptr); }

Ref substance(const std::string& key) { return {"substance." + key}; }
Ref authority(Authority key) { return {"choice.authority." + std::string(authority_key(key))}; }

// The limits that hold here: the place's own before the authority's.
std::vector<Limit> limits_here(const SurveyEntry& survey) {
  std::vector<Limit> limits = limits_of(authority_key(survey.authority));
  if (!survey.local) return limits;
  for (const LocalLimit& local : survey.local->limits) {
    Limit own{.authority = survey.local->name,
              .substance = local.substance,
              .value = local.value,
              .kind = local.kind,
              .edition = local.edition.empty() ? survey.local->name : local.edition,
              .confidence = LimitConfidence::kEntered};
    const auto same = std::find_if(
        limits.begin(), limits.end(), [&](const Limit& l) { return l.substance == own.substance; });
    if (same == limits.end()) {
      limits.push_back(std::move(own));
    } else {
      *same = std::move(own);
    }
  }
  return limits;
}

struct Range {
  double low, middle, high;
};
Range range_of(std::vector<double> values) {
  const auto ordered = numerics::sorted(values);
  return {numerics::quantile(ordered, 0.05),
          numerics::quantile(ordered, 0.5),
          numerics::quantile(ordered, 0.95)};
}

// One substance of the raw water: in the first source, and at its worst over mixes and year.
struct RawAmount {
  std::vector<double> first;  // equally likely
  double worst_middle = 0;
  double worst_high = 0;
};

RawAmount raw_amount(const std::string& key, const JudgedWater& water, std::span<const Mix> mixes) {
  RawAmount out;
  for (const auto& m : water.members) out.first.push_back(amount_of(key, m).si());
  const Range first = range_of(out.first);
  const double year = std::exp(kStrongest * water.strength_spread);
  for (const Mix& mix : mixes) {
    const double rest = amount_of(key, mix.rest).si();
    out.worst_middle = std::max(out.worst_middle, mix.first * first.middle + rest);
    out.worst_high = std::max(out.worst_high, year * (mix.first * first.high + rest));
  }
  return out;
}

// What of it is in the product, at the worst mix: each unit on one of the likely waters.
Range product_amount(const RawAmount& raw, std::span<const double> passed) {
  const double middle = range_of(raw.first).middle;
  std::vector<double> out;
  for (std::size_t i = 0; i < passed.size(); ++i) {
    const double likely = middle > 0 ? raw.first[i % raw.first.size()] / middle : 1;
    out.push_back(raw.worst_middle * likely * passed[i]);
  }
  return range_of(out);
}

// How much of a substance passes, by unit.
std::vector<double> passages(const std::string& key, std::span<const Made> made) {
  std::vector<double> out;
  for (const Made& m : made) {
    const double before = amount_of(key, m.raw).si();
    out.push_back(before > 0 ? amount_of(key, m.product).si() / before : 0);
  }
  return out;
}

// A water that holds a substance of which nobody analysed it, for its passage.
water::Composition with_usual(const std::string& key, units::Density amount, water::Composition c) {
  const auto species = water::species_from_key(key == "As" ? "As3" : key);
  if (species) c[*species] = amount.si() / water::molar_mass_of(*species);
  return c;
}

constexpr int kTypical = 200;
constexpr std::uint64_t kSeed = 1;

// What would serve where the membrane does not.
std::optional<Message> serves_instead(const std::string& key) {
  for (const std::string_view known : {"NO3", "As", "F", "B", "U", "NH4", "Hg"}) {
    if (key == known) return Message{"verdict.instead." + key};
  }
  return std::nullopt;
}

class Judge {
 public:
  Judge(const SurveyEntry& survey, const JudgedWater& water, std::vector<Mix> mixes)
      : survey_(survey),
        water_(water),
        mixes_(std::move(mixes)),
        analysis_(survey.basis == SurveyBasis::kAnalysis ? water::analysis_of(survey.water)
                                                         : water::Analysis{}) {}

  SourceVerdict verdict() {
    v_.microbes = microbes_of(survey_);
    if (survey_.basis == SurveyBasis::kMeter) reason("verdict.reason.meter_only");
    for (const Limit& limit : limits_here(survey_)) judge(limit);
    nitrogen_together();
    decide();
    const bool known = survey_.basis != SurveyBasis::kMeter;
    // What is planned; else what the unit does.
    const PlanEntry plan = survey_.plan.value_or(
        PlanEntry{.recovery = water_.recovery.value_or(PlanEntry{}.recovery)});
    std::optional<double> slow_at;
    if (known) {
      const ScalePlan scale{
          .recovery = plan.recovery,
          .strength_spread = water_.strength_spread,
          .temperature =
              survey_.tap && survey_.tap->warmest ? *survey_.tap->warmest : water_.temperature,
          .grades = survey_.local ? survey_.local->scale : std::vector<ScaleGrades>{}};
      v_.scales = scaling_at(water_.members, scale);
      if (worst_grade(v_.scales, plan.antiscalant) >= ScaleGrade::kFast) {
        slow_at = recovery_for_slow(water_.members, scale, plan.antiscalant);
      }
      v_.reject = reject_use(survey_, water_.middle, plan.recovery);
      std::vector<water::Composition> products;
      for (const Made& m : water_.made) products.push_back(m.product);
      v_.behind = downstream(survey_, water_.middle, products, water_.temperature);
    }
    if (survey_.building) {
      for (Message& m : in_building(*survey_.building, water_.unit)) {
        v_.behind.push_back(std::move(m));
      }
    }
    v_.pre_treatment = pre_treatment(survey_,
                                     {.raw = water_.middle,
                                      .known = known,
                                      .plan = plan,
                                      .scales = v_.scales,
                                      .recovery_for_slow = slow_at});
    cautions();
    return std::move(v_);
  }

 private:
  void reason(const char* id) { v_.reasons.push_back({id}); }

  void judge(const Limit& limit) {
    const Evidence evidence = evidence_of(limit.substance, survey_);
    if (evidence == Evidence::kNone) {
      if (limit.kind == LimitKind::kHealth) v_.not_analysed.push_back(limit.substance);
      return;
    }
    SubstanceVerdict s{.limit = limit, .evidence = evidence};
    RawAmount raw = raw_amount(limit.substance, water_, mixes_);
    std::vector<double> passed = passages(limit.substance, water_.made);
    if (evidence == Evidence::kLocal) {
      const units::Density usual = *usual_of(limit.substance, survey_);
      raw = {{usual.si()}, usual.si(), usual.si()};
      const auto water = with_usual(limit.substance, usual, water_.middle);
      passed = passages(limit.substance, typically_made(water, kSeed, kTypical));
      // Nobody found it: that it may be there is not that it is.
      if (limit.kind == LimitKind::kHealth) v_.not_analysed.push_back(limit.substance);
    }
    s.raw = units::Density(raw.worst_middle);
    if (survey_.basis == SurveyBasis::kAnalysis && survey_.further.empty()) {
      s.stated = stated(limit.substance, analysis_);
      s.below = s.stated && only_below(limit.substance, analysis_);
    }
    s.raw_high = units::Density(raw.worst_high);
    const Range product = product_amount(raw, passed);
    s.product_low = units::Density(product.low);
    s.product_high = units::Density(product.high);
    stand(limit, s);
    v_.substances.push_back(s);
  }

  void stand(const Limit& limit, SubstanceVerdict& s) {
    const bool is_health = limit.kind == LimitKind::kHealth;
    const auto say = [&](const std::string& id) {
      v_.reasons.push_back({id,
                            {{"substance", substance(limit.substance)},
                             {"raw", shown(s.stated.value_or(s.raw))},
                             {"moved", std::string(was_moved(s) ? "yes" : "no")},
                             {"day", shown(s.raw)},
                             {"limit", shown(limit.value)},
                             {"authority", authority_of(limit)},
                             {"low", expected(s.product_low)},
                             {"high", expected(s.product_high)},
                             {"strongest", expected(s.raw_high)}}});
    };
    const bool form =
        survey_.basis == SurveyBasis::kAnalysis && form_unknown(limit.substance, analysis_);
    if (survey_.basis == SurveyBasis::kAnalysis && unseen(limit, analysis_)) {
      s.standing = Standing::kNotSeen;
      say("verdict.reason.not_seen");
      if (is_health) {
        v_.not_analysed.push_back(limit.substance);
        unseen_health_ = true;
      }
      return;
    }
    if (s.evidence == Evidence::kLocal) {
      if (s.raw > limit.value) {
        s.standing = Standing::kNearLimit;
        near_ |= is_health;
        say("verdict.reason.usual");
      }
      return;
    }
    if (s.raw > limit.value) {
      const bool below = s.product_high < limit.value && !form;
      const bool above = s.product_low > limit.value;
      s.standing = below   ? Standing::kBroughtBelow
                   : above ? Standing::kStaysAbove
                           : Standing::kDoubtful;
      (is_health ? health_ : taste_) = true;
      doubtful_ |= !below && is_health;
      not_enough_ |= above && is_health;
      say(form        ? "verdict.reason.arsenic_form"
          : above     ? "verdict.reason.stays_above"
          : !below    ? "verdict.reason.doubtful"
          : is_health ? "verdict.reason.brought_below"
                      : "verdict.reason.taste_brought_below");
      if (!below && is_health) {
        if (auto instead = serves_instead(limit.substance)) v_.reasons.push_back(*instead);
      }
    } else if (s.raw_high > limit.value) {
      s.standing = Standing::kNearLimit;
      near_ |= is_health;
      say(s.evidence == Evidence::kStrip ? "verdict.reason.near_by_strip"
                                         : "verdict.reason.near_limit");
    }
  }

  // Nitrate and nitrite act alike: the sum of their shares of 50 and 3 mg/L is to stay below one
  // (WHO, EU; the shared table of limits).
  void nitrogen_together() {
    if (survey_.authority != Authority::kWho && survey_.authority != Authority::kEu) return;
    const SubstanceVerdict* nitrate = nullptr;
    const SubstanceVerdict* nitrite = nullptr;
    for (const auto& s : v_.substances) {
      if (s.evidence == Evidence::kLocal || s.standing == Standing::kNotSeen) continue;
      if (s.limit.substance == "NO3") nitrate = &s;
      if (s.limit.substance == "NO2") nitrite = &s;
    }
    if (nitrate == nullptr || nitrite == nullptr) return;
    const auto share = [](units::Density no3, units::Density no2) {
      return no3 / milligram_per_litre(50) + no2 / milligram_per_litre(3);
    };
    const bool each_below =
        nitrate->raw <= nitrate->limit.value && nitrite->raw <= nitrite->limit.value;
    if (share(nitrate->raw, nitrite->raw) <= 1 || !each_below) return;
    health_ = true;
    const double left = share(nitrate->product_high, nitrite->product_high);
    doubtful_ |= left > 1;
    v_.reasons.push_back({left > 1 ? "verdict.reason.nitrogen_doubtful" : "verdict.reason.nitrogen",
                          {{"nitrate", shown(nitrate->raw)}, {"nitrite", shown(nitrite->raw)}}});
  }

  void decide() {
    const bool seen =
        std::any_of(v_.substances.begin(), v_.substances.end(), [](const SubstanceVerdict& s) {
          return s.limit.substance != "TDS" && s.standing != Standing::kNotSeen &&
                 s.evidence != Evidence::kLocal;
        });
    if (v_.microbes == Microbes::kFound) {
      v_.warranted = Warranted::kDisinfectFirst;
    } else if (!seen || (!health_ && unseen_health_)) {
      v_.warranted = Warranted::kCannotSay;
    } else if (health_ || near_) {
      v_.warranted = not_enough_ ? Warranted::kNotEnough
                     : doubtful_ ? Warranted::kPartly
                     : health_   ? Warranted::kYes
                                 : Warranted::kNear;
    } else {
      v_.warranted = taste_ ? Warranted::kTaste : Warranted::kNo;
    }
    if (v_.warranted != Warranted::kNo) return;
    v_.reasons.push_back(
        {"verdict.reason.nothing_over", {{"authority", authority(survey_.authority)}}});
    const bool clear = v_.microbes == Microbes::kControlled ||
                       v_.microbes == Microbes::kClearSample || v_.microbes == Microbes::kBarrier ||
                       survey_.faecal_indicators == FaecalIndicators::kAbsent;
    if (!clear) return;
    const auto hard = water::hardness(water_.middle);
    v_.reasons.push_back(hard > kHard
                             ? Message{"verdict.instead.softener", {{"hardness", shown(hard)}}}
                             : Message{"verdict.instead.carbon"});
  }

  void cautions() {
    auto& out = v_.cautions;
    out.push_back(microbes_in_words(survey_));
    if (!v_.not_analysed.empty()) {
      std::string keys;
      for (const auto& key : v_.not_analysed) keys += (keys.empty() ? "" : ", ") + key;
      out.push_back({"verdict.caution.not_analysed",
                     {{"n", counted(v_.not_analysed.size())}, {"keys", keys}}});
    }
    for (const FurtherSource& f : survey_.further) {
      const auto analysis = water::analysis_of(f.water);
      std::string keys;
      for (const auto& s : v_.substances) {
        if (s.limit.kind != LimitKind::kHealth || analysed(s.limit.substance, analysis)) continue;
        keys += (keys.empty() ? "" : ", ") + s.limit.substance;
      }
      if (!keys.empty()) {
        out.push_back({"verdict.caution.further", {{"name", f.name}, {"keys", keys}}});
      }
    }
    if (survey_.basis == SurveyBasis::kAnalysis) {
      const double balance = water::charge_balance_error_pct(analysis_);
      if (std::fabs(balance) > kMostImbalance) {
        out.push_back({"verdict.caution.balance",
                       {{"error", Number{std::round(std::fabs(balance)), "%", 3}}}});
      }
      const auto age = days_between(survey_.analysed_on, survey_.on);
      if (age && *age > kOldAnalysis) {
        out.push_back({"verdict.caution.old_analysis", {{"date", survey_.analysed_on}}});
      }
      if (survey_.analysed_by == AnalysedBy::kSupplier) out.push_back({"verdict.caution.supplier"});
      for (Message& m : contradictions(survey_)) out.push_back(std::move(m));
    }
    const bool by_strip =
        std::any_of(v_.substances.begin(), v_.substances.end(), [](const SubstanceVerdict& s) {
          return s.evidence == Evidence::kStrip;
        });
    if (survey_.basis == SurveyBasis::kReadings || by_strip) {
      out.push_back({"verdict.caution.strips"});
    }
    for (const auto& s : v_.substances) {
      if (s.limit.confidence == LimitConfidence::kMemory) {
        out.push_back(
            {"verdict.caution.limits_unverified", {{"authority", authority(survey_.authority)}}});
        break;
      }
    }
    out.push_back({"verdict.caution.local_rules"});
  }

  const SurveyEntry& survey_;
  const JudgedWater& water_;
  std::vector<Mix> mixes_;
  water::Analysis analysis_;
  SourceVerdict v_;
  bool health_ = false;
  bool taste_ = false;
  bool doubtful_ = false;
  bool not_enough_ = false;
  bool near_ = false;
  bool unseen_health_ = false;
};

}  // namespace

JudgedWater judged_water(const SurveyedWater& surveyed,
                         const water::Composition& day,
                         std::vector<Made> made) {
  // The day is as strong as its middle: members keep their make-up.
  const double strength =
      water::total_molar(day).si() / water::total_molar(surveyed.composition).si();
  JudgedWater out{.middle = day,
                  .made = std::move(made),
                  .strength_spread = surveyed.strength_spread,
                  .temperature = surveyed.temperature};
  for (const auto& m : surveyed.members) out.members.push_back(water::scaled(m, strength));
  if (out.made.empty()) out.made = typically_made(day, kSeed, kTypical);
  return out;
}

bool was_moved(const SubstanceVerdict& s) {
  constexpr double kWorthSaying = 0.02;
  return s.stated && std::fabs(s.raw.si() - s.stated->si()) > kWorthSaying * s.stated->si();
}

base::Result<SourceVerdict> source_verdict(const SurveyEntry& survey, const JudgedWater& water) {
  TRY(std::vector<Mix> mixes, mixes_of(survey.further));
  return Judge(survey, water, std::move(mixes)).verdict();
}

std::vector<Made> typically_made(const water::Composition& raw, std::uint64_t seed, int count) {
  constexpr double kPassage = 0.06;
  constexpr double kSpread = 0.42;  // ln 2 / 1.645
  std::vector<Made> made;
  for (int i = 0; i < count; ++i) {
    numerics::Random random(seed, static_cast<std::uint64_t>(i));
    const auto ratios = membrane::draw_passage(random);
    const double passage = kPassage * std::exp(kSpread * random.normal());
    // The B of sodium chloride that this passage means at a unit flux: s = B/(J + B).
    made.push_back(
        {raw, membrane::local_ions({&ratios, passage / (1 - passage)}, raw, 1, 1).permeate});
  }
  return made;
}

}  // namespace drawoff::visit
