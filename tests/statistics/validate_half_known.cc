// Nine in ten of the intervals of a half-known water should hold what is truly in it, however few
// readings there are: counted over waters drawn from the prior, read with errors.
//
// That tests the code, not the prior. The 17 measured groundwaters of data/reference/open, to which
// nothing was fitted, are counted apart: whether natural waters are as the prior says.
#include <algorithm>
#include <array>
#include <cmath>
#include <string>
#include <vector>

#include "base/reference_table.h"
#include "numerics/sample.h"
#include "support/coverage.h"
#include "water/conductivity.h"
#include "water/half_known.h"
#include "water/natural_waters.h"
#include "water/saturation.h"

namespace drawoff {
namespace {

using support::Count;
using water::Known;
using water::KnownReading;
using water::Speciation;
using water::Species;

constexpr std::uint64_t kSeed = 20261127;
constexpr double kPenSpread = 0.02;
constexpr double kPhSigma = 0.2;
constexpr double kTestShare = 0.1;

struct Quantity {
  const char* name;
  double (*of)(const Speciation&);
};
template <Known kOf>
double known(const Speciation& w) {
  return water::quantity_of(kOf, w);
}
template <Species kSpecies>
double amount(const Speciation& w) {
  return w.total[kSpecies];
}
double calcite(const Speciation& w) { return water::saturation_index(w, water::Mineral::kCalcite); }
double dissolved(const Speciation& w) { return water::total_dissolved(w.total).si(); }
constexpr std::array kQuantities{Quantity{"conductivity", known<Known::kConductivity>},
                                 Quantity{"pH", known<Known::kPh>},
                                 Quantity{"hardness", known<Known::kHardness>},
                                 Quantity{"alkalinity", known<Known::kAlkalinity>},
                                 Quantity{"dissolved", dissolved},
                                 Quantity{"calcium", amount<Species::Ca>},
                                 Quantity{"sodium", amount<Species::Na>},
                                 Quantity{"chloride", known<Known::kChloride>},
                                 Quantity{"sulfate", known<Known::kSulfate>},
                                 Quantity{"nitrate", known<Known::kNitrate>},
                                 Quantity{"calcite index", calcite},
                                 Quantity{"fluoride", known<Known::kFluoride>},
                                 Quantity{"iron", known<Known::kIron>}};
constexpr std::size_t kMeasured = kQuantities.size() - 2;  // of the groundwaters; no fluoride, iron

// What a drop test cannot see [mg/L].
double least_seen(Known of) {
  switch (of) {
    case Known::kNitrate:
      return 1;
    case Known::kFluoride:
    case Known::kIron:
      return 0.05;
    default:
      return 5;
  }
}

// The fields of a strip [mg/L].
KnownReading strip(Known of, double truth, numerics::Random& random) {
  constexpr std::array kSteps{1.0, 3.0, 10.0, 25.0, 60.0, 120.0, 250.0, 500.0};
  KnownReading r{.of = of};
  const double seen = truth * 1e3 * std::exp(r.blur * random.normal());
  const auto* const above = std::upper_bound(kSteps.begin(), kSteps.end(), seen);
  if (above != kSteps.begin()) r.low = *(above - 1) * 1e-3;
  if (above != kSteps.end()) r.high = *above * 1e-3;
  return r;
}

KnownReading read(Known of, const Speciation& truth, numerics::Random& random) {
  const double value = water::quantity_of(of, truth);
  if (of == Known::kConductivity) {
    const double spread = std::hypot(kPenSpread, water::kConductivityRelativeError);
    return {.of = of, .value = value * std::exp(spread * random.normal()), .sigma = kPenSpread};
  }
  if (of == Known::kPh) {
    return {.of = of, .value = value + kPhSigma * random.normal(), .sigma = kPhSigma};
  }
  if (random.chance(0.5)) return strip(of, value, random);
  const double sigma = std::hypot(kTestShare * value, least_seen(of) * 1e-3);
  return {.of = of, .value = value + sigma * random.normal(), .sigma = sigma};
}

Speciation any_water(numerics::Random& random) {
  std::array<double, water::kNaturalDimensions> point{};
  for (double& x : point) x = random.normal();
  water::MinorAmounts minors{};
  for (std::size_t i = 0; i < minors.size(); ++i) {
    const auto prior = water::minor_prior(i, water::natural_strength(point));
    minors[i] = std::exp(prior.mean + prior.spread * random.normal());
  }
  const auto w = water::natural_water(point, minors);
  return water::speciation_at_ph(w.constituents, w.alkalinity, w.ph, units::celsius(15));
}

void count_in(const water::LikelyWaters& likely, const Speciation& truth, std::span<Count> counts) {
  for (std::size_t q = 0; q < counts.size(); ++q) {
    std::vector<double> values;
    for (const Speciation& member : likely.members) values.push_back(kQuantities[q].of(member));
    const auto ordered = numerics::sorted(values);
    const double value = kQuantities[q].of(truth);
    ++counts[q].all;
    counts[q].inside +=
        value >= numerics::quantile(ordered, 0.05) && value <= numerics::quantile(ordered, 0.95)
            ? 1
            : 0;
  }
}

// Each of the readings that can be, once, in any order.
std::vector<Known> some(int count, numerics::Random& random) {
  std::vector<Known> all{Known::kConductivity,
                         Known::kPh,
                         Known::kHardness,
                         Known::kAlkalinity,
                         Known::kChloride,
                         Known::kSulfate,
                         Known::kNitrate,
                         Known::kFluoride,
                         Known::kIron};
  std::vector<Known> chosen;
  for (int i = 0; i < count; ++i) {
    const auto at = all.begin() + random.below(static_cast<int>(all.size()));
    chosen.push_back(*at);
    all.erase(at);
  }
  return chosen;
}

int count_prior(bool full) {
  const int waters = full ? 5000 : 150;
  support::Section section("Coverage of half-known waters");
  section.line(
      "Seed {}, {} waters of the prior for each number of readings: any of conductivity, pH, "
      "hardness, "
      "alkalinity, chloride, sulfate, nitrate, fluoride, iron, by meter, drop test or strip.\n",
      kSeed,
      waters);
  std::vector<std::string> names;
  std::vector<Count> counts;
  constexpr std::array kReadings{1, 2, 3, 5};
  names.reserve(kReadings.size() * kQuantities.size());
  for (const int n : kReadings) {
    const std::size_t first = counts.size();
    for (const Quantity& q : kQuantities) {
      names.push_back(std::to_string(n) + " read: " + q.name);
      counts.push_back({.name = names.back()});
    }
    for (int i = 0; i < waters; ++i) {
      numerics::Random random(kSeed + static_cast<std::uint64_t>(n), static_cast<std::uint64_t>(i));
      const Speciation truth = any_water(random);
      water::HalfKnown half{.temperature = truth.temperature};
      for (const Known of : some(n, random)) half.readings.push_back(read(of, truth, random));
      count_in(water::likely_waters(half, 7919 * (static_cast<std::uint64_t>(i) + 1)),
               truth,
               std::span(counts).subspan(first, kQuantities.size()));
    }
  }
  support::demand_coverage(section, counts, full);
  return section.status();
}

// From Stuyfzand (1987), table 3.1: their own meter and pH, then also hardness and alkalinity.
int count_measured() {
  support::Section section("Half-known waters: 17 measured groundwaters, held out");
  const base::Csv table = base::reference_table("open/groundwater_conductivity.csv");
  std::string heading;
  std::string rule;
  for (std::size_t q = 0; q < kMeasured; ++q) {
    heading += std::string(kQuantities[q].name) + " | ";
    rule += "---: | ";
  }
  section.line("| readings | {}\n| --- | {}", heading, rule);
  for (const int readings : {1, 2, 4}) {
    std::array<Count, kMeasured> counts{};
    for (std::size_t row = 0; row < table.rows(); ++row) {
      water::Composition c;
      for (const char* key : {"Cl", "SO4", "NO3", "Na", "K", "Ca", "Mg", "NH4"}) {
        const Species s = *water::species_from_key(key);
        c[s] = table.number(row, std::string(key) + "_mg_L") * 1e-3 / water::molar_mass_of(s);
      }
      const double alkalinity =
          table.number(row, "HCO3_mg_L") * 1e-3 / water::molar_mass_of(Species::HCO3) +
          2 * table.number(row, "CO3_mg_L") * 1e-3 / water::molar_mass_of(Species::CO3);
      const Speciation truth = water::speciation_at_ph(
          c, units::mol_per_cubic_metre(alkalinity), table.number(row, "pH"), units::celsius(20));
      // 1.116 from 20 to 25 °C: water-works practice.
      const double conductivity =
          units::microsiemens_per_cm(1.116 * table.number(row, "conductivity_20C_measured")).si();
      water::HalfKnown half{.temperature = truth.temperature};
      half.readings.push_back(
          {.of = Known::kConductivity, .value = conductivity, .sigma = kPenSpread});
      if (readings >= 2)
        half.readings.push_back({.of = Known::kPh, .value = truth.ph, .sigma = kPhSigma});
      if (readings >= 4) {
        for (const Known of : {Known::kHardness, Known::kAlkalinity}) {
          const double value = water::quantity_of(of, truth);
          half.readings.push_back(
              {.of = of, .value = value, .sigma = std::hypot(kTestShare * value, 5e-3)});
        }
      }
      count_in(water::likely_waters(half, row + 1), truth, counts);
    }
    std::string cells;
    for (const Count& count : counts) {
      cells += std::to_string(count.inside) + "/" + std::to_string(count.all) + " | ";
    }
    section.line("| {} | {}", readings, cells);
  }
  section.line(
      "\nOne reading: their own meter. Two: and pH. Four: and drop tests of hardness and "
      "alkalinity. "
      "Some are acid, some as salt as the sea, many without any nitrate. Reported, not demanded.");
  return section.status();
}

}  // namespace
}  // namespace drawoff

int main(int argc, char** argv) {
  const bool full = drawoff::support::asked_in_full(argc, argv);
  return drawoff::count_prior(full) + drawoff::count_measured();
}
