// For tests only: the four waters of phreeqc_inputs.csv.
#pragma once

#include <string>

#include "base/reference_table.h"
#include "water/analysis.h"

namespace drawoff::water {

inline Analysis reference_water(const base::Csv& table, std::size_t row) {
  Analysis a;
  a.ph = table.number(row, "pH_25C");
  for (const char* key : {"Ca", "Mg", "Na", "K", "Ba", "Sr", "Cl", "SO4", "NO3", "F", "SiO2"}) {
    a[*species_from_key(key)] =
        measured(units::milligram_per_litre(table.number(row, std::string(key) + "_mg_L")));
  }
  a[Species::HCO3] = measured(units::milligram_per_litre(table.number(row, "Alk_mg_L_as_HCO3")));
  return a;
}

inline Analysis reference_water(const std::string& name) {
  const base::Csv table = base::reference_table("phreeqc_inputs.csv");
  std::size_t row = 0;
  while (table.text(row, "water") != name) ++row;
  return reference_water(table, row);
}

}  // namespace drawoff::water
