// Activity coefficients of dissolved species, for equilibria in drinking water.
//
//   log₁₀ γ = −A z² √I/(1 + B a √I) + b I            an ion of known size a [Å]  [truesdell1974]
//   log₁₀ γ = −A z² (√I/(1+√I) − 0.3 I)              any other ion              [davies1962]
//   log₁₀ γ = 0.1 I                                  uncharged
//   A = 3 A_φ/ln 10,  B = 50.29/√(ε T) [1/Å],  I in mol/kg, up to 0.5
//
// Above I = 0.5 the values at 0.5 are kept: the forms would turn and rise without end. a and b are
// in species.csv and complexes.csv. Check: A, B at 25 °C -> 0.510, 0.329; PHREEQC's Ca in a gypsum
// water, I = 0.02749 -> 0.5479. Osmotic pressure never uses this; it has Pitzer's model (pitzer.h).
#pragma once

#include <algorithm>
#include <cmath>
#include <numbers>

#include "units/quantity.h"
#include "water/pitzer.h"

namespace drawoff::water {

// What an activity coefficient depends on, beside the water.
struct ActivityData {
  int charge = 0;
  double size = 0;   // a [Å]; 0: not known
  double slope = 0;  // b [kg/mol]
};

// The laws above at one temperature and ionic strength.
class ActivityLaw {
 public:
  ActivityLaw(double ionic_strength_mol_kg, units::Temperature temperature)
      : ActivityLaw(ionic_strength_mol_kg, Slopes(temperature)) {}

  // The temperature's part, for those who change the ionic strength often.
  struct Slopes {
    explicit Slopes(units::Temperature temperature)
        : a(3.0 * debye_hueckel_slope(temperature)),
          b(50.29 / std::sqrt(relative_permittivity(temperature) * temperature.si())) {}
    double a;  // A ln 10
    double b;  // B
  };
  ActivityLaw(double ionic_strength_mol_kg, const Slopes& slopes)
      : strength_(std::clamp(ionic_strength_mol_kg, 0.0, 0.5)),
        root_(std::sqrt(strength_)),
        slopes_(slopes),
        davies_(-slopes.a * (root_ / (1.0 + root_) - 0.3 * strength_)),
        changes_(ionic_strength_mol_kg > 0.0 && ionic_strength_mol_kg < 0.5) {}

  // ln γ [1].
  [[nodiscard]] double operator()(const ActivityData& of) const {
    if (of.charge == 0) return 0.1 * std::numbers::ln10 * strength_;
    const double square = of.charge * of.charge;
    if (of.size == 0) return square * davies_;
    return -slopes_.a * square * root_ / (1.0 + slopes_.b * of.size * root_) +
           std::numbers::ln10 * of.slope * strength_;
  }

  // d ln γ/dI [kg/mol].
  [[nodiscard]] double slope(const ActivityData& of) const {
    if (!changes_) return 0;
    if (of.charge == 0) return 0.1 * std::numbers::ln10;
    const double square = of.charge * of.charge;
    const double size = of.size == 0 ? 1.0 : slopes_.b * of.size;
    const double screened = 1.0 + size * root_;
    return -slopes_.a * square *
               (0.5 / (root_ * screened * screened) - (of.size == 0 ? 0.3 : 0.0)) +
           (of.size == 0 ? 0.0 : std::numbers::ln10 * of.slope);
  }

 private:
  double strength_;
  double root_;
  Slopes slopes_;
  double davies_;
  bool changes_;
};

}  // namespace drawoff::water
