#include "visit/downstream.h"

#include <algorithm>

#include "messages/number.h"
#include "numerics/sample.h"
#include "visit/evidence.h"
#include "visit/limits.h"
#include "water/speciation.h"

namespace drawoff::visit {
namespace {

using base::Message;
using base::Number;
using units::milligram_per_litre;

// A product with less alkalinity or a lower pH dissolves metals: targets of the shared notes on
// corrosion (40 mg/L as CaCO3, pH 7), from memory.
constexpr double kAlkalinity = 40;
constexpr double kPh = 7;
// Few minerals: Mg under 10 or Ca under 20 mg/L, an author's recommendation, no guideline value.
constexpr double kMagnesium = 10;
constexpr double kCalcium = 20;
// Sodium that a restricted diet asks after: an advisory 20 mg/L, from memory.
constexpr double kSodium = 20;
// Sodium of a softener for the hardness that it takes out: 2 Na for each CaCO3.
double sodium_for_hardness() {
  return 2 * water::molar_mass_of(water::Species::Na) / water::kCalciumCarbonate;
}

double mg(units::Density d) { return d / milligram_per_litre(1); }

struct Range {
  double low, high;
};
template <class Of>
Range over(std::span<const water::Composition> products, Of of) {
  std::vector<double> values;
  for (const auto& p : products) values.push_back(of(p));
  const auto ordered = numerics::sorted(values);
  return {numerics::quantile(ordered, 0.05), numerics::quantile(ordered, 0.95)};
}

Number two(double value, const char* unit) { return {value, unit, 2}; }

}  // namespace

std::vector<Message> downstream(const SurveyEntry& survey,
                                const water::Composition& raw,
                                std::span<const water::Composition> products,
                                units::Temperature temperature) {
  std::vector<Message> out;
  if (products.empty()) return out;
  const Range alkalinity = over(products, [](const auto& p) { return mg(water::alkalinity(p)); });
  const water::Composition& middle = products[products.size() / 2];
  const double ph = water::closed_speciation(middle, temperature).ph;
  // What was not analysed is not zero.
  const auto analysis = water::analysis_of(survey.water);
  const bool by_analysis = survey.basis == SurveyBasis::kAnalysis;
  const bool alkalinity_known = !by_analysis || water::reported_alkalinity(analysis);
  if (alkalinity_known && (alkalinity.low < kAlkalinity || ph < kPh)) {
    const auto say = [&](const char* id) {
      out.push_back({id,
                     {{"low", two(std::max(alkalinity.low, 0.0), "mg/L")},
                      {"high", two(std::max(alkalinity.high, 0.0), "mg/L")},
                      {"ph", two(ph, "")}}});
    };
    const BuildingEntry building = survey.building.value_or(BuildingEntry{});
    say("verdict.behind.corrosive");
    if (building.copper) say("verdict.behind.copper");
    if (building.brass) say("verdict.behind.brass");
    if (building.galvanised) say("verdict.behind.galvanised");
  }
  const Range calcium = over(products, [](const auto& p) { return mg(amount_of("Ca", p)); });
  const Range magnesium = over(products, [](const auto& p) { return mg(amount_of("Mg", p)); });
  const bool minerals_known = !by_analysis || analysed("hardness", analysis);
  if (minerals_known && calcium.high < kCalcium && magnesium.high < kMagnesium) {
    out.push_back(
        {"verdict.behind.few_minerals",
         {{"calcium", two(calcium.high, "mg/L")}, {"magnesium", two(magnesium.high, "mg/L")}}});
  }
  if (minerals_known && survey.building && survey.building->softener) {
    const double sodium =
        mg(amount_of("Na", raw)) + sodium_for_hardness() * mg(water::hardness(raw));
    // What passes of sodium: as of the raw water's own, or of all salts where there is none.
    const double own = mg(amount_of("Na", raw));
    const Range passed = over(products, [&](const auto& p) {
      return own > 0
                 ? mg(amount_of("Na", p)) / own
                 : mg(water::total_dissolved(p)) / std::max(mg(water::total_dissolved(raw)), 1e-9);
    });
    const double high = sodium * passed.high;
    out.push_back({high > kSodium ? "verdict.behind.sodium_diet" : "verdict.behind.sodium",
                   {{"raw", two(sodium, "mg/L")}, {"high", two(high, "mg/L")}}});
  }
  return out;
}

}  // namespace drawoff::visit
