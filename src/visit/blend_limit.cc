#include "visit/blend_limit.h"

#include <algorithm>
#include <cmath>

#include "numerics/sample.h"
#include "visit/blend_ratio.h"

namespace drawoff::visit {
namespace {

// k does not hang on how far the valve is open while little flows.
constexpr double kSlightlyOpen = 0.05;
// More is as good as raw water alone.
constexpr double kMostDrift = 100;
constexpr std::size_t kEnoughMachines = 20;

// In the permeate of water as strong as the raw water gets.
units::Density permeate_high(const SubstanceVerdict& s) {
  return s.raw.si() > 0 ? s.product_high * (s.raw_high / s.raw) : s.product_high;
}

struct Sum {
  double raw = 0;  // of shares of limits
  double permeate = 0;
  int substances = 0;
};

std::optional<double> nitrogen_share(const SurveyEntry& survey, const SourceVerdict& verdict) {
  if (survey.authority != Authority::kWho && survey.authority != Authority::kEu)
    return std::nullopt;
  Sum sum;
  for (const SubstanceVerdict& s : verdict.substances) {
    if (s.limit.substance != "NO3" && s.limit.substance != "NO2") continue;
    sum.raw += s.raw_high / s.limit.value;
    sum.permeate += permeate_high(s) / s.limit.value;
    ++sum.substances;
  }
  if (sum.substances < 2) return std::nullopt;
  return share_below(units::Density(1), units::Density(sum.raw), units::Density(sum.permeate));
}

}  // namespace

double share_below(units::Density limit, units::Density raw, units::Density permeate) {
  if (raw <= limit) return 1;
  if (permeate >= limit) return 0;
  return (limit - permeate) / (raw - permeate);
}

double today_of(double share, double drift) {
  if (share >= 1) return 1;
  const double k = share / (1 - share) / drift;
  return k / (1 + k);
}

JudgedWater water_behind_membranes(const SurveyedWater& surveyed,
                                   const water::Composition& day,
                                   const std::vector<machine::Streams>& streams) {
  std::vector<Made> made;
  made.reserve(streams.size());
  for (const machine::Streams& s : streams) made.push_back({s.raw, s.permeate});
  return judged_water(surveyed, day, std::move(made));
}

HighestShare highest_share(const SurveyEntry& survey, const SourceVerdict& verdict, double drift) {
  HighestShare out;
  const auto none = [&](BlendBound bound) {
    out.bound = bound;
    out.ever = out.today = 0;
    return out;
  };
  for (const std::string& key : verdict.not_analysed) {
    const bool stands_in = std::any_of(
        verdict.substances.begin(), verdict.substances.end(), [&](const SubstanceVerdict& s) {
          return s.limit.substance == key && s.evidence == Evidence::kLocal;
        });
    if (!stands_in) out.unknown.push_back(key);
  }
  if (survey.faecal_indicators == FaecalIndicators::kPresent ||
      verdict.microbes == Microbes::kFound) {
    return none(BlendBound::kFaecal);
  }
  if (!out.unknown.empty()) return none(BlendBound::kUnknown);
  const auto bind = [&](double share, const std::string& substance) {
    if (share >= out.ever) return;
    out.ever = share;
    out.bound = BlendBound::kSubstance;
    out.substance = substance;
  };
  for (const SubstanceVerdict& s : verdict.substances) {
    bind(share_below(s.limit.value, s.raw_high, permeate_high(s)), s.limit.substance);
  }
  if (const auto share = nitrogen_share(survey, verdict)) bind(*share, "NO3");
  out.today = today_of(out.ever, drift);
  return out;
}

std::optional<double> drift(const machine::MachineEntry& entry,
                            const machine::RawWater& raw,
                            const Until& until,
                            std::uint64_t seed,
                            int draws) {
  if (!entry.blend) return std::nullopt;
  machine::MachineEntry open = entry;
  if (!(open.blend->opening > 0)) open.blend->opening = kSlightlyOpen;
  const auto feed = machine::feed_of(raw, open);
  std::vector<machine::Feed> feeds;
  for (const units::Temperature t : {until.coldest, until.hottest}) {
    machine::RawWater then = raw;
    then.temperature = t;
    feeds.push_back(machine::feed_of(then, open));
  }
  std::vector<double> rises;
  for (const machine::Specimen& s : machine::specimens(open, raw, feed, seed, draws)) {
    const BlendRatio ratio(open, s);
    const double now = ratio.set(feed, s.parameters);
    if (!(now > 0) || !std::isfinite(now)) continue;
    double most = 1;
    for (const machine::Feed& then : feeds) {
      for (const units::Pressure supply : {until.lowest, until.highest}) {
        for (const double left : {1.0, until.ageing}) {
          auto p = s.parameters;
          p[machine::Parameter::kSupplyPressure] *= supply / open.supply.pressure;
          p[machine::Parameter::kWaterPermeability] *= left;
          most = std::max(most, ratio.most(then, p) / now);
        }
      }
    }
    rises.push_back(std::fmin(most, kMostDrift));
  }
  if (rises.size() < kEnoughMachines) return std::nullopt;
  return numerics::quantile(numerics::sorted(rises), 0.95);
}

std::optional<double> capacity_by_plates(const machine::MachineEntry& entry,
                                         const machine::RawWater& raw) {
  if (!entry.blend) return std::nullopt;
  machine::MachineEntry open = entry;
  open.blend->opening = kSlightlyOpen;
  const auto feed = machine::feed_of(raw, open);
  const auto median = machine::nominal(open, feed);
  if (median.status != membrane::RatingStatus::kFound) return std::nullopt;
  const double k = BlendRatio(open, median.specimen).set(feed, median.specimen.parameters);
  if (!(k > 0) || !std::isfinite(k)) return std::nullopt;
  return k / kSlightlyOpen;
}

}  // namespace drawoff::visit
