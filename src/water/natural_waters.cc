#include "water/natural_waters.h"

#include <Eigen/Cholesky>
#include <Eigen/Core>
#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <string_view>

#include "base/check.h"
#include "base/csv.h"
#include "data/embedded.h"
#include "water/carbonate.h"

namespace drawoff::water {
namespace {

using Vector = Eigen::Matrix<double, kNaturalDimensions, 1>;
using Matrix = Eigen::Matrix<double, kNaturalDimensions, kNaturalDimensions>;

// The numbers of natural_waters.csv, in its order.
enum Number { kStrength, kMg, kNa, kK, kCl, kSO4, kNO3, kCarbonDioxide };
constexpr std::array<std::string_view, kNaturalDimensions> kKeys{
    "strength", "Mg/Ca", "Na/Ca", "K/Ca", "Cl/HCO3", "SO4/HCO3", "NO3/HCO3", "carbon_dioxide"};

struct Prior {
  Vector centre;  // ln, the carbon dioxide as it is
  Matrix root;    // of the covariance
  std::array<double, kMinorSpecies.size()>
      minor;  // median [mol/m³], of 1 mol of charge/m³ or whole
  std::array<double, kMinorSpecies.size()> minor_spread;
  std::array<bool, kMinorSpecies.size()> follows_strength;
};

Prior parse() {
  Prior prior;
  Vector spread;
  const base::Csv numbers = base::Csv::parse(data::file("natural_waters.csv"));
  CHECK(numbers.rows() == kKeys.size());
  for (std::size_t i = 0; i < kKeys.size(); ++i) {
    CHECK(numbers.text(i, "key") == kKeys[i]);
    const auto row = static_cast<Eigen::Index>(i);
    const double value = numbers.number(i, "value");
    prior.centre[row] = i == kCarbonDioxide ? value : std::log(value);
    spread[row] = numbers.number(i, "spread");
  }
  Matrix correlation = Matrix::Identity();
  const base::Csv links = base::Csv::parse(data::file("natural_water_links.csv"));
  const auto place = [](std::string_view key) {
    const auto at = std::find(kKeys.begin(), kKeys.end(), key);
    CHECK(at != kKeys.end());
    return at - kKeys.begin();
  };
  for (std::size_t row = 0; row < links.rows(); ++row) {
    const auto one = place(links.text(row, "one"));
    const auto other = place(links.text(row, "other"));
    correlation(one, other) = correlation(other, one) = links.number(row, "correlation");
  }
  const Eigen::LLT<Matrix> factor(correlation);
  CHECK(factor.info() == Eigen::Success);
  prior.root = spread.asDiagonal() * Matrix(factor.matrixL());

  const base::Csv minors = base::Csv::parse(data::file("natural_water_minors.csv"));
  CHECK(minors.rows() == kMinorSpecies.size());
  for (std::size_t i = 0; i < kMinorSpecies.size(); ++i) {
    const Species s = kMinorSpecies[i];
    CHECK(minors.text(i, "key") == species_data(s).key);
    prior.minor[i] = minors.number(i, "value_mg_L") * 1e-3 / molar_mass_of(s);
    prior.minor_spread[i] = minors.number(i, "spread");
    prior.follows_strength[i] = minors.number(i, "per_meq") == 1;
  }
  return prior;
}

const Prior& prior() {
  static const Prior parsed = parse();
  return parsed;
}

Vector numbers_at(std::span<const double> point) {
  CHECK(point.size() == kNaturalDimensions);
  return prior().centre + prior().root * Eigen::Map<const Vector>(point.data());
}

}  // namespace

double natural_strength(std::span<const double> point) {
  return std::exp(numbers_at(point)[kStrength]);
}

MinorPrior minor_prior(std::size_t minor, double strength) {
  const double share = prior().follows_strength[minor] ? strength : 1.0;
  return {std::log(prior().minor[minor] * share), prior().minor_spread[minor]};
}

NaturalWater natural_water(std::span<const double> point, const MinorAmounts& minors) {
  // However much of a minor is there, the great ones keep a tenth of the charge.
  constexpr double kMostMinor = 0.9;
  const Vector number = numbers_at(point);
  NaturalWater water;
  Composition& c = water.constituents;
  double minor_cations = 0;
  double minor_anions = 0;
  for (std::size_t i = 0; i < kMinorSpecies.size(); ++i) {
    const Species s = kMinorSpecies[i];
    c[s] = minors[i];
    (charge_of(s) > 0 ? minor_cations : minor_anions) += std::abs(charge_of(s)) * minors[i];
  }
  const double strength =
      std::max(std::exp(number[kStrength]), std::max(minor_cations, minor_anions) / kMostMinor);

  const double mg = std::exp(number[kMg]);
  const double na = std::exp(number[kNa]);
  const double k = std::exp(number[kK]);
  const double calcium = (strength - minor_cations) / (1 + mg + na + k);
  c[Species::Ca] = calcium / 2;
  c[Species::Mg] = mg * calcium / 2;
  c[Species::Na] = na * calcium;
  c[Species::K] = k * calcium;

  const double cl = std::exp(number[kCl]);
  const double so4 = std::exp(number[kSO4]);
  const double no3 = std::exp(number[kNO3]);
  const double alkalinity = (strength - minor_anions) / (1 + cl + so4 + no3);
  c[Species::Cl] = cl * alkalinity;
  c[Species::SO4] = so4 * alkalinity / 2;
  c[Species::NO3] = no3 * alkalinity;
  water.alkalinity = units::mol_per_cubic_metre(alkalinity);

  const units::Temperature reference = units::celsius(25);
  water.ph = std::clamp(std::log10(alkalinity * 1e-3) - kLogK1.at(reference) -
                            kLogKH.at(reference) + number[kCarbonDioxide],
                        4.5,
                        10.0);
  return water;
}

}  // namespace drawoff::water
