// Every dissolved species on its own way along an element: solution-diffusion-electromigration.
//
// Inside the membrane's skin (ξ from 0 at the wall to 1 at the permeate) each ion diffuses and is
// drawn by the electric potential φ that keeps the charges balanced everywhere:
//
//   J c_i,p = −P_i (dc_i/dξ + z_i c_i dφ/dξ),   Σ z_i c_i(ξ) = 0         [yaroshchuk2013]
//   P_i = ρ_i B                                  B of NaCl at temperature [m/s]
//
// φ in units of RT/F, c virtual concentrations, equal to those of the water at both faces. For one
// salt this is J c_p = B_s (c_m − c_p) with B_s = (z₊ + z₋) P₊P₋/(z₊P₊ + z₋P₋), and φ runs with the
// logarithm of the concentration. So φ is taken as linear in ln g between kLayers + 1 nodes, with
// g = 1 − (1 − θ) ξ and θ the share of the charges that passes: exact for one salt, and every
// integral of e^(zφ) is then closed:
//
//   c_p = T c_m,   T = e^(−zφ₁)/(1 + (J/P) e^(−zφ₁) ∫₀¹ e^(zφ) dξ)
//
// The nodes' potentials and θ follow from the charge balance at the nodes (Newton). How much four
// layers differ from two is in the tests.
//
// At the wall all ions are heaped alike, with the mixing of the salt as a whole
// (membrane/channel.h), so that charges balance there too:  c_m − c_p = (c − c_p) e^(J/k).
// Uncharged species pass by J c_p = ρ B (c_m − c_p); CO2 passes freely, c_p = c. A bypass carries
// the stream as it is.
//
// Streams, at the element's Gauss points, from the flows that pass_element() found:
//
//   d(Q c_i)/dx = −(J c_i,p + J_leak c_i) a
//
// The water flux was found for the salt as a whole (osmotic pressure by strength): ions are not put
// back into it. Range: J > 0; where water flows backwards nothing is carried.
#pragma once

#include "membrane/element.h"
#include "membrane/passage.h"
#include "water/composition.h"

namespace drawoff::membrane {

// The skin at one point: permeabilities by species [m/s] are ratio × salt_permeability.
struct Skin {
  const PassageRatios* ratios = nullptr;
  double salt_permeability = 0;  // B of NaCl at the water's temperature [m/s]
};

struct LocalIons {
  water::Composition permeate;
  water::Composition wall;
  int steps = 0;  // of Newton's method
};

// One point, for a flux J > 0 [m/s] and a polarisation e^(J/k) >= 1. A charge that the analysis did
// not find (bulk not neutral) counts as a monovalent ion with the ratio of sodium or chloride.
LocalIons local_ions(const Skin& skin,
                     const water::Composition& bulk,
                     double flux,
                     double polarisation);

struct ElementIons {
  water::Composition permeate;  // all of it, mixed
  water::Composition reject;
  water::Composition wall;  // at the last Gauss point
};

// Along a solved element. `feed` is the composition of its feed.
ElementIons pass_ions(const Skin& skin,
                      const Channel& channel,
                      const ElementResult<double>& element,
                      const water::Composition& feed);

}  // namespace drawoff::membrane
