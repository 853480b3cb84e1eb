#include "water/speciation.h"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <optional>

#include "numerics/bracket.h"
#include "water/minerals.h"
#include "water/properties.h"

namespace drawoff::water {
namespace {

constexpr double kLn10 = std::numbers::ln10;

// Constituents that take part in equilibria, the carbonate, H, the ionic strength and the extent of
// precipitation.
constexpr int kMostUnknowns = 21;
using Vector = Eigen::Matrix<double, Eigen::Dynamic, 1, 0, kMostUnknowns, 1>;
using Matrix =
    Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, 0, kMostUnknowns, kMostUnknowns>;

bool is_carbonate_or_water(Species s) {
  return s == Species::H || s == Species::OH || s == Species::HCO3 || s == Species::CO3 ||
         s == Species::CO2;
}

// What is held fixed.
struct Given {
  double alkalinity = 0;                                // [mol/m³]
  std::optional<double> ph = std::nullopt;              // else an unknown
  std::optional<double> carbonate = std::nullopt;       // C [mol/m³]; else from the alkalinity …
  std::optional<double> carbon_dioxide = std::nullopt;  // … or from a_CO2 [mol/kg]
  std::optional<double> calcite_log_k = std::nullopt;   // saturated with calcite: ln K
};

class Problem {
 public:
  Problem(const Composition& c, const Given& given, units::Temperature temperature)
      : totals_(c), given_(given), temperature_(temperature), slopes_(temperature) {
    water_ = density(temperature).si() * (1 - volume_share());
    choose_components();
    list_forms();
  }

  Speciation solve();
  [[nodiscard]] double precipitated() const { return extent_ * water_; }

 private:
  static constexpr int kMostParts = 4;
  struct Form {
    double ln_k = 0;
    ActivityData activity;
    int parts = 0;
    std::array<int, kMostParts> component{};
    std::array<int, kMostParts> count{};
    int rows = 0;  // the sums that it is part of, and how often
    std::array<int, kMostParts> row{};
    std::array<int, kMostParts> weight{};
    int species = -1;  // of a Composition
    int complex = -1;  // of complexes()
    double molality = 0;
    double log_gamma_slope = 0;  // d ln γ/d ln I
    void add(int of, int n) {
      for (int i = 0; i < parts; ++i) {
        if (component[i] != of) continue;
        count[i] += n;
        return;
      }
      component[parts] = of;
      count[parts++] = n;
    }
    [[nodiscard]] int of(int wanted) const {
      for (int i = 0; i < parts; ++i) {
        if (component[i] == wanted) return count[i];
      }
      return 0;
    }
    void sum_into(int to, int times) {
      if (times == 0) return;
      row[rows] = to;
      weight[rows++] = times;
    }
  };

  // Share of the volume that the solutes take; the alkalinity as bicarbonate, so that it does not
  // hang on the pH.
  [[nodiscard]] double volume_share() const {
    double share = std::max(given_.alkalinity, 0.0) * species_data(Species::HCO3).molar_volume.si();
    for (int i = 0; i < kSpeciesCount; ++i) {
      const Species s = species_at(i);
      if (!is_carbonate_or_water(s)) share += totals_[s] * species_data(s).molar_volume.si();
    }
    return share;
  }

  void choose_components();
  void list_forms();
  void start();
  void evaluate();
  void sweep();
  bool step();

  Composition totals_;
  Given given_;
  units::Temperature temperature_;
  ActivityLaw::Slopes slopes_;
  double water_ = 1000;

  int constituents_ = 0;  // unknowns 0 … constituents_ − 1
  int carbonate_ = -1;    // then HCO3, if there is carbonate
  int hydrogen_ = -1;     // then H: an unknown if no pH is given
  int calcium_ = -1;
  std::array<int, kSpeciesCount> component_of_{};
  std::array<Species, kMostUnknowns> species_of_{};
  std::array<double, kMostUnknowns> total_{};  // [mol/kg]
  std::array<double, kMostUnknowns> log_{};    // ln a
  double alkalinity_ = 0;
  double spectator_strength_ = 0;
  double strength_ = 0;  // an unknown like the activities, as its logarithm
  double made_strength_ = 0;
  double extent_ = 0;
  std::array<Form, kSpeciesCount + kComplexCount> forms_;
  int form_count_ = 0;
};

void Problem::choose_components() {
  std::array<bool, kSpeciesCount> reacts{};
  for (const Complex& x : complexes()) {
    for (const auto& p : x.parts) reacts[index(p.species)] = true;
  }
  component_of_.fill(-1);
  double strength = 0;
  for (int i = 0; i < kSpeciesCount; ++i) {
    const Species s = species_at(i);
    if (is_carbonate_or_water(s)) continue;
    const double molality = totals_[s] / water_;
    const bool dissolves = s == Species::Ca && given_.calcite_log_k;
    if (reacts[i] && (molality > 0 || dissolves)) {
      species_of_[constituents_] = s;
      total_[constituents_] = molality;
      component_of_[i] = constituents_++;
    } else {
      spectator_strength_ += 0.5 * charge_of(s) * charge_of(s) * molality;
    }
    strength += 0.5 * charge_of(s) * charge_of(s) * molality;
  }
  alkalinity_ = given_.alkalinity / water_;
  strength_ = std::max(strength + 0.5 * std::abs(alkalinity_), 1e-7);
  calcium_ = component_of_[index(Species::Ca)];
  int next = constituents_;
  const bool carbonate = given_.carbonate
                             ? *given_.carbonate > 0 || given_.calcite_log_k.has_value()
                         : given_.carbon_dioxide ? true
                                                 : alkalinity_ > 0;
  if (carbonate) {
    carbonate_ = next++;
    component_of_[index(Species::HCO3)] = carbonate_;
    species_of_[carbonate_] = Species::HCO3;
    if (given_.carbonate) total_[carbonate_] = *given_.carbonate / water_;
  }
  hydrogen_ = next;
  component_of_[index(Species::H)] = hydrogen_;
  species_of_[hydrogen_] = Species::H;
}

void Problem::list_forms() {
  const double k1 = kLogK1.at(temperature_) * kLn10;
  const double k2 = kLogK2.at(temperature_) * kLn10;
  const double kw = kLogKw.at(temperature_) * kLn10;
  // The sums that a form is part of: its constituents, the carbonate, and the alkalinity in the row
  // of whichever of carbonate and pH is to be found from it.
  const auto push = [&](Form f) {
    for (int p = 0; p < f.parts; ++p) {
      if (f.component[p] < constituents_) f.sum_into(f.component[p], f.count[p]);
    }
    const int carbon = carbonate_ >= 0 ? f.of(carbonate_) : 0;
    const int alkali = carbon - f.of(hydrogen_);
    if (carbonate_ >= 0 && given_.carbonate) f.sum_into(carbonate_, carbon);
    if (carbonate_ >= 0 && !given_.carbonate && !given_.carbon_dioxide) {
      f.sum_into(carbonate_, alkali);
    }
    if (!given_.ph) f.sum_into(hydrogen_, alkali);
    forms_[form_count_++] = f;
  };
  const auto own = [&](Species s, double ln_k) {
    Form f;
    f.ln_k = ln_k;
    f.activity = activity_of(s);
    f.species = static_cast<int>(index(s));
    return f;
  };
  for (int i = 0; i < constituents_; ++i) {
    Form f = own(species_of_[i], 0);
    f.add(i, 1);
    push(f);
  }
  Form h = own(Species::H, 0);
  h.add(hydrogen_, 1);
  push(h);
  Form oh = own(Species::OH, kw);
  oh.add(hydrogen_, -1);
  push(oh);
  if (carbonate_ >= 0) {
    Form bicarbonate = own(Species::HCO3, 0);
    bicarbonate.add(carbonate_, 1);
    push(bicarbonate);
    Form carbonate = own(Species::CO3, k2);
    carbonate.add(carbonate_, 1);
    carbonate.add(hydrogen_, -1);
    push(carbonate);
    Form gas = own(Species::CO2, -k1);
    gas.add(carbonate_, 1);
    gas.add(hydrogen_, 1);
    push(gas);
  }
  for (int x = 0; x < kComplexCount; ++x) {
    const Complex& complex = complexes()[x];
    Form f;
    f.complex = x;
    f.activity = complex.activity;
    bool present = true;
    for (const auto& p : complex.parts) {
      const Species s = p.species == Species::CO3 ? Species::HCO3 : p.species;
      const int component = component_of_[index(s)];
      present = present && component >= 0;
      if (!present) break;
      f.add(component, p.count);
      if (p.species == Species::CO3) {
        f.add(hydrogen_, -p.count);
        f.ln_k += p.count * k2;
      }
    }
    if (!present) continue;
    f.ln_k += complex.log_k.at(temperature_) * kLn10;
    push(f);
  }
}

// The carbonate alone gives a first pH and bicarbonate; every constituent begins free.
void Problem::start() {
  const ActivityLaw gamma(strength_, slopes_);
  for (int i = 0; i < constituents_; ++i) {
    log_[i] = std::log(std::max(total_[i], 1e-9)) + gamma(activity_of(species_of_[i]));
  }
  const double k1 = kLogK1.at(temperature_) * kLn10;
  const double k2 = kLogK2.at(temperature_) * kLn10;
  const double kw = kLogKw.at(temperature_) * kLn10;
  const double g1 = gamma(activity_of(Species::HCO3));
  const double g2 = gamma(activity_of(Species::CO3));
  // ln a of bicarbonate at a pH, from what is given.
  const auto bicarbonate = [&](double ln_h) {
    const double carbonates = std::exp(k2 - ln_h - g2);
    const double gas = std::exp(ln_h - k1);
    if (given_.carbonate) {
      return std::log(std::max(*given_.carbonate / water_, 1e-9) /
                      (std::exp(-g1) + carbonates + gas));
    }
    if (given_.carbon_dioxide) return std::log(*given_.carbon_dioxide) + k1 - ln_h;
    const double left = alkalinity_ - std::exp(kw - ln_h - g1) + std::exp(ln_h - g1);
    return std::log(std::max(left, 1e-3 * alkalinity_) / (std::exp(-g1) + 2 * carbonates));
  };
  if (given_.ph) {
    log_[hydrogen_] = -*given_.ph * kLn10;
  } else {
    const auto excess = [&](double ph) {
      const double ln_h = -ph * kLn10;
      double sum = std::exp(kw - ln_h - g1) - std::exp(ln_h - g1) - alkalinity_;
      if (carbonate_ >= 0) {
        sum += std::exp(bicarbonate(ln_h)) * (std::exp(-g1) + 2 * std::exp(k2 - ln_h - g2));
      }
      return sum;
    };
    const auto root = numerics::find_root(excess, {.low = 0, .high = 14, .tolerance = 1e-3});
    const double ph = root.status == numerics::BracketStatus::kNoSignChange
                          ? (alkalinity_ > 0 ? 14.0 : 0.0)
                          : root.root;
    log_[hydrogen_] = -ph * kLn10;
  }
  if (carbonate_ >= 0) log_[carbonate_] = bicarbonate(log_[hydrogen_]);
}

// Molalities of all forms at the ionic strength, and the one that they make.
void Problem::evaluate() {
  const ActivityLaw gamma(strength_, slopes_);
  double strength = spectator_strength_;
  for (int j = 0; j < form_count_; ++j) {
    Form& f = forms_[j];
    double ln = f.ln_k - gamma(f.activity);
    for (int p = 0; p < f.parts; ++p) ln += f.count[p] * log_[f.component[p]];
    f.molality = std::exp(std::min(ln, 50.0));
    f.log_gamma_slope = strength_ * gamma.slope(f.activity);
    strength += 0.5 * f.activity.charge * f.activity.charge * f.molality;
  }
  made_strength_ = strength;
}

// Each constituent scaled to its total in turn: from far away, where Newton's steps are short.
void Problem::sweep() {
  for (int i = 0; i < constituents_; ++i) {
    double sum = 0;
    for (int j = 0; j < form_count_; ++j) sum += std::abs(forms_[j].of(i)) * forms_[j].molality;
    if (sum > total_[i] && total_[i] > 0) log_[i] += std::log(total_[i] / sum);
  }
}

// One step of Newton's method; true when there is none to take, all residuals being small.
bool Problem::step() {
  constexpr double kTolerance = 1e-11;
  constexpr double kLongest = 2.5;
  const bool seeks_ph = !given_.ph;
  const bool saturated = given_.calcite_log_k.has_value();
  const int rows = hydrogen_ + (seeks_ph ? 1 : 0);
  const int strength = rows;
  const int size = rows + 1 + (saturated ? 1 : 0);
  const int extent = size - 1;
  Vector residual = Vector::Zero(size);
  Matrix slope = Matrix::Zero(size, size);
  Vector scale = Vector::Zero(size);

  for (int j = 0; j < form_count_; ++j) {
    const Form& f = forms_[j];
    for (int r = 0; r < f.rows; ++r) {
      const double amount = f.weight[r] * f.molality;
      residual[f.row[r]] += amount;
      scale[f.row[r]] += std::abs(amount);
      for (int p = 0; p < f.parts; ++p) {
        if (f.component[p] < rows) slope(f.row[r], f.component[p]) += f.count[p] * amount;
      }
      slope(f.row[r], strength) -= f.log_gamma_slope * amount;
    }
    const double part = 0.5 * f.activity.charge * f.activity.charge * f.molality;
    for (int p = 0; p < f.parts; ++p) {
      if (f.component[p] < rows) slope(strength, f.component[p]) += f.count[p] * part;
    }
    slope(strength, strength) -= f.log_gamma_slope * part;
  }
  residual[strength] = made_strength_ - strength_;
  slope(strength, strength) -= strength_;
  scale[strength] = strength_;
  for (int row = 0; row < rows; ++row) {
    const double wanted = row < constituents_                          ? total_[row]
                          : row == carbonate_ && given_.carbonate      ? total_[carbonate_]
                          : row == carbonate_ && given_.carbon_dioxide ? 0
                                                                       : alkalinity_;
    double laid_down = 0;
    if (saturated) {
      if (row == calcium_ || row == carbonate_) laid_down = 1;
      if (row == hydrogen_) laid_down = 2;
      slope(row, extent) = laid_down;
    }
    residual[row] += laid_down * extent_ - wanted;
    scale[row] = std::max({scale[row], std::abs(wanted), 1e-12});
  }
  if (carbonate_ >= 0 && given_.carbon_dioxide) {
    residual[carbonate_] = log_[carbonate_] + log_[hydrogen_] - kLogK1.at(temperature_) * kLn10 -
                           std::log(*given_.carbon_dioxide);
    slope(carbonate_, carbonate_) = 1;
    slope(carbonate_, hydrogen_) = 1;
    scale[carbonate_] = 1;
  }
  if (saturated) {
    residual[extent] = log_[calcium_] + log_[carbonate_] - log_[hydrogen_] +
                       kLogK2.at(temperature_) * kLn10 - *given_.calcite_log_k;
    slope(extent, calcium_) = 1;
    slope(extent, carbonate_) = 1;
    slope(extent, hydrogen_) = -1;
    scale[extent] = 1;
  }
  double worst = 0;
  for (int row = 0; row < size; ++row) {
    worst = std::max(worst, std::abs(residual[row]) / scale[row]);
    slope.row(row) /= scale[row];
    residual[row] /= scale[row];
  }
  if (worst < kTolerance) return true;
  Vector change = slope.partialPivLu().solve(-residual);
  double longest = 0;
  for (int i = 0; i <= rows; ++i) longest = std::max(longest, std::abs(change[i]));
  if (longest > kLongest) change *= kLongest / longest;
  for (int i = 0; i < rows; ++i) log_[i] += change[i];
  strength_ *= std::exp(change[strength]);
  if (saturated) extent_ += change[extent];
  return false;
}

Speciation Problem::solve() {
  constexpr int kSweeps = 3;
  constexpr int kMostSteps = 60;
  start();
  for (int i = 0; i < kSweeps; ++i) {
    evaluate();
    sweep();
    strength_ = made_strength_;
  }
  for (int i = 0; i < kMostSteps; ++i) {
    evaluate();
    if (step()) break;
  }
  evaluate();

  Speciation out;
  out.temperature = temperature_;
  out.water = water_;
  out.ionic_strength = strength_;
  out.ph = -log_[hydrogen_] / kLn10;
  out.free = totals_;
  for (const Species s : {Species::H, Species::OH, Species::HCO3, Species::CO3, Species::CO2}) {
    out.free[s] = 0;
  }
  out.total = out.free;
  for (int i = 0; i < constituents_; ++i) out.total[species_of_[i]] = 0;
  for (int j = 0; j < form_count_; ++j) {
    const Form& f = forms_[j];
    const double mol_m3 = f.molality * water_;
    if (f.species >= 0) {
      out.free.mol_m3[f.species] = mol_m3;
      out.total.mol_m3[f.species] += mol_m3;
      continue;
    }
    out.complexes[f.complex] = mol_m3;
    for (const auto& p : complexes()[f.complex].parts) {
      if (p.species == Species::H && p.count < 0) {
        out.total[Species::OH] -= p.count * mol_m3;
      } else {
        out.total[p.species] += p.count * mol_m3;
      }
    }
  }
  return out;
}

}  // namespace

double alkalinity_of(const Composition& c) {
  return c[Species::HCO3] + 2 * c[Species::CO3] + c[Species::OH] - c[Species::H];
}
double carbonate_of(const Composition& c) {
  return c[Species::HCO3] + c[Species::CO3] + c[Species::CO2];
}

double Speciation::log_activity(Species s) const {
  if (free[s] <= 0) return -std::numeric_limits<double>::infinity();
  return std::log(free[s] / water) + ActivityLaw(ionic_strength, temperature)(activity_of(s));
}

Speciation speciation_at_ph(const Composition& totals,
                            units::MolarConcentration alkalinity,
                            double ph,
                            units::Temperature temperature) {
  // From pH 8 on the OH alone may be more than a small alkalinity, and leave no carbonate.
  constexpr double kMayBeAllHydroxide = 8;
  if (ph > kMayBeAllHydroxide) {
    const Given bare{.alkalinity = alkalinity.si(), .ph = ph, .carbonate = 0};
    Speciation without = Problem(totals, bare, temperature).solve();
    if (alkalinity_of(without.total) >= alkalinity.si()) return without;
  }
  return Problem(totals, {.alkalinity = alkalinity.si(), .ph = ph}, temperature).solve();
}

Speciation closed_speciation(const Composition& c, units::Temperature temperature) {
  return Problem(c, {.alkalinity = alkalinity_of(c), .carbonate = carbonate_of(c)}, temperature)
      .solve();
}

Speciation open_speciation(const Composition& c,
                           double carbon_dioxide_atm,
                           units::Temperature temperature) {
  const double activity = carbon_dioxide_atm * std::pow(10.0, kLogKH.at(temperature));
  return Problem(c, {.alkalinity = alkalinity_of(c), .carbon_dioxide = activity}, temperature)
      .solve();
}

Precipitation calcite_precipitation(const Composition& c, units::Temperature temperature) {
  Problem problem(c,
                  {.alkalinity = alkalinity_of(c),
                   .carbonate = carbonate_of(c),
                   .calcite_log_k = mineral(Mineral::kCalcite).log_k.at(temperature) * kLn10},
                  temperature);
  Precipitation out;
  out.after = problem.solve();
  out.calcium_carbonate = problem.precipitated();
  return out;
}

}  // namespace drawoff::water
