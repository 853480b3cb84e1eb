// Osmotic pressure of any water by Pitzer's ion-interaction model.
//
// The osmotic coefficient φ says how far the dissolved ions are from ideal: 0.97 in tap water, 0.93
// in 0.1 molal NaCl, 0.60 in 0.1 molal MgSO4, which a van 't Hoff sum would overstate by two
// thirds. The parameters of each pair and triple of ions are in data/pitzer_*.csv with their
// sources. PitzerMixture fixes a composition's proportions and gives φ at any dilution;
// OsmoticCurve (osmotic_curve.h) makes of it the fast form for the solvers.
#pragma once

#include <array>

#include "numerics/dual.h"
#include "units/quantity.h"
#include "water/composition.h"
#include "water/properties.h"

namespace drawoff::water {

// Debye-Hückel slope for the osmotic coefficient, A_φ [(kg/mol)^½].
//
//   A_φ = ⅓ (2π N_A ρ)^½ (e²/(4π ε₀ ε_r k T))^{3/2}
//
// [pitzer1991, ch. 3].  Check: 25 °C -> 0.3915.
template <class Rep>
Rep debye_hueckel_slope(const TemperatureOf<Rep>& temperature) {
  using std::sqrt;
  // e²/(4π ε₀ k) [m·K] and 2π N_A [1/mol], from the exact constants of 2019.
  constexpr double kBjerrum = 1.671000e-5;
  constexpr double kTwoPiAvogadro = 3.783811e24;
  const Rep length = Rep(kBjerrum) / (relative_permittivity(temperature) * temperature.si());
  return sqrt(Rep(kTwoPiAvogadro) * density(temperature).si()) * length * sqrt(length) *
         Rep(1.0 / 3.0);
}

// A composition's Pitzer sums at one temperature, with their temperature slopes; φ at any dilution
// is then a short closed form. All molalities are σ nᵢ with σ = s/(1 − s v): v is the volume share
// of the solutes at s = 1, from their partial molar volumes.
class PitzerMixture {
 public:
  using Slope = numerics::Dual<1>;  // derivative: by temperature [1/K]

  PitzerMixture(const Composition& c, units::Temperature temperature);

  // Osmotic coefficient [1] of the composition times `factor` (>= 0), and dφ/dT in its slope.
  //
  //   φ − 1 = 2/Σm · {−A_φ I^{3/2}/(1 + 1.2 √I) + Σ_c Σ_a m_c m_a (B^φ + Z C) + Σ_{i<j} mᵢ mⱼ Φ^φ
  //           + Σ ψ_ijk mᵢ mⱼ m_k}
  //   B^φ = β⁰ + β¹ e^{−α₁√I} + β² e^{−α₂√I}     α₁ 2, α₂ none; for 2-2 pairs α₁ 1.4, α₂ 12
  //   C = C^φ/(2 √|z_c z_a|)                     Φ^φ = θ + ᴱθ + I ᴱθ′ (unsymmetrical mixing)
  //   Z = Σ|z| m;  I and m in mol/kg water;  0 … 50 °C, I ≤ 6 mol/kg
  //
  // [pitzer1991, eqs. 3-59…; harvie1984]. Uncharged species count in Σm alone.
  // Check: NaCl 0.1 mol/kg, 25 °C -> 0.9324; MgSO4 0.1 mol/kg -> 0.596.
  [[nodiscard]] Slope osmotic_coefficient(double factor) const;

  // Σc of all species at factor 1 [mol/m³], the solutes' volume share v [1], the ionic strength
  // per σ [mol/kg].
  [[nodiscard]] double total_molar() const { return total_molar_; }
  [[nodiscard]] double volume_share() const { return volume_share_; }
  [[nodiscard]] double ionic_strength() const { return ionic_.x; }

 private:
  double total_molar_ = 0;
  double volume_share_ = 0;
  Slope slope_;                  // A_φ
  Slope total_;                  // Σ n
  Slope ionic_;                  // I/σ
  Slope constant_;               // Σ n n β⁰ + Σ n n θ
  Slope alpha_2_;                // Σ n n β¹ of pairs with α 2
  Slope alpha_14_;               // Σ n n β¹ of 2-2 pairs
  Slope alpha_12_;               // Σ n n β² of 2-2 pairs
  Slope triple_;                 // Z Σ n n C + Σ n n n ψ
  std::array<Slope, 3> unlike_;  // Σ n n of like-signed ions of charges 1|2, 1|3, 2|3
};

// Osmotic coefficient [1] of the water as it is.
double osmotic_coefficient(const Composition& c, units::Temperature temperature);

// Osmotic pressure against pure water.
//
//   π = φ R T ρ_w Σm = φ R T Σc/(1 − v)   [Pa]
//
// [pitzer1991].  Check: NaCl 5817 mg/L, 25 °C -> 4.610 bar.
units::Pressure osmotic_pressure(const Composition& c, units::Temperature temperature);

// Density of the solution [kg/m³]: ρ = ρ_w(T) + Σ c (M − ρ_w V°), V° the partial molar volumes of
// species.csv, taken as constant. The error is below kSolutionDensityRelativeError for single salts
// to 0.1 mol/kg at 10-35 °C, 0.15 % in sea water, 1.3 % at 1 mol/kg MgSO4.
// [millero1971].  Check: NaCl 0.1 mol/kg, 25 °C -> 1001.2 kg/m³.
inline constexpr double kSolutionDensityRelativeError = 5e-4;
units::Density solution_density(const Composition& c, units::Temperature temperature);

}  // namespace drawoff::water
