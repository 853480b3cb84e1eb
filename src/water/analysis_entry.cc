#include "water/analysis_entry.h"

#include <algorithm>
#include <string>
#include <vector>

#include "fields/json.h"

namespace drawoff {

namespace water {

namespace {

// What contract.md lists under each key.
constexpr std::array kIons{Species::Ca,   Species::Mg,  Species::Na,  Species::K,    Species::NH4,
                           Species::Ba,   Species::Sr,  Species::Fe,  Species::Mn,   Species::Al,
                           Species::HCO3, Species::CO3, Species::Cl,  Species::SO4,  Species::NO3,
                           Species::NO2,  Species::F,   Species::PO4, Species::SiO2, Species::B};
constexpr std::array kTraces{Species::As3,
                             Species::As5,
                             Species::Pb,
                             Species::U,
                             Species::Cr,
                             Species::Cd,
                             Species::Se,
                             Species::Cu,
                             Species::Ni,
                             Species::Hg};

}  // namespace

Analysis analysis_of(const AnalysisEntry& entry) {
  Analysis a;
  a.temperature = entry.temperature;
  a.ph = entry.ph;
  a.ph_temperature = entry.ph_temperature;
  for (const Species s : kIons) a[s] = entry.ions.constituents[index(s)];
  for (const Species s : kTraces) a[s] = entry.traces.constituents[index(s)];
  a.alkalinity_as_calcium_carbonate = entry.alkalinity;
  return a;
}

}  // namespace water

namespace fields {

namespace {

using water::Report;
using water::Species;

// Concentrations above this are a slip of the unit, not a drinking-water source [kg/m³].
constexpr double kMostIon = 40;
constexpr double kMostTrace = 1;
// What water holds of carbon dioxide under about its own pressure; beyond, pH and alkalinity
// cannot both be true.
constexpr units::Density kMostCarbonDioxide = units::milligram_per_litre(1500);
// Smallest bound of a "below", in the unit of the key.
constexpr double kLeastBound = 1e-6;
// All together: a little more than sea water, where the models of activity end.
constexpr units::Density kMostDissolved = units::milligram_per_litre(45000);

std::vector<std::string> keys_of(std::span<const Species> species) {
  std::vector<std::string> keys;
  for (const Species s : species) keys.push_back(water::species_data(s).key);
  return keys;
}

base::Result<water::Constituent> read_one(const Json& json, const Place& place) {
  const Json* value = &json;
  Place at = place;
  Report report = Report::kMeasured;
  if (json.is_object()) {
    report = Report::kBelow;
    at.path = place.path / "lt";
    const auto found = json.find("lt");
    if (found == json.end()) return missing(at);
    value = &*found;
  }
  const auto number = detail::number_in(*value);
  if (!number) return wrong_type(at, *value, Wanted::kNumber);
  // Below nothing is no bound.
  if (report == Report::kBelow) at.range.low = kLeastBound;
  if (*number < at.range.low || *number > at.range.high) return out_of_range(at, *number);
  return water::Constituent{report, units::Density(units::to_si(*at.unit, *number))};
}

using Constituents = std::array<water::Constituent, water::kSpeciesCount>;

base::Result<Constituents> read_all(const Json& json,
                                    const Place& place,
                                    std::span<const Species> allowed,
                                    double most) {
  if (!json.is_object()) return wrong_type(place, json, Wanted::kObject);
  const auto keys = keys_of(allowed);
  Constituents result{};
  for (const auto& [key, value] : json.items()) {
    Place at{.path = place.path / key,
             .meaning = "field.analysis.constituent",
             .unit = place.unit,
             .range = {0, units::from_si(*place.unit, most)}};
    std::optional<Species> found;
    for (const Species s : allowed) {
      if (water::species_data(s).key == key) found = s;
    }
    if (!found) {
      at.path = place.path;
      at.meaning = place.meaning;
      return not_a_choice(at, key, keys);
    }
    TRY(result[water::index(*found)], read_one(value, at));
  }
  return result;
}

Json write_all(const Constituents& constituents,
               std::span<const Species> allowed,
               const units::Unit* unit) {
  Json out = Json::object();
  for (const Species s : allowed) {
    const auto& c = constituents[water::index(s)];
    if (c.report == Report::kNotAnalysed) continue;
    const Json number = json_number(units::from_si_shortest(*unit, c.value.si()));
    out[water::species_data(s).key] = c.report == Report::kBelow ? Json{{"lt", number}} : number;
  }
  return out;
}

Json schema_all(std::span<const Species> allowed, const units::Unit* unit) {
  const Json one = {{"type", "number"}, {"minimum", 0}};
  const Json below = {{"type", "object"},
                      {"properties", {{"lt", {{"type", "number"}, {"exclusiveMinimum", 0}}}}},
                      {"required", Json::array({"lt"})}};
  Json properties = Json::object();
  for (const auto& key : keys_of(allowed)) {
    properties[key] = {{"oneOf", Json::array({one, below})}};
  }
  return {{"type", "object"},
          {"properties", properties},
          {"additionalProperties", false},
          {"x-unit", std::string(unit->ucum)}};
}

}  // namespace

base::Result<water::Ions> Codec<water::Ions>::read(const Json& json,
                                                   const Place& place,
                                                   ReadContext& /*context*/) {
  TRY(Constituents all, read_all(json, place, water::kIons, kMostIon));
  return water::Ions{all};
}
Json Codec<water::Ions>::write(const water::Ions& ions, const units::Unit* unit) {
  return write_all(ions.constituents, water::kIons, unit);
}
Json Codec<water::Ions>::schema(const units::Unit* unit) { return schema_all(water::kIons, unit); }

base::Result<water::Traces> Codec<water::Traces>::read(const Json& json,
                                                       const Place& place,
                                                       ReadContext& /*context*/) {
  TRY(Constituents all, read_all(json, place, water::kTraces, kMostTrace));
  return water::Traces{all};
}
Json Codec<water::Traces>::write(const water::Traces& traces, const units::Unit* unit) {
  return write_all(traces.constituents, water::kTraces, unit);
}
Json Codec<water::Traces>::schema(const units::Unit* unit) {
  return schema_all(water::kTraces, unit);
}

base::Result<base::Done> Table<water::AnalysisEntry>::check(const T& entry, const Path& path) {
  auto given = [&](Species s) {
    return entry.ions.constituents[water::index(s)].report != Report::kNotAnalysed;
  };
  if (entry.alkalinity && (given(Species::HCO3) || given(Species::CO3))) {
    return base::Error{base::ErrorKind::kData,
                       {"error.analysis.alkalinity_twice",
                        {{"path", path_argument(path / "alkalinity_mg_L_CaCO3")}}}};
  }
  if (!entry.alkalinity && std::none_of(water::kIons.begin(), water::kIons.end(), given)) {
    return base::Error{base::ErrorKind::kData,
                       {"error.analysis.empty", {{"path", path_argument(path / "ions_mg_L")}}}};
  }
  const auto analysis = water::analysis_of(entry);
  const auto whole = water::dissolved_solids(analysis);
  if (whole > kMostDissolved) {
    return base::Error{
        base::ErrorKind::kData,
        {"error.analysis.too_strong",
         {{"path", path_argument(path / "ions_mg_L")},
          {"value", base::Number{whole / units::milligram_per_litre(1), "mg/L", 6}},
          {"most", base::Number{kMostDissolved / units::milligram_per_litre(1), "mg/L", 6}}}}};
  }
  const auto composition = water::speciate(analysis);
  if (!composition) return composition.error();
  const units::Density gas((*composition)[Species::CO2] * water::molar_mass_of(Species::CO2));
  if (gas > kMostCarbonDioxide) {
    return base::Error{
        base::ErrorKind::kData,
        {"error.analysis.ph_alkalinity",
         {{"path", path_argument(path / "pH")},
          {"value", base::Number{entry.ph, "", 4}},
          {"gas", base::Number{gas / units::milligram_per_litre(1), "mg/L", 2}},
          {"most", base::Number{kMostCarbonDioxide / units::milligram_per_litre(1), "mg/L", 2}}}}};
  }
  return base::Done{};
}

}  // namespace fields

}  // namespace drawoff
