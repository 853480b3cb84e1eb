#include "water/species.h"

#include <array>

#include "base/check.h"
#include "base/csv.h"
#include "data/embedded.h"

namespace drawoff::water {
namespace {

using Table = std::array<SpeciesData, kSpeciesCount>;

Confidence confidence_of(const std::string& text) {
  CHECK(text == "READ" || text == "MEMORY");
  return text == "READ" ? Confidence::kRead : Confidence::kMemory;
}

Table parse_table() {
  const base::Csv csv = base::Csv::parse(data::file("species.csv"));
  CHECK(csv.rows() == kSpeciesCount);
  Table table;
  for (std::size_t row = 0; row < table.size(); ++row) {
    SpeciesData& s = table[row];
    s.key = csv.text(row, "key");
    s.charge = static_cast<int>(csv.number(row, "charge"));
    s.molar_mass = MolarMass(csv.number(row, "molar_mass_g_mol") * 1e-3);
    s.molar_conductivity =
        MolarConductivity(csv.number(row, "molar_conductivity_S_cm2_mol") * 1e-4);
    s.diffusivity = units::Diffusivity(csv.number(row, "diffusivity_1e-9_m2_s") * 1e-9);
    s.molar_volume = MolarVolume(csv.number(row, "molar_volume_cm3_mol") * 1e-6);
    s.walden_exponent = csv.number(row, "walden_exponent");
    if (!csv.empty(row, csv.column("ion_size_A"))) {
      s.ion_size = csv.number(row, "ion_size_A");
      s.activity_slope = csv.number(row, "activity_slope_kg_mol");
    }
    s.source = csv.text(row, "source");
    s.confidence = confidence_of(csv.text(row, "confidence"));
    CHECK(!s.key.empty() && !s.source.empty());
    CHECK(s.molar_mass.si() > 0 && s.diffusivity.si() > 0);
    CHECK((s.charge == 0) == (s.molar_conductivity.si() == 0));
  }
  // The first, one in the middle and the last: the order of the file is that of the enumeration.
  CHECK(table[index(Species::Ca)].key == "Ca" && table[index(Species::Cl)].key == "Cl");
  CHECK(table[index(Species::B)].key == "B" && table[index(Species::Hg)].key == "Hg");
  return table;
}

const Table& table() {
  static const Table parsed = parse_table();
  return parsed;
}

}  // namespace

const SpeciesData& species_data(Species s) { return table()[index(s)]; }

std::optional<Species> species_from_key(std::string_view key) {
  for (int i = 0; i < kSpeciesCount; ++i) {
    if (species_data(species_at(i)).key == key) return species_at(i);
  }
  return std::nullopt;
}

int charge_of(Species s) { return species_data(s).charge; }
double molar_mass_of(Species s) { return species_data(s).molar_mass.si(); }

}  // namespace drawoff::water
