// Which salts pass a membrane more than others.
//
// A rating plate tells of sodium chloride alone. How much more or less each other ion passes is a
// prior with a wide spread (data/passage_ratios.csv), never a point value. In the permeate the
// charges must balance, so ions of one sign drag or hold those of the other; with the ratios ρ,
// counted in charge equivalents e = |z| c of the raw water:
//
//   w± = Σ± e ρ / Σ± e          mean ratio of the cations and of the anions
//   z± = Σ± z² c / Σ± e         mean charge
//   r  = (z₊ + z₋) w₊ w₋/(z₊ w₊ + z₋ w₋)    passage of the salt as a whole, relative to NaCl
//   c_i,permeate = s_p c_i ρ_i / w±
//
// so that the permeate is neutral by construction, s_p is its strength in equivalents relative to
// the raw water, and a pure NaCl water has r = 1. r is the permeability of a salt whose ions drag
// each other (solution-diffusion-electromigration of one salt), with the mixture's mean ions in
// their place, which is ours. [yaroshchuk2013]  Check: w₊ 0.3, w₋ 1, both monovalent -> 0.4615.
// Range: s_p ρ/w well below 1; where it would pass 1, the ion passes whole and the permeate is
// made neutral by holding back the other sign. First form: one composition for all of the permeate.
// Uncharged species pass by their own permeability, ρ B of NaCl; CO2 passes freely.
#pragma once

#include <array>

#include "membrane/element.h"
#include "numerics/random.h"
#include "water/composition.h"

namespace drawoff::membrane {

// ρ of every species, relative to NaCl.
using PassageRatios = std::array<double, water::kSpeciesCount>;

// The medians of the table.
const PassageRatios& typical_passage();
// One equally likely set: each ratio times a log-normal factor of its own spread.
PassageRatios draw_passage(numerics::Random& random);

// r: permeability of this raw water's salt as a whole, relative to NaCl. 1 for a water without
// ions.
double salt_ratio(const water::Composition& raw, const PassageRatios& ratios);

// What the membrane does to uncharged species: mean flux J [m/s], B of NaCl [m/s], polarisation
// e^(J/k).
struct UnchargedPassage {
  double flux = 0;
  double salt_permeability = 0;
  double polarisation = 1;
};

// The permeate at strength s_p. Uncharged: c_p = c ρB P/(J + ρB P), with P the polarisation.
water::Composition permeate_composition(const water::Composition& raw,
                                        const PassageRatios& ratios,
                                        double permeate_salt,
                                        const UnchargedPassage& uncharged);

}  // namespace drawoff::membrane
