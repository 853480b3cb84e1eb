#include "water/half_known.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "base/check.h"
#include "numerics/posterior.h"
#include "numerics/random.h"
#include "water/conductivity.h"
#include "water/natural_waters.h"

namespace drawoff::water {
namespace {

using numerics::Point;

std::optional<std::size_t> minor_of(Known of) {
  for (std::size_t i = 0; i < kMinorSpecies.size(); ++i) {
    if (of == Known::kFluoride && kMinorSpecies[i] == Species::F) return i;
    if (of == Known::kIron && kMinorSpecies[i] == Species::Fe) return i;
  }
  return std::nullopt;
}

// A field open at one side is taken to reach this far, for the first guess only.
constexpr double kOpenField = 8;

// About standard normal at the truth.
double residual(const KnownReading& r, double found) {
  if (r.value) {
    const double off = r.of == Known::kConductivity ? std::log(found / *r.value) : found - *r.value;
    return off / r.sigma;
  }
  const double high = r.high.value_or(kOpenField * r.low.value_or(1));
  const double low = std::max(r.low.value_or(0), high / kOpenField);
  const double width = std::log(high / low);
  return (std::log(found) - 0.5 * std::log(low * high)) /
         std::sqrt(width * width / 12 + r.blur * r.blur);
}

double log_likelihood(const KnownReading& r, double found) {
  if (r.value) {
    const double off = residual(r, found);
    return -0.5 * off * off;
  }
  const double x = std::log(found);
  const double above = r.low && *r.low > 0 ? (std::log(*r.low) - x) / r.blur
                                           : -std::numeric_limits<double>::infinity();
  const double below =
      r.high ? (std::log(*r.high) - x) / r.blur : std::numeric_limits<double>::infinity();
  // The tail that is nearer keeps its digits.
  const double chance =
      above > 0 ? numerics::normal_probability(-above) - numerics::normal_probability(-below)
                : numerics::normal_probability(below) - numerics::normal_probability(above);
  return std::log(std::max(chance, 1e-300));
}

// The carbonate and the acid by their thermodynamic constants at 25 °C alone: good enough for a
// conductivity (0.3 %), thousands of times a second.
Composition with_carbonate(const NaturalWater& water) {
  constexpr double kPk2 = 10.33;
  Composition c = water.constituents;
  const double ratio = std::pow(10.0, water.ph - kPk2);
  c[Species::HCO3] = water.alkalinity.si() / (1 + 2 * ratio);
  c[Species::CO3] = ratio * c[Species::HCO3];
  c[Species::H] = std::pow(10.0, 3 - water.ph);
  return c;
}

double quantity_of(Known of, const NaturalWater& water) {
  const Composition& c = water.constituents;
  const auto mass = [&](Species s) { return c[s] * molar_mass_of(s); };
  switch (of) {
    case Known::kConductivity:
      return conductivity_25(with_carbonate(water)).si();
    case Known::kPh:
      return water.ph;
    case Known::kHardness:
      return hardness(c).si();
    case Known::kAlkalinity:
      return water.alkalinity.si() * kCalciumCarbonate / 2;
    case Known::kChloride:
      return mass(Species::Cl);
    case Known::kSulfate:
      return mass(Species::SO4);
    case Known::kNitrate:
      return mass(Species::NO3);
    case Known::kFluoride:
      return mass(Species::F);
    case Known::kIron:
      return mass(Species::Fe);
  }
  return 0;
}

MinorAmounts median_minors(double strength) {
  MinorAmounts minors{};
  for (std::size_t i = 0; i < minors.size(); ++i)
    minors[i] = std::exp(minor_prior(i, strength).mean);
  return minors;
}

NaturalWater at(const Point& x) {
  const std::span<const double> point(x.data(), static_cast<std::size_t>(x.size()));
  return natural_water(point, median_minors(natural_strength(point)));
}

// A minor constituent [mol/m³] of a water of that strength: its prior, told more by its readings,
// drawn from a grid of its logarithm.
double draw_minor(std::size_t minor,
                  double strength,
                  const std::vector<KnownReading>& readings,
                  numerics::Random& random) {
  const MinorPrior prior = minor_prior(minor, strength);
  std::vector<const KnownReading*> told;
  for (const KnownReading& r : readings) {
    if (minor_of(r.of) == minor) told.push_back(&r);
  }
  if (told.empty()) return std::exp(prior.mean + prior.spread * random.normal());
  constexpr int kCells = 400;
  constexpr double kReach = 6;  // standard deviations of the prior
  std::array<double, kCells + 1> sum{};
  const auto log_amount = [&](double cell) {
    return prior.mean + prior.spread * kReach * (2 * cell / kCells - 1);
  };
  const double mass = molar_mass_of(kMinorSpecies[minor]);
  std::array<double, kCells> density{};
  double most = -std::numeric_limits<double>::infinity();
  for (int i = 0; i < kCells; ++i) {
    const double x = log_amount(i + 0.5);
    const double z = (x - prior.mean) / prior.spread;
    density[i] = -0.5 * z * z;
    for (const auto* r : told) density[i] += log_likelihood(*r, std::exp(x) * mass);
    most = std::max(most, density[i]);
  }
  for (int i = 0; i < kCells; ++i) sum[i + 1] = sum[i] + std::exp(density[i] - most);
  const double wanted = random.uniform() * sum[kCells];
  const auto above = std::upper_bound(sum.begin(), sum.end(), wanted);
  const auto cell = std::min<std::ptrdiff_t>(above - sum.begin(), kCells) - 1;
  const double within = (wanted - sum[cell]) / (sum[cell + 1] - sum[cell]);
  return std::exp(log_amount(static_cast<double>(cell) + within));
}

}  // namespace

double quantity_of(Known of, const Speciation& water) {
  if (of == Known::kConductivity) {
    return conductivity(closed_speciation(water.total, units::celsius(25))).si();
  }
  NaturalWater w{.constituents = water.total,
                 .alkalinity = units::mol_per_cubic_metre(alkalinity_of(water.total)),
                 .ph = water.ph};
  return quantity_of(of, w);
}

LikelyWaters likely_waters(const HalfKnown& known, std::uint64_t seed, int count) {
  std::vector<KnownReading> great;  // those that the eight numbers answer
  std::vector<std::size_t> great_of;
  for (std::size_t i = 0; i < known.readings.size(); ++i) {
    KnownReading r = known.readings[i];
    CHECK(r.value ? r.sigma > 0 : r.low || r.high);
    if (r.of == Known::kConductivity) r.sigma = std::hypot(r.sigma, kConductivityRelativeError);
    if (minor_of(r.of)) continue;
    great.push_back(r);
    great_of.push_back(i);
  }
  const auto count_of = static_cast<Eigen::Index>(great.size());
  const numerics::Evidence evidence{
      .dimensions = kNaturalDimensions,
      .residuals =
          [&](const Point& x) {
            const NaturalWater water = at(x);
            Point r(count_of);
            for (Eigen::Index i = 0; i < count_of; ++i) {
              const KnownReading& reading = great[static_cast<std::size_t>(i)];
              r[i] = residual(reading, quantity_of(reading.of, water));
            }
            return r;
          },
      .log_likelihood =
          [&](const Point& x) {
            const NaturalWater water = at(x);
            double sum = 0;
            for (const KnownReading& r : great) sum += log_likelihood(r, quantity_of(r.of, water));
            return sum;
          }};
  const numerics::Posterior posterior = numerics::posterior(evidence, count, seed);

  LikelyWaters out;
  out.misfit.assign(known.readings.size(), 0);
  for (std::size_t i = 0; i < great_of.size(); ++i) {
    out.misfit[great_of[i]] = posterior.residuals[static_cast<Eigen::Index>(i)];
  }
  for (int i = 0; i < count; ++i) {
    const Point& x = posterior.members[static_cast<std::size_t>(i)];
    const std::span<const double> point(x.data(), static_cast<std::size_t>(x.size()));
    // A stream of its own, beside the one that the point was drawn from.
    numerics::Random random(seed + 1, static_cast<std::uint64_t>(i));
    MinorAmounts minors{};
    for (std::size_t k = 0; k < minors.size(); ++k) {
      minors[k] = draw_minor(k, natural_strength(point), known.readings, random);
    }
    const NaturalWater water = natural_water(point, minors);
    out.members.push_back(
        speciation_at_ph(water.constituents, water.alkalinity, water.ph, known.temperature));
  }
  return out;
}

}  // namespace drawoff::water
