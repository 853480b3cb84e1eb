// The feed channel of a spiral element: what the water between two leaves does.
//
// A leaf is a flat slit of height h, kept open by a spacer of porosity ε; water runs along the
// length L while part of it passes through both walls (so the membrane area is 2 W L). This
// header gives the friction along the channel and how fast salt that the wall holds back mixes
// into the stream again (the mass-transfer coefficient k): the two things a rating plate never
// says.
#pragma once

#include <cmath>

#include "numerics/dual.h"
#include "units/quantity.h"

namespace drawoff::membrane {

struct Channel {
  units::Area area;       // active membrane area, both walls
  units::Length length;   // along the feed stream
  units::Length height;   // between the walls
  double porosity = 0.9;  // of channel with spacer
};

// What the channel's formulas need of the water, in SI: density [kg/m³], viscosity [Pa·s],
// salt diffusivity [m²/s].
template <class S>
struct Fluid {
  S density{};
  S viscosity{};
  S diffusivity{};
};

// Which law gives k. A named choice of the input, never a silent one.
enum class MassTransferLaw {
  kJoined,        // spacer and laminar slit joined: k³ = k_spacer³ + k_slit³
  kSchockMiquel,  // the spacer correlation alone: for reference tables only, see below
};

// Width of the leaf pair, W = area / (2 L) [m].
inline double channel_width(const Channel& c) { return c.area.si() / (2.0 * c.length.si()); }

// Hydraulic diameter of the spacer-filled channel.
//
//   d_h = 4 ε / [2/h + (1 − ε) 8/h]   [m]
//
// for filaments of half the channel height (specific surface 8/h, from memory). [schock1987]
// Check: h 0.711 mm, ε 0.90 -> 0.914143 mm.
inline double hydraulic_diameter(const Channel& c) {
  const double h = c.height.si();
  return 4.0 * c.porosity / (2.0 / h + (1.0 - c.porosity) * 8.0 / h);
}

// Interstitial velocity u = Q / (W h ε) [m/s] of a flow Q [m³/s].
template <class S>
S channel_velocity(const Channel& c, const S& flow) {
  return flow * (1.0 / (channel_width(c) * c.height.si() * c.porosity));
}

// Mass transfer from a spacer-filled channel's wall.
//
//   k = Sh D/d_h,  Sh = 0.065 Re^0.875 Sc^0.25   [m/s]
//   Re = ρ u d_h/µ,  Sc = µ/(ρ D)
//
// Made for Re above about 100; below about 35 it gives less than an empty slit, which is not
// credible, so it never stands alone in a prediction. Coefficients from memory. [schock1987]
// Check: 25 °C, u 0.10 m/s, h 0.711 mm, ε 0.9, D 1.611e-9 -> 3.19102e-5 m/s.
template <class S>
S spacer_mass_transfer(const Channel& c, const S& flow, const Fluid<S>& f) {
  using std::sqrt;
  const double d = hydraulic_diameter(c);
  const S velocity = channel_velocity(c, flow);
  if (numerics::value_of(velocity) <= 0) return S(0.0);
  const S re = f.density * velocity * d / f.viscosity;
  const S sc = f.viscosity / (f.density * f.diffusivity);
  // Re^0.875 = Re/Re^(1/8): roots are cheaper than a power.
  return 0.065 * re / sqrt(sqrt(sqrt(re))) * sqrt(sqrt(sc)) * f.diffusivity * (1.0 / d);
}

// Mass transfer from the wall of an empty laminar slit, mean over the length L.
//
//   k = Sh D/(2h),  Sh³ = 7.541³ + 1.849³ Re Sc 2h/L   [m/s]
//   Re = ρ U 2h/µ with the superficial velocity U = Q/(W h)
//
// Fully developed value and Lévêque's developing one for parallel plates at constant wall
// concentration, joined in the cube. Laminar, Re < 2300. Finite at zero crossflow, where
// Sh = 7.541. Both coefficients from memory. [shah1978]
template <class S>
S slit_mass_transfer(const Channel& c, const S& flow, const Fluid<S>& f) {
  using std::cbrt;
  const double d = 2.0 * c.height.si();
  const S through = numerics::value_of(flow) > 0 ? flow : S(0.0);
  // Re Sc = U d/D: the viscosity cancels.
  const S re_sc = through * (d / (channel_width(c) * c.height.si())) / f.diffusivity;
  const S cube = 7.541 * 7.541 * 7.541 + (1.849 * 1.849 * 1.849 * d / c.length.si()) * re_sc;
  return cbrt(cube) * f.diffusivity * (1.0 / d);
}

// The coefficient k [m/s] by the chosen law. The joined law is never below the slit and is finite
// at zero crossflow; how far the truth may lie from it is an uncertain multiplier (element.h).
template <class S>
S mass_transfer(MassTransferLaw law, const Channel& c, const S& flow, const Fluid<S>& f) {
  using std::cbrt;
  const S spacer = spacer_mass_transfer(c, flow, f);
  if (law == MassTransferLaw::kSchockMiquel) return spacer;
  const S slit = slit_mass_transfer(c, flow, f);
  return cbrt(spacer * spacer * spacer + slit * slit * slit);
}

// Friction along the channel.
//
//   −dp/dx = f ρ u²/(2 d_h),  f = 6.23 Re^−0.3   [Pa/m]
//
// from memory; convention and d_h as above. Falls to zero smoothly (as u^1.7). [schock1987]
// Check: 25 °C, u 0.10 m/s, h 0.711 mm, ε 0.9 -> 8473.47 Pa/m.
template <class S>
S channel_friction(const Channel& c, const S& flow, const Fluid<S>& f) {
  using std::pow;
  const S velocity = channel_velocity(c, flow);
  if (numerics::value_of(velocity) <= 0) return S(0.0);
  const double d = hydraulic_diameter(c);
  const S re = f.density * velocity * d / f.viscosity;
  return 6.23 * pow(re, -0.3) * f.density * velocity * velocity * (0.5 / d);
}

}  // namespace drawoff::membrane
