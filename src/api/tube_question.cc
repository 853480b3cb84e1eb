#include "api/tube_question.h"

#include <numbers>

#include "plumbing/tube.h"
#include "water/properties.h"

namespace drawoff::api {

namespace {
// Between these the flow wavers between two states. [white2011, sec. 6.1]
constexpr double kCriticalFrom = 2000;
constexpr double kCriticalTo = 4000;
}  // namespace

base::Result<TubeOutput> ask_tube(const TubeInput& in, Working& working) {
  const plumbing::Tube tube{
      .length = in.length, .bore = in.bore, .roughness = in.roughness, .minor_loss = in.minor_loss};
  const plumbing::Fluid<double> fluid{water::density(in.temperature).si(),
                                      water::viscosity(in.temperature).si()};
  const double bore = in.bore.si();
  const double section = std::numbers::pi * bore * bore / 4;
  const double speed = in.flow.si() / section;

  TubeOutput out;
  out.velocity = units::Velocity(speed);
  out.reynolds = fluid.density * speed * bore / fluid.viscosity;
  out.regime = out.reynolds < kCriticalFrom ? FlowRegime::kLaminar
               : out.reynolds < kCriticalTo ? FlowRegime::kCritical
                                            : FlowRegime::kTurbulent;
  if (out.reynolds > 0) {
    out.friction_factor = plumbing::friction_factor(out.reynolds, in.roughness.si() / bore);
  }
  out.friction = units::Pressure(plumbing::pressure_of(tube, in.flow.si(), fluid));
  out.height = units::Pressure(fluid.density * plumbing::kGravity * in.rise.si());
  out.pressure = out.friction + out.height;

  const double millimetres = bore * 1e3;
  working.add(
      {.result = "velocity_m_s",
       .symbol = "v",
       .formula = "v = 4 Q/(π D²)",
       .inputs = {{"Q", in.flow / units::litre_per_hour(1), "L/h"}, {"D", millimetres, "mm"}},
       .value = speed,
       .unit = "m/s",
       .source = "white2011"});
  working.add({.result = "reynolds",
               .symbol = "Re",
               .formula = "Re = ρ v D/µ",
               .inputs = {{"ρ", fluid.density, "kg/m³"},
                          {"v", speed, "m/s"},
                          {"D", millimetres, "mm"},
                          {"µ", fluid.viscosity * 1e3, "mPa·s"}},
               .value = out.reynolds,
               .unit = "",
               .source = "white2011"});
  if (out.friction_factor) {
    working.add({.result = "friction_factor",
                 .symbol = "f",
                 .formula = "f = 8 [(8/Re)¹² + (A + B)^−1.5]^(1/12), "
                            "A = [2.457 ln 1/((7/Re)^0.9 + 0.27 ε/D)]¹⁶, B = (37530/Re)¹⁶",
                 .inputs = {{"Re", out.reynolds, ""},
                            {"ε", in.roughness.si() * 1e6, "µm"},
                            {"D", millimetres, "mm"}},
                 .value = *out.friction_factor,
                 .unit = "",
                 .source = "churchill1977"});
  }
  working.add({.result = "friction_bar",
               .symbol = "Δp_f",
               .formula = "Δp_f = (f L/D + ΣK) ρ v²/2",
               .inputs = {{"f", out.friction_factor.value_or(0), ""},
                          {"L", in.length.si(), "m"},
                          {"D", millimetres, "mm"},
                          {"ΣK", in.minor_loss, ""},
                          {"ρ", fluid.density, "kg/m³"},
                          {"v", speed, "m/s"}},
               .value = out.friction / units::bar(1),
               .unit = "bar",
               .source = "churchill1977"});
  working.add({.result = "height_bar",
               .symbol = "Δp_h",
               .formula = "Δp_h = ρ g h",
               .inputs = {{"ρ", fluid.density, "kg/m³"},
                          {"g", plumbing::kGravity, "m/s²"},
                          {"h", in.rise.si(), "m"}},
               .value = out.height / units::bar(1),
               .unit = "bar",
               .source = "bipm2019"});
  working.add({.result = "pressure_bar",
               .symbol = "Δp",
               .formula = "Δp = Δp_f + Δp_h",
               .inputs = {{"Δp_f", out.friction / units::bar(1), "bar"},
                          {"Δp_h", out.height / units::bar(1), "bar"}},
               .value = out.pressure / units::bar(1),
               .unit = "bar",
               .source = "churchill1977"});
  return out;
}

}  // namespace drawoff::api
