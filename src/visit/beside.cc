#include "visit/beside.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "numerics/random.h"
#include "water/half_known.h"

namespace drawoff::visit {
namespace {

using water::Known;
using water::KnownReading;
using water::Species;

struct Amount {
  Known known;
  Species species;
};
constexpr std::array kAmounts{Amount{Known::kChloride, Species::Cl},
                              Amount{Known::kSulfate, Species::SO4},
                              Amount{Known::kNitrate, Species::NO3},
                              Amount{Known::kFluoride, Species::F},
                              Amount{Known::kIron, Species::Fe}};

constexpr double kOneInAHundred = 2.58;  // standard deviations
constexpr double kMostImbalance = 5;     // [%] Standard Methods 1030 E (from memory)
constexpr double kPhFromDayToDay = 0.2;  // common practice, no source

std::optional<Species> amount_of(Known known) {
  for (const Amount& a : kAmounts) {
    if (a.known == known) return a.species;
  }
  return std::nullopt;
}

bool beside(const SurveyEntry& s) { return s.basis == SurveyBasis::kAnalysis && s.known; }

// Those that add a substance that was not analysed.
std::vector<KnownReading> adding(const SurveyEntry& survey) {
  if (!beside(survey)) return {};
  const auto analysis = water::analysis_of(survey.water);
  std::vector<KnownReading> out;
  for (const KnownReading& r : half_known(*survey.known).readings) {
    const auto species = amount_of(r.of);
    if (species && analysis[*species].report == water::Report::kNotAnalysed) out.push_back(r);
  }
  return out;
}

// One of the amounts [kg/m³] for which a reading stands. A field that is open above is taken to
// reach eightfold, evenly in the logarithm; any other evenly in the amount.
double drawn(const KnownReading& r, numerics::Random& random) {
  constexpr double kOpenField = 8;
  if (r.value) return std::max(0.0, *r.value + r.sigma * random.normal());
  const double eye = std::exp(r.blur * random.normal());
  if (!r.high) return *r.low * std::pow(kOpenField, random.uniform()) * eye;
  const double low = r.low.value_or(0);
  return (low + (*r.high - low) * random.uniform()) * eye;
}

struct Sight {
  const char* word;
  const char* unit;
  double scale;  // of SI
};
Sight sight_of(Known known) {
  switch (known) {
    case Known::kConductivity:
      return {"known.conductivity_25", "µS/cm", 1e4};
    case Known::kPh:
      return {"known.pH", "", 1};
    case Known::kHardness:
      return {"known.hardness", "mg/L", 1e3};
    case Known::kAlkalinity:
      return {"known.alkalinity", "mg/L", 1e3};
    case Known::kChloride:
      return {"known.chloride", "mg/L", 1e3};
    case Known::kSulfate:
      return {"known.sulfate", "mg/L", 1e3};
    case Known::kNitrate:
      return {"known.nitrate", "mg/L", 1e3};
    case Known::kFluoride:
      return {"known.fluoride", "mg/L", 1e3};
    case Known::kIron:
      return {"known.iron", "mg/L", 1e3};
  }
  return {"known.pH", "", 1};
}

// Whether the analysis has something to say to a reading of this.
bool analysed(Known known, const water::Analysis& a) {
  const auto has = [&](Species s) { return a[s].report == water::Report::kMeasured; };
  if (const auto species = amount_of(known)) return has(*species);
  if (known == Known::kHardness) return has(Species::Ca) && has(Species::Mg);
  if (known == Known::kAlkalinity) return water::reported_alkalinity(a).has_value();
  // What was left out conducts too: only a balanced analysis is all of the water.
  if (known == Known::kConductivity) {
    return std::fabs(water::charge_balance_error_pct(a)) <= kMostImbalance;
  }
  return true;
}

bool far(const KnownReading& r, double found, double strength_spread) {
  if (r.of == Known::kPh) {
    return std::fabs(found - *r.value) > kOneInAHundred * std::hypot(r.sigma, kPhFromDayToDay);
  }
  if (r.of == Known::kConductivity) {
    return std::fabs(std::log(found / *r.value)) >
           kOneInAHundred * std::hypot(r.sigma, strength_spread);
  }
  if (r.value) {
    return std::fabs(found - *r.value) >
           kOneInAHundred * std::hypot(r.sigma, strength_spread * found);
  }
  const double reach = std::exp(kOneInAHundred * std::hypot(r.blur, strength_spread));
  return found < r.low.value_or(0) / reach || (r.high && found > *r.high * reach);
}

}  // namespace

bool read_beside(std::string_view substance, const SurveyEntry& survey) {
  const auto species = water::species_from_key(substance);
  const auto readings = adding(survey);
  return species && std::any_of(readings.begin(), readings.end(), [&](const KnownReading& r) {
           return amount_of(r.of) == species;
         });
}

std::vector<water::Composition> with_readings(const water::Composition& analysed,
                                              const SurveyEntry& survey) {
  const auto readings = adding(survey);
  if (readings.empty()) return {analysed};
  constexpr std::uint64_t kSeed = 1;  // one survey, one set of waters
  std::vector<water::Composition> members;
  for (int i = 0; i < water::kLikelyWaters; ++i) {
    numerics::Random random(kSeed, static_cast<std::uint64_t>(i));
    members.push_back(analysed);
    for (const KnownReading& r : readings) {
      const Species s = *amount_of(r.of);
      members.back()[s] = drawn(r, random) / water::molar_mass_of(s);
    }
  }
  return members;
}

std::vector<base::Message> contradictions(const SurveyEntry& survey) {
  if (!beside(survey)) return {};
  const auto analysis = water::analysis_of(survey.water);
  const auto told = water::speciation(analysis);
  if (!told) return {};
  std::vector<base::Message> out;
  for (const KnownReading& r : half_known(*survey.known).readings) {
    if (!analysed(r.of, analysis)) continue;
    const double found = water::quantity_of(r.of, *told);
    if (!far(r, found, survey.strength_spread)) continue;
    const Sight sight = sight_of(r.of);
    const auto number = [&](double si) { return base::Number{si * sight.scale, sight.unit, 3}; };
    std::vector<std::pair<std::string, base::Argument>> arguments{{"what", base::Ref{sight.word}},
                                                                  {"found", number(found)}};
    const char* id = "verdict.caution.reading_differs";
    if (r.value) {
      arguments.emplace_back("read", number(*r.value));
    } else if (r.low && r.high) {
      id = "verdict.caution.reading_differs_field";
      arguments.emplace_back("low", number(*r.low));
      arguments.emplace_back("high", number(*r.high));
    } else {
      id =
          r.low ? "verdict.caution.reading_differs_above" : "verdict.caution.reading_differs_below";
      arguments.emplace_back("read", number(r.low ? *r.low : *r.high));
    }
    out.push_back({id, std::move(arguments)});
  }
  return out;
}

}  // namespace drawoff::visit
