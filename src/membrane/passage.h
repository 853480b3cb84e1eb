// Which salts pass a membrane more than others.
//
// A rating plate tells of sodium chloride alone. How much more or less each other species passes is
// a prior with a wide spread (data/passage_ratios.csv), never a point value: permeability ρ B, with
// B of sodium chloride. How the ions then drag and hold each other is ions.h. For the salt as a
// whole, which the water's flow feels, the ratios make one, counted in charge equivalents e = |z|
// c:
//
//   w± = Σ± e ρ / Σ± e          mean ratio of the cations and of the anions
//   z± = Σ± z² c / Σ± e         mean charge
//   r  = (z₊ + z₋) w₊ w₋/(z₊ w₊ + z₋ w₋)    permeability of the salt as a whole, relative to NaCl
//
// r is the permeability of a salt whose ions drag each other (solution-diffusion-electromigration
// of one salt), with the mixture's mean ions in their place, which is ours. [yaroshchuk2013] Check:
// w₊ 0.3, w₋ 1, both monovalent -> 0.4615; a pure NaCl water has r = 1.
#pragma once

#include <array>
#include <span>

#include "membrane/element.h"
#include "numerics/random.h"
#include "water/composition.h"

namespace drawoff::membrane {

// ρ of every species, relative to NaCl.
using PassageRatios = std::array<double, water::kSpeciesCount>;

// The medians of the table.
const PassageRatios& typical_passage();
// Each ratio times a log-normal factor of its own spread, by a standard normal number a species.
PassageRatios passage_of(std::span<const double, water::kSpeciesCount> chance);
// One equally likely set.
PassageRatios draw_passage(numerics::Random& random);

// r: permeability of this raw water's salt as a whole, relative to NaCl. 1 for a water without
// ions.
double salt_ratio(const water::Composition& raw, const PassageRatios& ratios);

}  // namespace drawoff::membrane
