#include "water/lab_units.h"

#include <array>
#include <cmath>
#include <cstdlib>
#include <map>
#include <vector>

#include "base/csv.h"
#include "data/embedded.h"
#include "water/composition.h"
#include "water/lab_text.h"
#include "water/species.h"

namespace drawoff::water {
namespace {

// Molar masses of what a number may be counted as [kg/mol], and how many atoms of the substance's
// own kind are in one; IUPAC 2021 weights.
struct Basis {
  std::string_view written;  // in lower case
  std::string_view name;
  double molar_mass;    // 0: that of the species of this name
  std::string_view of;  // which species it counts; empty: see below
  double atoms;
};
constexpr std::array kBases{
    Basis{"caco3", "CaCO3", kCalciumCarbonate, "", 1},
    Basis{"calcium carbonate", "CaCO3", kCalciumCarbonate, "", 1},
    Basis{"cao", "CaO", 56.0774e-3, "", 1},
    Basis{"nitrogen", "N", 14.007e-3, "NO3 NO2 NH4", 1},
    Basis{"no3", "NO3", 0, "NO3", 1},
    Basis{"no2", "NO2", 0, "NO2", 1},
    Basis{"nh4", "NH4", 0, "NH4", 1},
    Basis{"nh3", "NH3", 17.031e-3, "NH4", 1},
    Basis{"n", "N", 14.007e-3, "NO3 NO2 NH4", 1},
    Basis{"p2o5", "P2O5", 141.942e-3, "PO4", 2},
    Basis{"po4", "PO4", 0, "PO4", 1},
    Basis{"p", "P", 30.974e-3, "PO4", 1},
    Basis{"so4", "SO4", 0, "SO4", 1},
    Basis{"h2s", "H2S", 34.076e-3, "sulfide", 1},
    Basis{"s", "S", 32.06e-3, "SO4 sulfide", 1},
    Basis{"sio2", "SiO2", 0, "SiO2", 1},
    Basis{"si", "Si", 28.085e-3, "SiO2", 1},
    Basis{"hco3", "HCO3", 0, "HCO3 alkalinity", 1},
    Basis{"co3", "CO3", 0, "CO3", 1},
    Basis{"h3bo3", "H3BO3", 61.831e-3, "B", 1},
    Basis{"b2o3", "B2O3", 69.617e-3, "B", 2},
    Basis{"mgo", "MgO", 40.304e-3, "Mg", 1},
    Basis{"cl2", "Cl2", 70.90e-3, "free_chlorine total_chlorine chloramine", 1},
    Basis{"ca", "Ca", 0, "Ca", 1},
    Basis{"mg", "Mg", 0, "Mg", 1},
    Basis{"na", "Na", 0, "Na", 1},
    Basis{"k", "K", 0, "K", 1},
    Basis{"cl", "Cl", 0, "Cl", 1},
    Basis{"fe", "Fe", 0, "Fe", 1},
    Basis{"mn", "Mn", 0, "Mn", 1},
    Basis{"f", "F", 0, "F", 1},
    Basis{"as", "As", 74.922e-3, "As As3 As5", 1},
    Basis{"b", "B", 0, "B", 1}};

bool names(std::string_view list, std::string_view word) {
  for (std::size_t at = 0; at < list.size();) {
    const std::size_t end = std::min(list.find(' ', at), list.size());
    if (list.substr(at, end - at) == word) return true;
    at = end + 1;
  }
  return false;
}

double molar_mass_of(const Basis& b) {
  const auto species = species_from_key(b.name);
  return species ? molar_mass_of(*species) : b.molar_mass;
}

const Basis* basis_written(std::string_view text) {
  for (const Basis& b : kBases) {
    if (b.written == text) return &b;
  }
  return nullptr;
}
const Basis* basis_named(std::string_view name) {
  for (const Basis& b : kBases) {
    if (b.name == name) return &b;
  }
  return nullptr;
}

struct UnitRow {
  LabUnitKind kind;
  double factor;
};
LabUnitKind kind_of(std::string_view text) {
  constexpr std::array<std::pair<std::string_view, LabUnitKind>, 11> kKinds{
      {{"mass", LabUnitKind::kMass},
       {"amount", LabUnitKind::kAmount},
       {"equivalents", LabUnitKind::kEquivalents},
       {"hardness", LabUnitKind::kHardness},
       {"conductivity", LabUnitKind::kConductivity},
       {"celsius", LabUnitKind::kCelsius},
       {"fahrenheit", LabUnitKind::kFahrenheit},
       {"turbidity", LabUnitKind::kTurbidity},
       {"count", LabUnitKind::kCount},
       {"colour", LabUnitKind::kColour},
       {"none", LabUnitKind::kNone}}};
  for (const auto& [name, kind] : kKinds) {
    if (name == text) return kind;
  }
  CHECK(false);
  return LabUnitKind::kNone;
}

const std::map<std::string, UnitRow, std::less<>>& units_table() {
  static const auto table = [] {
    std::map<std::string, UnitRow, std::less<>> out;
    const auto csv = base::Csv::parse(data::file("report_units.csv"));
    for (std::size_t i = 0; i < csv.rows(); ++i) {
      out[csv.text(i, "unit")] = {kind_of(csv.text(i, "kind")), csv.number(i, "factor")};
    }
    return out;
  }();
  return table;
}

struct NameRow {
  std::string of;
  std::string basis;
};
const std::map<std::string, NameRow, std::less<>>& names_table() {
  static const auto table = [] {
    std::map<std::string, NameRow, std::less<>> out;
    const auto csv = base::Csv::parse(data::file("report_names.csv"));
    for (std::size_t i = 0; i < csv.rows(); ++i) {
      out[csv.text(i, "name")] = {csv.text(i, "parameter"), csv.text(i, "basis")};
    }
    return out;
  }();
  return table;
}

void replace_all(std::string& s, std::string_view from, std::string_view to) {
  for (std::size_t at = s.find(from); at != std::string::npos; at = s.find(from, at + to.size())) {
    s.replace(at, from.size(), to);
  }
}

// "mg · L⁻¹" -> "mg/l".
std::string unit_key(std::string_view text) {
  std::string s = plain_text(text);
  for (const auto& [from, to] :
       std::array<std::pair<std::string_view, std::string_view>, 15>{{{"milligrams", "mg"},
                                                                      {"milligram", "mg"},
                                                                      {"micrograms", "ug"},
                                                                      {"microgram", "ug"},
                                                                      {"litres", "l"},
                                                                      {"litre", "l"},
                                                                      {"liters", "l"},
                                                                      {"liter", "l"},
                                                                      {"decilitre", "dl"},
                                                                      {" per ", "/"},
                                                                      {"dm3", "l"},
                                                                      {"u.s.", "us"},
                                                                      {"us gal", "gal"},
                                                                      {"degrees", "deg"},
                                                                      {"gallon", "gal"}}}) {
    replace_all(s, from, to);
  }
  std::string out;
  for (const char c : s) {
    if (c != ' ' && c != '*') out += c;
  }
  for (const std::string_view inverse : {"l^-1", "l-1", ".l-1"}) replace_all(out, inverse, "/l");
  replace_all(out, "./l", "/l");
  replace_all(out, "//", "/");
  return out;
}

std::optional<LabUnit> plain_unit(const std::string& key) {
  const auto found = units_table().find(key);
  if (found == units_table().end()) return std::nullopt;
  return LabUnit{found->second.kind, found->second.factor, {}};
}

// Words that say in which part of the sample it was measured, and others that say nothing.
constexpr std::array<std::string_view, 5> kDissolvedWords{
    "dissolved", "filtered", "gelost", "disuelto", "soluble"};
constexpr std::array<std::string_view, 3> kTotalWords{"total", "gesamt", "unfiltered"};
constexpr std::array<std::string_view, 10> kEmptyWords{"ion",
                                                       "ions",
                                                       "content",
                                                       "concentration",
                                                       "value",
                                                       "level",
                                                       "result",
                                                       "in water",
                                                       "lab",
                                                       "field"};

template <std::size_t kCount>
bool take_last_word(std::string& s, const std::array<std::string_view, kCount>& words) {
  for (const auto w : words) {
    if (s.size() > w.size() + 1 && s.ends_with(w) && s[s.size() - w.size() - 1] == ' ') {
      s = trimmed(std::string_view(s).substr(0, s.size() - w.size() - 1));
      return true;
    }
    if (s.size() > w.size() + 1 && s.starts_with(w) && s[w.size()] == ' ') {
      s = s.substr(w.size() + 1);
      return true;
    }
  }
  return false;
}

// Looks the words up, also without those that only qualify.
std::optional<LabName> look_up(std::string words) {
  Fraction fraction = Fraction::kNotSaid;
  for (int i = 0; i < 4; ++i) {
    const auto found = names_table().find(words);
    if (found != names_table().end()) {
      return LabName{found->second.of, found->second.basis, {}, fraction};
    }
    if (take_last_word(words, kDissolvedWords)) {
      fraction = Fraction::kDissolved;
    } else if (take_last_word(words, kTotalWords)) {
      fraction = Fraction::kTotal;
    } else if (!take_last_word(words, kEmptyWords)) {
      break;
    }
  }
  return std::nullopt;
}

// The name without its bracketed parts, and those parts.
std::string without_brackets(std::string_view plain, std::vector<std::string>& parts) {
  std::string out;
  std::string part;
  int depth = 0;
  for (const char c : plain) {
    if (c == '(' || c == '[') {
      ++depth;
      part.clear();
    } else if (c == ')' || c == ']') {
      if (depth > 0) {
        --depth;
        parts.push_back(trimmed(part));
      }
    } else if (depth > 0) {
      part += c;
    } else {
      out += c;
    }
  }
  if (depth > 0) parts.push_back(trimmed(part));
  return trimmed(out);
}

}  // namespace

std::optional<std::string> lab_basis(std::string_view text) {
  std::string s = plain_text(text);
  for (const std::string_view as : {"as ", "als ", "como ", "en "}) {
    if (s.starts_with(as)) s = trimmed(std::string_view(s).substr(as.size()));
  }
  while (!s.empty() && (s.back() == '-' || s.back() == '+')) s.pop_back();
  const Basis* b = basis_written(s);
  if (b == nullptr) return std::nullopt;
  return std::string(b->name);
}

std::optional<LabUnit> lab_unit(std::string_view text) {
  const std::string key = unit_key(text);
  if (key.empty()) return std::nullopt;
  if (auto unit = plain_unit(key)) return unit;
  for (const Basis& b : kBases) {
    std::string written(b.written);
    std::erase(written, ' ');
    std::string rest;
    const auto behind = [&](const std::string& end) {
      if (!key.ends_with(end) || key.size() == end.size()) return false;
      rest = key.substr(0, key.size() - end.size());
      return true;
    };
    const bool found = behind("as" + written) || behind("(as" + written + ")") ||
                       behind("(" + written + ")") || behind("-" + written) ||
                       behind("als" + written) || behind("/l" + written);
    if (found && key.ends_with("/l" + written)) rest += "/l";
    if (!found) {
      const std::size_t slash = key.find('/');
      if (slash == std::string::npos || slash <= written.size()) continue;
      // "mgn/l", "mg(n)/l", "mgcaco3/l"
      for (const std::string& inner :
           {written, "(" + written + ")", "-" + written, "as" + written}) {
        if (slash > inner.size() && key.substr(slash - inner.size(), inner.size()) == inner) {
          rest = key.substr(0, slash - inner.size()) + key.substr(slash);
          break;
        }
      }
    }
    if (rest.empty()) continue;
    if (auto unit = plain_unit(rest)) {
      unit->basis = b.name;
      return unit;
    }
  }
  return std::nullopt;
}

std::optional<LabName> lab_name(std::string_view text) {
  const std::string plain = plain_text(text);
  if (auto found = look_up(words_of(plain))) return found;
  std::vector<std::string> parts;
  std::string rest = without_brackets(plain, parts);
  std::string unit;
  std::string basis;
  for (const std::string& part : parts) {
    // "as N"; of "Calcium (Ca)" the bracket says nothing new.
    if (auto b = lab_basis(part); b && (basis.empty() || part.find(' ') != std::string::npos)) {
      basis = *b;
    } else if (unit.empty() && lab_unit(part)) {
      unit = part;
    } else if (!look_up(words_of(part)) && part.find_first_of("0123456789") == std::string::npos) {
      // "Iron (dissolved)", but not "Conductivity (25 °C)"
      rest += " " + part;
    }
  }
  if (const std::size_t comma = rest.rfind(','); comma != std::string::npos && unit.empty()) {
    const std::string behind = trimmed(std::string_view(rest).substr(comma + 1));
    if (lab_unit(behind)) {
      unit = behind;
      rest = trimmed(std::string_view(rest).substr(0, comma));
    }
  }
  std::string words = words_of(rest);
  for (const std::string_view as : {" as ", " als ", " como "}) {
    const std::size_t at = words.rfind(as);
    if (at == std::string::npos) continue;
    if (auto b = lab_basis(std::string_view(words).substr(at + as.size()))) {
      basis = *b;
      words = words.substr(0, at);
    }
  }
  auto found = look_up(words);
  if (!found && unit.empty()) {
    // "Calcium mg/L"
    if (const std::size_t blank = rest.rfind(' '); blank != std::string::npos) {
      const std::string behind = rest.substr(blank + 1);
      if (lab_unit(behind)) {
        found = look_up(words_of(std::string_view(rest).substr(0, blank)));
        unit = behind;
      }
    }
  }
  if (!found) return std::nullopt;
  if (!basis.empty() && (basis != found->of || found->basis.empty())) found->basis = basis;
  found->unit = unit;
  return found;
}

bool basis_matters(std::string_view of) {
  return of == "NO3" || of == "NO2" || of == "NH4" || of == "PO4";
}

std::optional<double> mass_concentration(std::string_view given,
                                         double value,
                                         const LabUnit& unit,
                                         std::string_view basis) {
  // Nearly all of the two together is nitrate; total iron is counted as dissolved.
  const std::string_view of = given == "NO3_NO2"      ? "NO3"
                              : given == "iron_total" ? "Fe"
                              : given == "As"         ? "As5"
                                                      : given;
  const bool by_carbonate = of == "hardness" || of == "alkalinity" || of == "calcium_hardness" ||
                            of == "magnesium_hardness";
  const auto species = species_from_key(of);
  const double charge = species ? std::fabs(charge_of(*species)) : 0;
  const double own = of == "sulfide"      ? 32.06e-3
                     : of == "alkalinity" ? kCalciumCarbonate
                     : by_carbonate       ? kCalciumCarbonate
                     : species            ? molar_mass_of(*species)
                                          : 0;
  switch (unit.kind) {
    case LabUnitKind::kHardness:
      if (by_carbonate) return value * unit.factor;
      if (charge == 0) return std::nullopt;
      return value * unit.factor / (kCalciumCarbonate / 2) * own / charge;
    case LabUnitKind::kEquivalents:
      if (by_carbonate) return value * unit.factor * kCalciumCarbonate / 2;
      if (charge == 0) return std::nullopt;
      return value * unit.factor * own / charge;
    case LabUnitKind::kAmount:
      // A mole of alkalinity is one of charge; one of hardness is one of Ca and Mg.
      if (of == "alkalinity") return value * unit.factor * kCalciumCarbonate / 2;
      if (own == 0) return std::nullopt;
      return value * unit.factor * own;
    case LabUnitKind::kMass: {
      // Divided by a whole number, so that a number that was typed is shown as it was typed.
      const double mass = value / (1 / unit.factor);
      if (basis.empty()) return mass;
      const Basis* b = basis_named(basis);
      if (b == nullptr) return std::nullopt;
      if (b->name == "CaCO3" || b->name == "CaO") {
        const double mol = mass / molar_mass_of(*b);
        if (by_carbonate) return mol * kCalciumCarbonate;
        if (charge == 0) return std::nullopt;
        return 2 * mol * own / charge;
      }
      if (b->name == of) return mass;
      if (!names(b->of, of)) {
        const bool of_hardness = (of == "calcium_hardness" && b->name == "Ca") ||
                                 (of == "magnesium_hardness" && b->name == "Mg") ||
                                 (of == "hardness" && b->name == "Ca");
        if (of_hardness) return mass / molar_mass_of(*b) * own;
        return std::nullopt;
      }
      if (of == "alkalinity") return mass / molar_mass_of(*b) * kCalciumCarbonate / 2;
      if (own == 0) return mass;  // chlorine, as Cl2
      return mass / molar_mass_of(*b) * b->atoms * own;
    }
    default:
      return std::nullopt;
  }
}

}  // namespace drawoff::water
