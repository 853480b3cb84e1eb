#include "api/rating_question.h"

#include <algorithm>

#include "machine/ensemble.h"
#include "machine/tolerances.h"
#include "membrane/rating.h"
#include "water/composition.h"

namespace drawoff::api {

namespace {

membrane::RatingTest test_of(const machine::ElementEntry& plate) {
  return {.permeate_flow = plate.permeate_flow,
          .rejection = 1 - machine::plate_passage(plate).median,
          .pressure = plate.test_pressure,
          .salt = plate.test_salt.value_or(machine::kUsualTestSalt),
          .temperature = plate.test_temperature.value_or(machine::kUsualTestTemperature),
          .recovery = plate.test_recovery.value_or(machine::kUsualTestRecovery)};
}

}  // namespace

base::Result<RatingOutput> ask_rating(const RatingInput& in, Working& working) {
  const auto* size = membrane::find_element_size(in.element.size);
  CHECK(size != nullptr);
  const auto& channel = size->channel;
  const membrane::RatingTest test = test_of(in.element);
  const auto [osmotic, fluid] =
      membrane_water(water::sodium_chloride(test.salt), test.temperature, in.osmotic);
  const membrane::TemperatureCoefficients coefficients{
      .water = machine::tolerance("water_temperature_coefficient"),
      .salt = machine::tolerance("salt_temperature_coefficient")};
  const membrane::Rating rating = membrane::invert_rating(test,
                                                          {.osmotic = osmotic, .fluid = fluid},
                                                          {.channel = channel,
                                                           .law = in.law,
                                                           .mass_transfer = in.mass_transfer,
                                                           .coefficients = coefficients});
  const base::Error contradicts{base::ErrorKind::kData, {"error.rating.contradicts"}};
  if (rating.status != membrane::RatingStatus::kFound) return contradicts;

  // The plate's test once more with the membrane found, for the state in it.
  const double t = test.temperature.si();
  const double warm_water = membrane::arrhenius(coefficients.water, t);
  const double warm_salt = membrane::arrhenius(coefficients.salt, t);
  const double feed = test.permeate_flow.si() / test.recovery;
  const membrane::Membrane<double> sheet{.water_permeability = rating.water.si() * warm_water,
                                         .salt_permeability = rating.salt.si() * warm_salt,
                                         .mass_transfer = in.mass_transfer};
  const membrane::Surroundings<double> around{
      .osmotic = &osmotic, .temperature = t, .fluid = fluid, .law = in.law};
  const auto state =
      membrane::pass_element(channel, sheet, around, {feed, feed, test.pressure.si()});
  if (state.status != membrane::ElementStatus::kSolved) return contradicts;

  RatingOutput out;
  out.water = rating.water;
  out.salt = rating.salt;
  out.flux = units::Velocity(state.flux);
  out.polarisation = state.polarisation;
  out.net = units::Pressure(state.flux / sheet.water_permeability);
  out.flow_residual = rating.flow_residual;
  out.passage_residual = rating.passage_residual;
  out.assumed = machine::assumed(in.element);

  if (!working.asked()) return out;
  const double flux = out.flux / units::litre_per_m2_h(1);
  const double permeability = out.water / units::litre_per_m2_h_bar(1);
  const WorkingInput strength{"s_p", state.permeate_salt / state.permeate_flow, ""};
  const WorkingInput celsius{"t", units::in_celsius(test.temperature), "°C"};
  working.add({.result = "water_permeability_L_m2_h_bar",
               .symbol = "A",
               .formula = "A = J/[(p − p_p − π(s_m) + π(s_p)) e^(K_A (1/298.15 − 1/T))]",
               .inputs = {{"J", flux, "L/(m²·h)"},
                          {"p − p_p − Δπ", out.net / units::bar(1), "bar"},
                          {"K_A", coefficients.water, "K"},
                          celsius},
               .value = permeability,
               .unit = "L/(m²·h·bar)",
               .source = "lonsdale1965"});
  working.add({.result = "salt_permeability_L_m2_h",
               .symbol = "B",
               .formula = "B = J s_p/[(s_m − s_p) e^(K_B (1/298.15 − 1/T))]",
               .inputs = {{"J", flux, "L/(m²·h)"},
                          strength,
                          {"(s_m − s_p)/(s − s_p)", out.polarisation, ""},
                          {"K_B", coefficients.salt, "K"},
                          celsius},
               .value = out.salt / units::litre_per_m2_h(1),
               .unit = "L/(m²·h)",
               .source = "lonsdale1965"});
  working.add({.result = "flux_L_m2_h",
               .symbol = "J",
               .formula = "J = Q_p/S",
               .inputs = {{"Q_p", test.permeate_flow / units::litre_per_hour(1), "L/h"},
                          {"S", channel.area.si(), "m²"}},
               .value = flux,
               .unit = "L/(m²·h)",
               .source = "lonsdale1965"});
  working.add({.result = "polarisation",
               .symbol = "P",
               .formula = "P = (s_m − s_p)/(s − s_p) = e^(J/k)",
               .inputs = {{"J", flux, "L/(m²·h)"},
                          {"D", fluid.diffusivity, "m²/s"},
                          {"k/k_law", in.mass_transfer, ""}},
               .value = out.polarisation,
               .unit = "",
               .source = "michaels1968"});
  working.add({.result = "net_pressure_bar",
               .symbol = "p − p_p − Δπ",
               .formula = "p − p_p − Δπ = J/A(T)",
               .inputs = {{"p", test.pressure / units::bar(1), "bar"},
                          {"J", flux, "L/(m²·h)"},
                          {"A(T)", permeability * warm_water, "L/(m²·h·bar)"}},
               .value = out.net / units::bar(1),
               .unit = "bar",
               .source = "lonsdale1965"});
  working.add({.result = "flow_residual",
               .symbol = "r_Q",
               .formula = "r_Q = ln(Q_p(A, B)/Q_p)",
               .inputs = {{"Q_p", test.permeate_flow / units::litre_per_hour(1), "L/h"}},
               .value = out.flow_residual,
               .unit = "",
               .source = "lonsdale1965"});
  working.add({.result = "passage_residual",
               .symbol = "r_s",
               .formula = "r_s = ln(s_p(A, B)/(1 − R))",
               .inputs = {strength, {"R", test.rejection, ""}},
               .value = out.passage_residual,
               .unit = "",
               .source = "lonsdale1965"});
  return out;
}

}  // namespace drawoff::api
