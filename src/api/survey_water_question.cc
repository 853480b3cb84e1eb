#include "api/survey_water_question.h"

#include <fmt/format.h>

#include <array>
#include <cmath>

#include "messages/number.h"
#include "numerics/sample.h"
#include "water/conductivity.h"
#include "water/pitzer.h"
#include "water/saturation.h"

namespace drawoff::api {
namespace {

using water::Known;
using water::Speciation;
using water::Species;

double milligrams(units::Density d) { return d / units::milligram_per_litre(1); }

// A quantity of a whole water, in the unit of the key.
struct Quantity {
  const char* name;
  const char* unit;
  double (*of)(const Speciation&);
};

template <Known kOf>
double by_test(const Speciation& w) {
  return water::quantity_of(kOf, w) * 1e3;
}
constexpr Quantity kConductivity{"conductivity_25", "uS_cm", [](const Speciation& w) {
                                   return water::quantity_of(Known::kConductivity, w) * 1e4;
                                 }};
constexpr Quantity kPh{"pH", "", [](const Speciation& w) { return w.ph; }};
constexpr Quantity kHardness{"hardness", "mg_L_CaCO3", by_test<Known::kHardness>};
constexpr Quantity kAlkalinity{"alkalinity", "mg_L_CaCO3", by_test<Known::kAlkalinity>};

constexpr std::array kWater{
    kConductivity,
    kPh,
    kHardness,
    kAlkalinity,
    Quantity{"tds",
             "mg_L",
             [](const Speciation& w) { return milligrams(water::total_dissolved(w.total)); }},
    Quantity{"osmotic_pressure", "bar", [](const Speciation& w) {
               return water::osmotic_pressure(w.total, w.temperature) / units::bar(1);
             }}};

struct Index {
  const char* name;
  water::Mineral mineral;
};
constexpr std::array kIndices{Index{"calcite", water::Mineral::kCalcite},
                              Index{"gypsum", water::Mineral::kGypsum},
                              Index{"barite", water::Mineral::kBarite},
                              Index{"celestite", water::Mineral::kCelestite},
                              Index{"fluorite", water::Mineral::kFluorite},
                              Index{"silica", water::Mineral::kSilica}};

// What each reading is of, in the unit that it is shown in.
const Quantity& quantity_of(Known of) {
  static constexpr Quantity kChloride{"chloride", "mg_L", by_test<Known::kChloride>};
  static constexpr Quantity kSulfate{"sulfate", "mg_L", by_test<Known::kSulfate>};
  static constexpr Quantity kNitrate{"nitrate", "mg_L", by_test<Known::kNitrate>};
  static constexpr Quantity kFluoride{"fluoride", "mg_L", by_test<Known::kFluoride>};
  static constexpr Quantity kIron{"iron", "mg_L", by_test<Known::kIron>};
  switch (of) {
    case Known::kConductivity:
      return kConductivity;
    case Known::kPh:
      return kPh;
    case Known::kHardness:
      return kHardness;
    case Known::kAlkalinity:
      return kAlkalinity;
    case Known::kChloride:
      return kChloride;
    case Known::kSulfate:
      return kSulfate;
    case Known::kNitrate:
      return kNitrate;
    case Known::kFluoride:
      return kFluoride;
    case Known::kIron:
      return kIron;
  }
  return kConductivity;
}

template <class Of>
Band band_over(const std::vector<Speciation>& members, const char* unit, Of of) {
  std::vector<double> values;
  values.reserve(members.size());
  for (const Speciation& w : members) values.push_back(of(w));
  const auto ordered = numerics::sorted(values);
  return {.low = numerics::quantile(ordered, 0.05),
          .middle = numerics::quantile(ordered, 0.5),
          .high = numerics::quantile(ordered, 0.95),
          .unit = unit};
}

base::Number shown(double value, const char* unit) {
  const auto* known = units::unit_of_key(unit);
  return {value, known == nullptr ? "" : std::string(known->symbol), 2};
}

// The reading as what it said: a value, or a field.
base::Message said(const water::KnownReading& r) {
  const Quantity& q = quantity_of(r.of);
  const double scale = r.of == Known::kPh ? 1 : r.of == Known::kConductivity ? 1e4 : 1e3;
  const auto number = [&](double si) {
    base::Number n = shown(si * scale, q.unit);
    n.digits = 3;
    return n;
  };
  if (r.value) return {"survey_water.value", {{"value", number(*r.value)}}};
  if (r.low && r.high) {
    return {"survey_water.field", {{"low", number(*r.low)}, {"high", number(*r.high)}}};
  }
  return r.high ? base::Message{"survey_water.below", {{"high", number(*r.high)}}}
                : base::Message{"survey_water.above", {{"low", number(*r.low)}}};
}

}  // namespace

water::AnalysisEntry analysis_entry_of(const Speciation& w) {
  water::AnalysisEntry entry;
  entry.temperature = w.temperature;
  entry.ph = w.ph;
  for (int i = 0; i < water::kSpeciesCount; ++i) {
    const Species s = water::species_at(i);
    const bool carbonate = s == Species::HCO3 || s == Species::CO3 || s == Species::CO2;
    if (carbonate || s == Species::H || s == Species::OH || w.total[s] == 0) continue;
    entry.ions.constituents[water::index(s)] =
        water::measured(units::Density(w.total[s] * water::molar_mass_of(s)));
  }
  entry.alkalinity = units::Density(water::alkalinity_of(w.total) * water::kCalciumCarbonate / 2);
  return entry;
}

base::Result<SurveyWaterOutput> ask_survey_water(const SurveyWaterInput& in,
                                                 Working& working,
                                                 const messages::Catalogue& words) {
  const water::HalfKnown known = visit::half_known(in.water);
  const water::LikelyWaters likely =
      water::likely_waters(known, static_cast<std::uint64_t>(in.seed));
  const auto draws = static_cast<double>(likely.members.size());

  SurveyWaterOutput out;
  const auto add = [&](std::vector<LikelyAmount>& rows,
                       const char* key,
                       const std::string& name,
                       const char* unit,
                       auto of) {
    rows.push_back({name, band_over(likely.members, unit, of)});
    explain_band(working,
                 fmt::format("{}[{}].likely", key, rows.size() - 1),
                 rows.back().likely,
                 draws,
                 "oliver1996");
  };
  for (const Quantity& q : kWater) add(out.water, "water", q.name, q.unit, q.of);
  for (int i = 0; i < water::kSpeciesCount; ++i) {
    const Species s = water::species_at(i);
    if (s == Species::H || s == Species::OH || !(likely.members.front().total[s] > 0)) continue;
    add(out.species, "species", water::species_data(s).key, "mg_L", [s](const Speciation& w) {
      return w.total[s] * water::molar_mass_of(s) * 1e3;
    });
  }
  for (const Index& index : kIndices) {
    add(out.saturation_index, "saturation_index", index.name, "", [&](const Speciation& w) {
      return water::saturation_index(w, index.mineral);
    });
  }

  // Further off than one reading in a hundred.
  constexpr double kDoubtful = 2.58;
  for (std::size_t i = 0; i < known.readings.size(); ++i) {
    const water::KnownReading& r = known.readings[i];
    const Quantity& q = quantity_of(r.of);
    ReadingAgainstWater row{.of = q.name,
                            .likely = band_over(likely.members, q.unit, q.of),
                            .fits = std::fabs(likely.misfit[i]) < kDoubtful};
    explain_band(working, fmt::format("readings[{}].likely", i), row.likely, draws, "oliver1996");
    if (!row.fits) {
      water::HalfKnown others = known;
      others.readings.erase(others.readings.begin() + static_cast<std::ptrdiff_t>(i));
      const auto without = water::likely_waters(others, static_cast<std::uint64_t>(in.seed));
      out.doubts.push_back(messages::render(
          words,
          {"survey_water.doubt.does_not_fit",
           {{"what", base::Ref{"known." + std::string(q.name)}},
            {"said", messages::render(words, said(r))},
            {"likely", shown(band_over(without.members, q.unit, q.of).middle, q.unit)}}}));
    }
    out.readings.push_back(std::move(row));
  }
  const std::pair<const char*, std::optional<visit::TestEntry> visit::KnownWaterEntry::*> tests[] =
      {{"hardness", &visit::KnownWaterEntry::hardness},
       {"alkalinity", &visit::KnownWaterEntry::alkalinity},
       {"chloride", &visit::KnownWaterEntry::chloride},
       {"sulfate", &visit::KnownWaterEntry::sulfate},
       {"nitrate", &visit::KnownWaterEntry::nitrate},
       {"fluoride", &visit::KnownWaterEntry::fluoride},
       {"iron", &visit::KnownWaterEntry::iron}};
  for (const auto& [name, test] : tests) {
    const auto& t = in.water.*test;
    if (!t || !visit::expired(*t, in.water)) continue;
    out.doubts.push_back(messages::render(
        words,
        {"survey_water.doubt.expired",
         {{"what", base::Ref{"known." + std::string(name)}}, {"expires", t->expires}}}));
  }
  if (!in.water.meter) {
    out.doubts.push_back(messages::render(words, {"survey_water.doubt.no_meter"}));
  }
  if (in.members) {
    for (const Speciation& w : likely.members) out.members.push_back(analysis_entry_of(w));
  }
  return out;
}

}  // namespace drawoff::api
