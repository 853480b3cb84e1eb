#include "water/complexes.h"

#include <algorithm>
#include <cctype>
#include <numbers>

#include "base/check.h"
#include "base/csv.h"
#include "data/embedded.h"
#include "water/properties.h"

namespace drawoff::water {
namespace {

// log K(T) = log K₂₅ + ΔH/(R ln 10) (1/298.15 − 1/T).
LogK from_enthalpy(double log_k_25, double joule_per_mol) {
  const double slope = joule_per_mol / (kGasConstant * std::numbers::ln10);
  return {log_k_25 + slope / units::celsius(25).si(), 0, -slope, 0, 0};
}

std::array<Complex, kComplexCount> parse_table() {
  constexpr double kJoulePerKilocalorie = 4184.0;
  const base::Csv csv = base::Csv::parse(data::file("complexes.csv"));
  CHECK(csv.rows() == kComplexCount);
  const auto or_none = [&](std::size_t row, const char* name) {
    const std::size_t column = csv.column(name);
    return csv.empty(row, column) ? 0.0 : csv.number(row, column);
  };
  std::array<Complex, kComplexCount> table;
  for (std::size_t row = 0; row < table.size(); ++row) {
    Complex& c = table[row];
    c.formula = csv.text(row, "formula");
    c.parts = parse_parts(c.formula);
    c.log_k = csv.empty(row, csv.column("a"))
                  ? from_enthalpy(csv.number(row, "log_k"),
                                  csv.number(row, "enthalpy_kcal_mol") * kJoulePerKilocalorie)
                  : LogK{csv.number(row, "a"),
                         csv.number(row, "b"),
                         csv.number(row, "c"),
                         csv.number(row, "d"),
                         csv.number(row, "e")};
    c.activity = {static_cast<int>(csv.number(row, "charge")),
                  or_none(row, "ion_size_A"),
                  or_none(row, "activity_slope_kg_mol")};
    c.molar_conductivity =
        MolarConductivity(csv.number(row, "molar_conductivity_S_cm2_mol") * 1e-4);
    int charge = 0;
    for (const auto& p : c.parts) charge += p.count * charge_of(p.species);
    CHECK(charge == c.activity.charge);
  }
  return table;
}

}  // namespace

ActivityData activity_of(Species s) {
  const SpeciesData& d = species_data(s);
  return {d.charge, d.ion_size, d.activity_slope};
}

Parts parse_parts(std::string_view formula) {
  Parts parts;
  std::size_t at = 0;
  while (at < formula.size()) {
    int sign = 1;
    if (formula[at] == '+' || formula[at] == '-') sign = formula[at++] == '+' ? 1 : -1;
    int count = 1;
    if (std::isdigit(static_cast<unsigned char>(formula[at])) != 0) count = formula[at++] - '0';
    const std::size_t end = std::min(formula.find_first_of("+-", at), formula.size());
    const auto species = species_from_key(formula.substr(at, end - at));
    CHECK(species && parts.size < parts.part.size());
    parts.part[parts.size++] = {*species, sign * count};
    at = end;
  }
  return parts;
}

const std::array<Complex, kComplexCount>& complexes() {
  static const std::array<Complex, kComplexCount> parsed = parse_table();
  return parsed;
}

}  // namespace drawoff::water
