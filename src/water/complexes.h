// Complexes: what forms in a water from the species of a Composition.
//
// Ions of opposite sign spend part of their time bound, in a gypsum water a third of the sulfate:
// they then carry less current and lay down less scale. And some constituents change their form
// with pH: ammonia, silica, borate, phosphate. Both are rows of data/complexes.csv.
#pragma once

#include <array>
#include <string>
#include <string_view>

#include "units/quantity.h"
#include "water/activity.h"
#include "water/carbonate.h"
#include "water/species.h"

namespace drawoff::water {

inline constexpr int kComplexCount = 51;

// What the activity of a species of species.csv depends on.
ActivityData activity_of(Species s);

// Parts of a complex or a mineral: "Ca+2F", "SiO2-H".
struct Parts {
  struct Part {
    Species species;
    int count;  // negative: given off
  };
  std::array<Part, 3> part;
  std::size_t size = 0;

  [[nodiscard]] const Part* begin() const { return part.data(); }
  [[nodiscard]] const Part* end() const { return part.data() + size; }
};
Parts parse_parts(std::string_view formula);

struct Complex {
  std::string formula;
  Parts parts;
  LogK log_k;                            // of formation, activities in mol/kg
  ActivityData activity;                 // its charge among it
  MolarConductivity molar_conductivity;  // λ° of a charged one, 25 °C
};

// The rows of data/complexes.csv, parsed once.
const std::array<Complex, kComplexCount>& complexes();

}  // namespace drawoff::water
