#include "machine/linear_intervals.h"

#include <cmath>

#include "numerics/random.h"
#include "water/conductivity.h"

namespace drawoff::machine {

namespace {

constexpr std::size_t kConductivity = kParameterCount;

using Varying = std::array<double, kVaryingCount>;

// How far a specimen lies from the median machine, in every direction that has a parameter.
Varying away(const Specimen& s, const Specimen& median, const Feed& feed) {
  Varying theta{};
  for (std::size_t i = 0; i < kParameterCount; ++i) {
    const double here = s.parameters[i];
    const double there = median.parameters[i];
    theta[i] = is_offset(static_cast<Parameter>(i)) ? here - there
                                                    : std::log(std::fmax(1e-3, here / there));
  }
  const double kelvin = feed.water.temperature.si();
  const auto water = [&](const Membranes& m) {
    return m.water.si() * m.channel.area.si() * membrane::arrhenius(m.coefficients.water, kelvin);
  };
  const auto salt = [&](const Membranes& m) {
    return m.salt.si() * m.channel.area.si() * membrane::arrhenius(m.coefficients.salt, kelvin);
  };
  theta[static_cast<std::size_t>(Parameter::kWaterPermeability)] +=
      std::log(water(s.machine.membranes) / water(median.machine.membranes));
  theta[static_cast<std::size_t>(Parameter::kSaltPermeability)] +=
      std::log(salt(s.machine.membranes) / salt(median.machine.membranes));
  theta[kConductivity] = std::log(s.conductivity / median.conductivity);
  return theta;
}

// The median machine moved that far.
Specimen moved(Specimen s, const Varying& theta) {
  for (std::size_t i = 0; i < kParameterCount; ++i) {
    if (is_offset(static_cast<Parameter>(i))) {
      s.parameters[i] += theta[i];
    } else {
      s.parameters[i] *= std::exp(theta[i]);
    }
  }
  s.conductivity *= std::exp(theta[kConductivity]);
  return s;
}

bool is_logarithmic(Point p) {
  return kind_of(p) == PointKind::kFlow || kind_of(p) == PointKind::kQuality;
}
double observable_of(Point p, double si) { return is_logarithmic(p) ? std::log(si) : si; }
double si_of(Point p, double observable) {
  return is_logarithmic(p) ? std::exp(observable) : observable;
}

// What of the operating point carries the slope of a test point: itself, or the strength whose
// quality is read.
const Seeded& carrier(const OperatingPoint<Seeded>& at, Point p) {
  switch (p) {
    case Point::kInletPressure:
      return at.unit_inlet_pressure;
    case Point::kFilteredPressure:
      return at.filtered_pressure;
    case Point::kMembranePressure:
      return at.membrane_pressure;
    case Point::kRejectPressure:
      return at.reject_pressure;
    case Point::kProductFlow:
      return at.product_flow;
    case Point::kRejectFlow:
      return at.drain_flow;
    case Point::kPermeateQuality:
      return at.permeate_salt;
    case Point::kProductQuality:
      return at.product_salt;
    case Point::kRejectQuality:
      return at.reject_salt;
    default:
      return at.raw_salt;
  }
}

// How a meter follows the strength of the raw water, in logarithms: less than in proportion. The
// product is too weak for that.
double meter_slope(Point p, const Feed& feed) {
  if (p != Point::kRawQuality && p != Point::kRejectQuality) return 1;
  constexpr double kStronger = 1.1;
  return std::log(water::conductivity_25(water::scaled(feed.raw, kStronger)) /
                  water::conductivity_25(feed.raw)) /
         std::log(kStronger);
}

// dy/dθ. Factors are 1 + their logarithm, so the slopes in either are the same at the median.
Varying slope_of(const OperatingPoint<Seeded>& at, Point p, const Feed& feed) {
  Varying slope{};
  if (p == Point::kTemperature) {
    slope[static_cast<std::size_t>(Parameter::kTemperature)] = 1;
    return slope;
  }
  const Seeded& y = carrier(at, p);
  const double meter = meter_slope(p, feed);
  for (std::size_t i = 0; i < kParameterCount; ++i) {
    slope[i] = is_logarithmic(p) ? meter * y.v[i] / y.x : y.v[i];
  }
  if (kind_of(p) == PointKind::kQuality) slope[kConductivity] = 1;
  return slope;
}

// Parts whose spread is in no parameter (ensemble.cc, draw_further_parts()).
bool has_further_parts(const Machine& m) {
  return m.regulator || m.feed_valves.a > 0 || m.feed_valves.b > 0 || m.flush_valve ||
         m.recirculation || (m.blend && m.blend->shut) || !(m.supply.pressure.si() > 0);
}

}  // namespace

Variation variation_of(const Specimen& median,
                       std::span<const Specimen> specimens,
                       const Feed& feed) {
  Variation out;
  out.whole = specimens.size() > kVaryingCount && !has_further_parts(median.machine) &&
              !(median.minerals.si() > 0);
  if (!out.whole) return out;
  const auto n = static_cast<double>(specimens.size());
  std::vector<Varying> all;
  for (const Specimen& s : specimens) all.push_back(away(s, median, feed));
  for (const Varying& theta : all) {
    for (std::size_t i = 0; i < kVaryingCount; ++i) out.mean[i] += theta[i] / n;
  }
  for (const Varying& theta : all) {
    for (std::size_t i = 0; i < kVaryingCount; ++i) {
      for (std::size_t k = 0; k < kVaryingCount; ++k) {
        out.covariance[i][k] += (theta[i] - out.mean[i]) * (theta[k] - out.mean[k]) / (n - 1);
      }
    }
  }
  return out;
}

std::array<std::optional<LinearInterval>, kPointCount> linear_intervals(
    const Specimen& median,
    const Variation& variation,
    const Feed& feed,
    const Condition& condition) {
  std::array<std::optional<LinearInterval>, kPointCount> out;
  if (!variation.whole) return out;
  const Machine machine = in_condition(median.machine, condition);
  const auto at = operating_point_with_derivatives(machine, feed.water, median.parameters);
  if (at.outcome != Outcome::kRuns && at.outcome != Outcome::kOverPressure) return out;
  const PointValues values = values_at(median, feed, condition);
  for (int i = 0; i < kPointCount; ++i) {
    const auto point = static_cast<Point>(i);
    const auto place = static_cast<std::size_t>(i);
    if (std::isnan(values[place]) || (is_logarithmic(point) && !(values[place] > 0))) continue;
    const Varying slope = slope_of(at, point, feed);
    Varying tied{};  // C Jᵀ
    double mean = observable_of(point, values[place]);
    double variance = 0;
    for (std::size_t k = 0; k < kVaryingCount; ++k) {
      for (std::size_t j = 0; j < kVaryingCount; ++j) {
        tied[k] += variation.covariance[k][j] * slope[j];
      }
      mean += slope[k] * variation.mean[k];
      variance += slope[k] * tied[k];
    }
    if (!(variance > 0)) continue;
    const double half = numerics::kNormal95 * std::sqrt(variance);
    const auto meets = [&](double side) {
      Varying theta = variation.mean;
      for (std::size_t k = 0; k < kVaryingCount; ++k) {
        theta[k] += side * numerics::kNormal95 * tied[k] / std::sqrt(variance);
      }
      const double value = values_at(moved(median, theta), feed, condition)[place];
      return std::fabs(observable_of(point, value) - (mean + side * half)) <= kMostBent * half;
    };
    if (!meets(-1) || !meets(1)) continue;  // also where the model gives no value there
    out[place] = LinearInterval{.low = si_of(point, mean - half),
                                .middle = si_of(point, mean),
                                .high = si_of(point, mean + half)};
  }
  return out;
}

}  // namespace drawoff::machine
