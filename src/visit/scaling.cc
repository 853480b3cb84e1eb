#include "visit/scaling.h"

#include <algorithm>
#include <cmath>

#include "base/check.h"
#include "base/csv.h"
#include "data/embedded.h"
#include "numerics/random.h"
#include "numerics/sample.h"
#include "water/saturation.h"
#include "water/speciation.h"

namespace drawoff::visit {
namespace {

using water::Mineral;

// Aragonite is calcite's slower sister: it never decides.
constexpr std::array kGraded{Mineral::kCalcite,
                             Mineral::kGypsum,
                             Mineral::kBarite,
                             Mineral::kCelestite,
                             Mineral::kFluorite,
                             Mineral::kSilica};

// Polarisation at the reject end of a small element: 1.25, or 1.1 to 1.6 (docs/models/membrane.md).
constexpr double kExcess = 0.25;
constexpr double kExcessSpread = 0.5;  // ln
constexpr int kDraws = 64;

const std::vector<ScaleGrades>& shared_grades() {
  static const std::vector<ScaleGrades> grades = [] {
    std::vector<ScaleGrades> out;
    const auto csv = base::Csv::parse(data::file("scale_grades.csv"));
    for (std::size_t i = 0; i < csv.rows(); ++i) {
      const auto* const found = std::find_if(kGraded.begin(), kGraded.end(), [&](Mineral m) {
        return fields::name_of(m) == csv.text(i, "mineral");
      });
      CHECK(found != kGraded.end());
      out.push_back({*found,
                     csv.number(i, "antiscalant") > 0,
                     csv.number(i, "slow"),
                     csv.number(i, "fast"),
                     csv.number(i, "do_not")});
    }
    return out;
  }();
  return grades;
}

const ScaleGrades& grades_of(Mineral mineral, bool antiscalant, const ScalePlan& plan) {
  for (const auto* list : {&plan.grades, &shared_grades()}) {
    for (const ScaleGrades& g : *list) {
      if (g.mineral == mineral && g.antiscalant == antiscalant) return g;
    }
  }
  CHECK(false);
  return shared_grades().front();
}

ScaleGrade grade(double index, const ScaleGrades& g) {
  if (index >= g.do_not) return ScaleGrade::kDoNot;
  if (index >= g.fast) return ScaleGrade::kFast;
  return index >= g.slow ? ScaleGrade::kSlow : ScaleGrade::kNone;
}

water::Speciation at_the_wall(const water::Composition& raw,
                              double recovery,
                              double polarisation,
                              units::Temperature temperature) {
  water::Composition wall = water::scaled(raw, polarisation / (1 - recovery));
  wall[water::Species::CO2] = raw[water::Species::CO2];
  return water::closed_speciation(wall, temperature);
}

}  // namespace

std::vector<Scale> scaling_at(std::span<const water::Composition> raws, const ScalePlan& plan) {
  constexpr std::uint64_t kSeed = 7;  // one water, one grade
  std::array<std::vector<double>, kGraded.size()> indices;
  for (int i = 0; i < kDraws; ++i) {
    numerics::Random random(kSeed, static_cast<std::uint64_t>(i));
    const double polarisation = 1 + kExcess * std::exp(kExcessSpread * random.normal());
    const double strength = std::exp(plan.strength_spread * random.normal());
    const auto& raw = raws[static_cast<std::size_t>(i) % raws.size()];
    const auto wall =
        at_the_wall(water::scaled(raw, strength), plan.recovery, polarisation, plan.temperature);
    for (std::size_t k = 0; k < kGraded.size(); ++k) {
      indices[k].push_back(water::saturation_index(wall, kGraded[k]));
    }
  }
  std::vector<Scale> out;
  for (std::size_t k = 0; k < kGraded.size(); ++k) {
    const auto ordered = numerics::sorted(indices[k]);
    if (!std::isfinite(ordered.front())) continue;
    Scale s{.mineral = kGraded[k],
            .index = {numerics::quantile(ordered, 0.05),
                      numerics::quantile(ordered, 0.5),
                      numerics::quantile(ordered, 0.95)}};
    const auto& bare = grades_of(s.mineral, false, plan);
    s.low = grade(s.index.low, bare);
    s.likely = grade(s.index.middle, bare);
    s.high = grade(s.index.high, bare);
    s.dosed = grade(s.index.middle, grades_of(s.mineral, true, plan));
    out.push_back(s);
  }
  return out;
}

ScaleGrade worst_grade(std::span<const Scale> scales, bool antiscalant) {
  ScaleGrade worst = ScaleGrade::kNone;
  for (const Scale& s : scales) worst = std::max(worst, antiscalant ? s.dosed : s.likely);
  return worst;
}

std::optional<double> recovery_for_slow(std::span<const water::Composition> raws,
                                        const ScalePlan& plan,
                                        bool antiscalant) {
  constexpr int kMost = 75;
  constexpr int kLeast = 5;
  constexpr int kStep = 5;  // %: nobody sets a restrictor finer
  const water::Composition& raw = raws[raws.size() / 2];
  for (int recovery = kMost; recovery >= kLeast; recovery -= kStep) {
    const auto wall = at_the_wall(raw, recovery / 100.0, 1 + kExcess, plan.temperature);
    const bool slow = std::all_of(kGraded.begin(), kGraded.end(), [&](Mineral m) {
      return grade(water::saturation_index(wall, m), grades_of(m, antiscalant, plan)) <=
             ScaleGrade::kSlow;
    });
    if (slow) return recovery / 100.0;
  }
  return std::nullopt;
}

}  // namespace drawoff::visit
