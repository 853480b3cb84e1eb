#include <array>
#include <cmath>

#include "water/conductivity.h"
#include "water/lab_report.h"

namespace drawoff::water {
namespace {

using base::Message;
using base::Number;

// What an anion sum allows the balance to be off by: ±0.2 meq/L to 3 meq/L, 2 % to 10, 5 % beyond.
// [apha2005, 1030 E], from memory.
double allowed_pct(double anions_meq) {
  if (anions_meq <= 3) return anions_meq > 0 ? 100 * 0.2 / (2 * anions_meq) : 100;
  return anions_meq <= 10 ? 2 : 5;
}

// Measured over calculated, from memory of the same page; and for hardness common practice.
constexpr double kConductivityLow = 0.9;
constexpr double kConductivityHigh = 1.1;
constexpr double kDissolvedLow = 1.0;
constexpr double kDissolvedHigh = 1.2;
constexpr double kHardnessOff = 0.1;

Number mg(units::Density d) { return {d.si() * 1e3, "mg/L", 3}; }

}  // namespace

std::vector<Message> cross_checks(const AnalysisEntry& water, const LabFacts& facts) {
  std::vector<Message> out;
  const Analysis a = analysis_of(water);
  const auto has = [&](Species s) { return a[s].report != Report::kNotAnalysed; };
  std::string lacking;
  for (const Species s : {Species::Ca, Species::Mg, Species::Na, Species::Cl, Species::SO4}) {
    if (!has(s)) lacking += (lacking.empty() ? "" : ", ") + species_data(s).key;
  }
  if (!reported_alkalinity(a)) lacking += std::string(lacking.empty() ? "" : ", ") + "alkalinity";
  if (has(Species::Ca) && has(Species::Mg) && facts.hardness) {
    const double told = hardness(a).si();
    const double said = facts.hardness->si();
    if (std::fabs(told - said) > kHardnessOff * std::max(told, said)) {
      out.push_back(
          {"report.check.hardness", {{"said", mg(*facts.hardness)}, {"told", mg(hardness(a))}}});
    }
  }
  if (!lacking.empty()) {
    out.push_back({"report.check.impossible", {{"keys", lacking}}});
    return out;
  }
  const ReportedEquivalents e = reported_equivalents(a);
  const double balance = charge_balance_error_pct(a);
  const double allowed = allowed_pct(e.anions.si());
  if (std::fabs(balance) > allowed) {
    out.push_back(
        {balance > 0 ? "report.check.cations" : "report.check.anions",
         {{"off", Number{std::fabs(balance), "%", 2}}, {"allowed", Number{allowed, "%", 2}}}});
  }
  const auto whole = speciate(a);
  if (whole && facts.conductivity) {
    const double ratio = *facts.conductivity / conductivity_25(*whole);
    if (ratio < kConductivityLow || ratio > kConductivityHigh) {
      out.push_back({"report.check.conductivity",
                     {{"said", Number{facts.conductivity->si() * 1e4, "µS/cm", 3}},
                      {"told", Number{conductivity_25(*whole).si() * 1e4, "µS/cm", 3}}}});
    }
  }
  if (facts.tds) {
    // A residue on drying lies between the two ways of counting bicarbonate.
    const double low = *facts.tds / dissolved_solids(a);
    const double high = *facts.tds / residue(a);
    if (high < kDissolvedLow * 0.9 || low > kDissolvedHigh) {
      out.push_back({"report.check.tds",
                     {{"said", mg(*facts.tds)},
                      {"told", mg(dissolved_solids(a))},
                      {"dried", mg(residue(a))}}});
    }
  }
  if (facts.iron_total && has(Species::Fe) &&
      facts.iron_total->si() < (1 - kHardnessOff) * a[Species::Fe].counted().si()) {
    out.push_back({"report.check.iron"});
  }
  return out;
}

}  // namespace drawoff::water
