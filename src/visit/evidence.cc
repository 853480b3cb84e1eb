#include "visit/evidence.h"

#include <array>

#include "visit/beside.h"

namespace drawoff::visit {
namespace {

using water::Analysis;
using water::Report;
using water::Species;

bool has(const Analysis& a, Species s) { return a[s].report != Report::kNotAnalysed; }

struct Test {
  std::string_view substance;
  std::optional<TestEntry> KnownWaterEntry::*entry;
};
constexpr std::array kTests{Test{"hardness", &KnownWaterEntry::hardness},
                            Test{"Cl", &KnownWaterEntry::chloride},
                            Test{"SO4", &KnownWaterEntry::sulfate},
                            Test{"NO3", &KnownWaterEntry::nitrate},
                            Test{"F", &KnownWaterEntry::fluoride},
                            Test{"Fe", &KnownWaterEntry::iron}};

bool tested(std::string_view substance, const KnownWaterEntry& known) {
  if (substance == "TDS") return known.meter.has_value();
  for (const Test& t : kTests) {
    if (t.substance == substance) return (known.*t.entry).has_value();
  }
  return false;
}

}  // namespace

bool analysed(std::string_view substance, const Analysis& a) {
  if (substance == "As") return has(a, Species::As3) || has(a, Species::As5);
  if (substance == "hardness") return has(a, Species::Ca) && has(a, Species::Mg);
  if (substance == "TDS") return true;
  const auto species = water::species_from_key(substance);
  return species && has(a, *species);
}

std::optional<units::Density> stated(std::string_view substance, const Analysis& a) {
  if (substance == "TDS" || !analysed(substance, a)) return std::nullopt;
  if (substance == "As") return a[Species::As3].counted() + a[Species::As5].counted();
  if (substance == "hardness") return water::hardness(a);
  return a[*water::species_from_key(substance)].counted();
}

bool unseen(const Limit& limit, const Analysis& a) {
  const auto hides = [&](Species s) {
    return a[s].report == Report::kBelow && a[s].value > limit.value;
  };
  if (limit.substance == "As") return hides(Species::As3) || hides(Species::As5);
  const auto species = water::species_from_key(limit.substance);
  return species && hides(*species);
}

bool only_below(std::string_view substance, const Analysis& a) {
  const auto below = [&](Species s) { return a[s].report == Report::kBelow; };
  if (substance == "As") {
    return (below(Species::As3) || !has(a, Species::As3)) &&
           (below(Species::As5) || !has(a, Species::As5));
  }
  const auto species = water::species_from_key(substance);
  return species && below(*species);
}

bool form_unknown(std::string_view substance, const Analysis& a) {
  return substance == "As" && has(a, Species::As3) != has(a, Species::As5);
}

std::optional<units::Density> usual_of(std::string_view substance, const SurveyEntry& survey) {
  if (!survey.local) return std::nullopt;
  for (const UsualAmount& u : survey.local->usual) {
    if (u.substance == substance) return u.high;
  }
  return std::nullopt;
}

Evidence evidence_of(std::string_view substance, const SurveyEntry& survey) {
  switch (survey.basis) {
    case SurveyBasis::kAnalysis:
      if (analysed(substance, water::analysis_of(survey.water))) {
        return survey.analysed_by == AnalysedBy::kSupplier ? Evidence::kSupplier
                                                           : Evidence::kLaboratory;
      }
      if (read_beside(substance, survey)) return Evidence::kStrip;
      break;
    case SurveyBasis::kReadings:
      if (tested(substance, *survey.known)) return Evidence::kStrip;
      break;
    case SurveyBasis::kMeter:
      break;
  }
  return usual_of(substance, survey) ? Evidence::kLocal : Evidence::kNone;
}

}  // namespace drawoff::visit
