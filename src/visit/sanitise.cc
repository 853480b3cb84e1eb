#include "visit/sanitise.h"

#include <cmath>
#include <cstdlib>
#include <numbers>

#include "machine/tolerances.h"
#include "numerics/random.h"
#include "transients/held_water.h"

namespace drawoff::visit {
namespace {

constexpr double kDay = 86400;
constexpr double kHalf = 110 * kDay;   // [s] of 125 kg/m³ at 25 °C
constexpr double kReference = 125;     // [kg/m³]
constexpr double kSpread = 0.33;       // ln: 65 to 190 days
constexpr double kActivation = 12300;  // [K]

double left_after(const ChlorineProduct& p, double factor) {
  const double rate =
      factor / (kReference * kHalf) * std::exp(kActivation * (1 / 298.15 - 1 / p.stored.si()));
  return p.strength.si() / (1 + rate * p.strength.si() * p.age.si());
}

double tube_volume(const machine::TubeEntry& tube) {
  const double bore = tube.bore.si();
  return tube.length.si() * std::numbers::pi * bore * bore / 4;
}

// Empty, of a trade size: "2540" is 2.5 in by 40 in.
double membrane_housing(const std::string& size) {
  constexpr double kInch = 0.0254;
  const double number = std::strtod(size.c_str(), nullptr);
  const double diameter = std::floor(number / 100) / 10 * kInch;
  const double length = std::fmod(number, 100) * kInch;
  return std::numbers::pi / 4 * diameter * diameter * length;
}

}  // namespace

inference::Interval strength_now(const ChlorineProduct& p) {
  return {left_after(p, std::exp(numerics::kNormal95 * kSpread)),
          left_after(p, 1),
          left_after(p, std::exp(-numerics::kNormal95 * kSpread))};
}

inference::Interval dose_for(const ChlorineProduct& p, units::Volume water, units::Density target) {
  const auto now = strength_now(p);
  const double needed = water.si() * target.si();
  return {needed / now.high, needed / now.middle, needed / now.low};
}

units::Volume sanitised_volume(const machine::MachineEntry& m) {
  double volume = tube_volume(m.supply.tube) + tube_volume(m.product.tube);
  for (const machine::FilterEntry& f : m.filters) {
    volume += 1e-3 * machine::tolerance(machine::after_membrane(f.kind) ? "filter_water_volume"
                                                                        : "housing_water_volume");
  }
  volume += m.element.in_series * m.element.in_parallel * membrane_housing(m.element.size) +
            tube_volume(m.drain.tube);
  const machine::Condition condition{.product_to = m.product.vessel};
  return units::Volume(volume) + transients::vessels_of(m, condition);
}

}  // namespace drawoff::visit
