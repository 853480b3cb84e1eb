#include "api/element_question.h"

#include <fmt/format.h>

#include "fields/errors.h"
#include "membrane/ions.h"
#include "water/composition.h"
#include "water/speciation.h"

namespace drawoff {

namespace api {

namespace {

// What a line of the derivation needs of the solved element.
struct Solved {
  const membrane::Channel& channel;
  const membrane::Membrane<double>& sheet;
  const membrane::Surroundings<double>& around;
  const membrane::ElementResult<double>& result;
};

void explain(const ElementInput& in, const Solved& s, const ElementOutput& out, Working& working) {
  constexpr double kLitresPerHour = 3.6e6;
  const double feed = in.feed_flow / units::litre_per_hour(1);
  const double permeate = *out.permeate_flow / units::litre_per_hour(1);
  const double reject = *out.reject_flow / units::litre_per_hour(1);
  const double flux = *out.flux / units::litre_per_m2_h(1);
  const WorkingInput water_permeability{
      "A(T)",
      units::Permeability(s.sheet.water_permeability) / units::litre_per_m2_h_bar(1),
      "L/(m²·h·bar)"};
  const WorkingInput salt_permeability{
      "B(T)", s.sheet.salt_permeability * kLitresPerHour, "L/(m²·h)"};
  const WorkingInput pressure{"p", in.feed_pressure / units::bar(1), "bar"};
  const WorkingInput back_pressure{"p_p", in.permeate_pressure / units::bar(1), "bar"};
  const auto percent = [&](const char* key,
                           const char* symbol,
                           const char* formula,
                           std::vector<WorkingInput> inputs,
                           double share,
                           const char* source) {
    working.add({.result = key,
                 .symbol = symbol,
                 .formula = formula,
                 .inputs = std::move(inputs),
                 .value = share * 100,
                 .unit = "%",
                 .source = source});
  };

  working.add({.result = "permeate_flow_L_h",
               .symbol = "Q_p",
               .formula = "Q_p = S Σ wᵢ Jᵢ",
               .inputs = {{"S", s.channel.area.si(), "m²"}, {"Σ wᵢ Jᵢ", flux, "L/(m²·h)"}},
               .value = permeate,
               .unit = "L/h",
               .source = "hairer1993"});
  working.add({.result = "reject_flow_L_h",
               .symbol = "Q_r",
               .formula = "Q_r = Q_f − Q_p",
               .inputs = {{"Q_f", feed, "L/h"}, {"Q_p", permeate, "L/h"}},
               .value = reject,
               .unit = "L/h",
               .source = "lonsdale1965"});
  percent("recovery_pct",
          "Y",
          "Y = Q_p/Q_f",
          {{"Q_p", permeate, "L/h"}, {"Q_f", feed, "L/h"}},
          *out.recovery,
          "lonsdale1965");
  percent("permeate_strength_pct",
          "s_p",
          "J s_p = B (s_m − s_p)",
          {{"J", flux, "L/(m²·h)"}, salt_permeability, {"P", *out.polarisation, ""}},
          *out.permeate_strength,
          "lonsdale1965");
  percent("reject_strength_pct",
          "s_r",
          "s_r = (Q_f − Q_p s_p)/Q_r",
          {{"Q_f", feed, "L/h"},
           {"Q_p", permeate, "L/h"},
           {"s_p", *out.permeate_strength, ""},
           {"Q_r", reject, "L/h"}},
          *out.reject_strength,
          "lonsdale1965");
  percent("wall_strength_pct",
          "s_m",
          "s_m = s_p + (s − s_p) e^(J/k)",
          {{"J", flux, "L/(m²·h)"},
           {"s_p", *out.permeate_strength, ""},
           {"s_r", *out.reject_strength, ""}},
          *out.wall_strength,
          "michaels1968");
  if (in.salt) {
    const double salt = *in.salt / units::milligram_per_litre(1);
    working.add({.result = "permeate_mg_L",
                 .symbol = "c_p",
                 .formula = "c_p = s_p c_f",
                 .inputs = {{"s_p", *out.permeate_strength, ""}, {"c_f", salt, "mg/L"}},
                 .value = *out.permeate / units::milligram_per_litre(1),
                 .unit = "mg/L",
                 .source = "lonsdale1965"});
    working.add({.result = "reject_mg_L",
                 .symbol = "c_r",
                 .formula = "c_r = s_r c_f",
                 .inputs = {{"s_r", *out.reject_strength, ""}, {"c_f", salt, "mg/L"}},
                 .value = *out.reject / units::milligram_per_litre(1),
                 .unit = "mg/L",
                 .source = "lonsdale1965"});
  }
  percent("rejection_pct",
          "R",
          "R = 1 − s_p",
          {{"s_p", *out.permeate_strength, ""}},
          *out.rejection,
          "lonsdale1965");
  working.add({.result = "pressure_loss_bar",
               .symbol = "Δp",
               .formula = "Δp = L Σ wᵢ fᵢ ρ uᵢ²/(2 d_h),  f = 6.23 Re^−0.3",
               .inputs = {{"L", s.channel.length.si(), "m"},
                          {"d_h", membrane::hydraulic_diameter(s.channel) * 1e3, "mm"},
                          {"u_f", membrane::channel_velocity(s.channel, in.feed_flow.si()), "m/s"},
                          {"ρ", s.around.fluid.density, "kg/m³"},
                          {"µ", s.around.fluid.viscosity * 1e3, "mPa·s"}},
               .value = *out.pressure_loss / units::bar(1),
               .unit = "bar",
               .source = "schock1987"});
  working.add(
      {.result = "flux_L_m2_h",
       .symbol = "J",
       .formula = "J = A [p − p_p − π(s_m) + π(s_p)]",
       .inputs = {water_permeability,
                  pressure,
                  back_pressure,
                  {"π(1)", s.around.osmotic->pressure(1.0, s.around.temperature) / 1e5, "bar"}},
       .value = flux,
       .unit = "L/(m²·h)",
       .source = "lonsdale1965"});
  working.add(
      {.result = "polarisation",
       .symbol = "P",
       .formula = "P = (s_m − s_p)/(s − s_p) = e^(J/k)",
       .inputs = {{"J", flux, "L/(m²·h)"},
                  {"k_f",
                   in.mass_transfer * membrane::mass_transfer(
                                          in.law, s.channel, in.feed_flow.si(), s.around.fluid),
                   "m/s"}},
       .value = *out.polarisation,
       .unit = "",
       .source = "michaels1968"});
}

// Where each species of an analysis goes, and the pH that follows.
void add_species(const water::Composition& raw,
                 const membrane::ElementIons& ions,
                 units::Temperature temperature,
                 ElementOutput& out) {
  for (int i = 0; i < water::kSpeciesCount; ++i) {
    const auto species = water::species_at(i);
    const double amount = raw.mol_m3[i];
    if (!(amount > 0) || species == water::Species::H || species == water::Species::OH) continue;
    const auto mass = [&](const water::Composition& c) {
      return units::Density(c.mol_m3[i] * water::molar_mass_of(species));
    };
    out.species.push_back({.species = water::species_data(species).key,
                           .feed = mass(raw),
                           .permeate = mass(ions.permeate),
                           .reject = mass(ions.reject),
                           .wall = mass(ions.wall),
                           .passage = ions.permeate.mol_m3[i] / amount});
  }
  out.permeate_ph = water::closed_speciation(ions.permeate, temperature).ph;
  out.reject_ph = water::closed_speciation(ions.reject, temperature).ph;
}

void add_profile(const membrane::ElementResult<double>& result, ElementOutput& out) {
  for (int i = 0; i < membrane::kPoints; ++i) {
    const auto& point = result.points[i];
    out.profile.push_back({.place = membrane::kPlace[i],
                           .flow = units::VolumeFlow(point.flow),
                           .flux = units::Velocity(point.flux),
                           .strength = point.strength,
                           .polarisation = point.polarisation});
  }
}

void explain_species(const ElementOutput& out, double salt_permeability, Working& working) {
  const double flux = *out.flux / units::litre_per_m2_h(1);
  const double recovery = *out.recovery;
  for (std::size_t i = 0; i < out.species.size(); ++i) {
    const SpeciesPassage& s = out.species[i];
    const std::string at = fmt::format("species[{}].", i);
    const auto species = *water::species_from_key(s.species);
    const double ratio = membrane::typical_passage()[water::index(species)];
    const auto in_mg = [](units::Density d) { return d / units::milligram_per_litre(1); };
    const WorkingInput feed{"c_f", in_mg(s.feed), "mg/L"};
    working.add({.result = at + "feed_mg_L",
                 .symbol = "c_f",
                 .formula = "c_f: free species at the feed's pH",
                 .inputs = {},
                 .value = in_mg(s.feed),
                 .unit = "mg/L",
                 .source = "plummer1982"});
    working.add({.result = at + "permeate_mg_L",
                 .symbol = "c_p",
                 .formula = species == water::Species::CO2
                                ? "c_p = c: passes freely"
                                : "J c_p = −ρ B (dc/dξ + z c dφ/dξ), Σ z c = 0",
                 .inputs = {feed,
                            {"ρ", ratio, ""},
                            {"B(T)", salt_permeability * 3.6e6, "L/(m²·h)"},
                            {"z", static_cast<double>(water::charge_of(species)), ""},
                            {"J", flux, "L/(m²·h)"}},
                 .value = in_mg(s.permeate),
                 .unit = "mg/L",
                 .source = "yaroshchuk2013"});
    working.add({.result = at + "reject_mg_L",
                 .symbol = "c_r",
                 .formula = "c_r = (c_f − Y c_p)/(1 − Y)",
                 .inputs = {feed, {"Y", recovery, ""}, {"c_p", in_mg(s.permeate), "mg/L"}},
                 .value = in_mg(s.reject),
                 .unit = "mg/L",
                 .source = "lonsdale1965"});
    working.add({.result = at + "wall_mg_L",
                 .symbol = "c_m",
                 .formula = "c_m = c_p + (c − c_p) e^(J/k), at the last point",
                 .inputs = {{"e^(J/k)", out.profile.back().polarisation, ""}},
                 .value = in_mg(s.wall),
                 .unit = "mg/L",
                 .source = "michaels1968"});
    working.add({.result = at + "passage_pct",
                 .symbol = "c_p/c_f",
                 .formula = "c_p/c_f",
                 .inputs = {{"c_p", in_mg(s.permeate), "mg/L"}, feed},
                 .value = s.passage * 100,
                 .unit = "%",
                 .source = "definition"});
  }
  const auto ph = [&](const char* key, double value) {
    working.add(
        {.result = key,
         .symbol = "pH",
         .formula = "alkalinity = [HCO3] + 2 [CO3] + [OH] − [H], C = [CO2] + [HCO3] + [CO3]",
         .inputs = {},
         .value = value,
         .unit = "",
         .source = "plummer1982"});
  };
  if (out.permeate_ph) ph("permeate_pH", *out.permeate_ph);
  if (out.reject_ph) ph("reject_pH", *out.reject_ph);
}

void explain_profile(const ElementOutput& out, Working& working) {
  for (std::size_t i = 0; i < out.profile.size(); ++i) {
    const PlaceOutput& p = out.profile[i];
    const std::string at = fmt::format("profile[{}].", i);
    const auto line = [&](const char* key,
                          const char* symbol,
                          const char* formula,
                          double value,
                          const char* unit,
                          const char* source) {
      working.add({.result = at + key,
                   .symbol = symbol,
                   .formula = formula,
                   .inputs = {{"x", p.place, ""}},
                   .value = value,
                   .unit = unit,
                   .source = source});
    };
    line("place_pct", "x", "x = ½ ± √15/10, ½", p.place * 100, "%", "hairer1993");
    line("flow_L_h", "Q", "dQ/dx = −J S", p.flow / units::litre_per_hour(1), "L/h", "hairer1993");
    line("flux_L_m2_h",
         "J",
         "J = A [p − p_p − π(s_m) + π(s_p)]",
         p.flux / units::litre_per_m2_h(1),
         "L/(m²·h)",
         "lonsdale1965");
    line("strength_pct", "s", "d(Q s)/dx = −J s_p S", p.strength * 100, "%", "lonsdale1965");
    line("polarisation", "P", "P = e^(J/k)", p.polarisation, "", "michaels1968");
  }
}

}  // namespace

base::Result<ElementOutput> ask_element(const ElementInput& in, Working& working) {
  const auto* size = in.size ? membrane::find_element_size(*in.size) : nullptr;
  CHECK(in.channel || size != nullptr);
  const membrane::Channel channel = in.channel ? *in.channel : size->channel;

  water::Composition raw;
  units::Temperature temperature = units::celsius(25);
  if (in.water) {
    TRY(raw, water::speciate(water::analysis_of(*in.water)));
    temperature = in.water->temperature;
  } else {
    CHECK(in.salt);
    raw = water::sodium_chloride(*in.salt);
  }
  if (in.temperature) temperature = *in.temperature;
  const double t = temperature.si();
  const auto [osmotic, fluid] = membrane_water(raw, temperature, in.osmotic);
  const double ratio = in.water ? membrane::salt_ratio(raw, membrane::typical_passage()) : 1.0;

  const membrane::Membrane<double> sheet{
      .water_permeability =
          in.water_permeability.si() * membrane::arrhenius(in.water_coefficient.si(), t),
      .salt_permeability =
          in.salt_permeability.si() * ratio * membrane::arrhenius(in.salt_coefficient.si(), t),
      .mass_transfer = in.mass_transfer};
  const membrane::Surroundings<double> around{.osmotic = &osmotic,
                                              .temperature = t,
                                              .fluid = fluid,
                                              .permeate_pressure = in.permeate_pressure.si(),
                                              .law = in.law};
  const double feed = in.feed_flow.si();
  const auto result =
      membrane::pass_element(channel, sheet, around, {feed, feed, in.feed_pressure.si()});

  ElementOutput out;
  out.status = result.status;
  if (result.status != membrane::ElementStatus::kSolved) return out;
  out.permeate_flow = units::VolumeFlow(result.permeate_flow);
  out.reject_flow = units::VolumeFlow(result.reject.flow);
  out.recovery = result.permeate_flow / feed;
  const double permeate_strength = result.permeate_salt / result.permeate_flow;
  const double reject_strength = result.reject.salt / result.reject.flow;
  out.permeate_strength = permeate_strength;
  out.reject_strength = reject_strength;
  out.wall_strength = result.wall_salt;
  if (in.salt) {
    out.permeate = *in.salt * permeate_strength;
    out.reject = *in.salt * reject_strength;
  }
  out.rejection = 1 - permeate_strength;
  out.pressure_loss = units::Pressure(in.feed_pressure.si() - result.reject.pressure);
  out.flux = units::Velocity(result.flux);
  out.polarisation = result.polarisation;

  add_profile(result, out);
  const double salt_permeability =
      in.salt_permeability.si() * membrane::arrhenius(in.salt_coefficient.si(), t);
  if (in.water) {
    const auto& ratios = membrane::typical_passage();
    add_species(raw,
                membrane::pass_ions({&ratios, salt_permeability}, channel, result, raw),
                temperature,
                out);
  }

  if (working.asked()) {
    explain(in, {channel, sheet, around, result}, out, working);
    explain_species(out, salt_permeability, working);
    explain_profile(out, working);
  }
  return out;
}

}  // namespace api

namespace fields {

namespace {

base::Error pair_error(const char* id, const Path& path, const char* one, const char* other) {
  return {base::ErrorKind::kData,
          {id, {{"one", path_argument(path / one)}, {"other", path_argument(path / other)}}}};
}

}  // namespace

base::Result<base::Done> Table<api::ElementInput>::check(const T& in, const Path& path) {
  if (in.size && in.channel) return pair_error("error.pair.both", path, "size", "channel");
  if (!in.size && !in.channel) return pair_error("error.pair.neither", path, "size", "channel");
  if (in.salt && in.water) return pair_error("error.pair.both", path, "salt_mg_L", "water");
  if (!in.salt && !in.water) return pair_error("error.pair.neither", path, "salt_mg_L", "water");
  if (in.size && membrane::find_element_size(*in.size) == nullptr) {
    std::vector<std::string> sizes;
    for (const auto& size : membrane::element_sizes()) sizes.push_back(size.name);
    return not_a_choice(
        {.path = path / "size", .meaning = "field.element_input.size"}, *in.size, sizes);
  }
  if (!(in.permeate_pressure < in.feed_pressure)) {
    return base::Error{base::ErrorKind::kData,
                       {"error.element.permeate_pressure",
                        {{"path", path_argument(path / "permeate_pressure_bar")},
                         {"value", base::Number{in.permeate_pressure / units::bar(1), "bar", 6}},
                         {"feed", base::Number{in.feed_pressure / units::bar(1), "bar", 6}}}}};
  }
  return base::Done{};
}

}  // namespace fields

}  // namespace drawoff
