// OsmoticCurve: the osmotic pressure of one water, diluted or concentrated, in a few nanoseconds.
//
// Along a membrane the water keeps nearly its proportions; what changes is how concentrated it is.
// The curve fixes a composition and a temperature T₀ and gives π at s times its concentration, s =
// 0 … s_max:
//
//   π(s, T) = R T Σc s φ(s, T)/(1 − s v)   [Pa]      φ(s, T) = φ(s, T₀) + φ_T(s) (T − T₀)
//
// φ is a table of quintics in √s, exact to kOsmoticCurveRelativeError against the Pitzer model
// (pitzer.h); it is continuous, and slopes of neighbouring segments meet to 4e-6. s beyond s_max
// continues along the tangent, s below 0 along van 't Hoff, so that a solver that probes there
// finds its way back.
//
//   const OsmoticCurve curve(composition, celsius(20));
//   double pi = curve.pressure(1.5, celsius(20).si());
//   Dual<2> pi = curve.pressure(Dual<2>::variable(1.5, 0), Dual<2>(293.15));  // with dπ/ds
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <type_traits>

#include "numerics/dual.h"
#include "units/quantity.h"
#include "water/composition.h"
#include "water/properties.h"

namespace drawoff::water {

// Largest relative difference of π to the Pitzer model over 0 … s_max at T₀.
inline constexpr double kOsmoticCurveRelativeError = 1e-6;

class OsmoticCurve {
 public:
  // Ends at s_max, or earlier where the ionic strength reaches 6 mol/kg, the model's own end.
  OsmoticCurve(const Composition& composition, units::Temperature t0, double s_max = 60.0);

  // Van 't Hoff's π = R T Σc s: for reference tables that were made with it, never for a water.
  static OsmoticCurve ideal(units::MolarConcentration total, units::Temperature t0);

  // π [Pa] at s times the concentration and at a temperature [K]. S is double or Dual<N>; T may
  // be either too.
  template <class S>
  [[nodiscard]] S pressure(const S& s, const S& temperature_K) const;
  [[nodiscard]] units::Pressure pressure(double s, units::Temperature t) const {
    return units::Pressure(pressure<double>(s, t.si()));
  }

  // φ at T₀ [1].
  [[nodiscard]] double osmotic_coefficient(double s) const;

  [[nodiscard]] double s_max() const { return s_max_; }
  [[nodiscard]] units::Temperature temperature() const { return units::Temperature(t0_); }
  [[nodiscard]] units::MolarConcentration total_molar() const {
    return units::MolarConcentration(total_molar_);
  }

 private:
  static constexpr int kSegments = 48;
  static constexpr int kDegree = 5;
  // φ and φ_T of one segment as polynomials in u = (√s/step) − segment − ½, lowest power first.
  struct Segment {
    std::array<double, kDegree + 1> phi{};
    std::array<double, kDegree + 1> phi_t{};
  };
  // π and its two slopes, of a double: all scalars are made of it.
  struct Point {
    double pressure;
    double by_s;
    double by_t;
  };

  OsmoticCurve() = default;
  [[nodiscard]] Point evaluate(double s, double t) const;

  double t0_ = 0;
  double s_max_ = 0;
  double total_molar_ = 0;
  double volume_share_ = 0;
  double per_step_ = 0;  // 1/(width of a segment in √s)
  std::array<Segment, kSegments> segments_{};
};

inline OsmoticCurve::Point OsmoticCurve::evaluate(double s, double t) const {
  const double rt_c = kGasConstant * t * total_molar_;
  // Written so that a NaN comes back as one.
  if (!(s > 0)) return {rt_c * s, rt_c, kGasConstant * total_molar_ * s};
  const double inside = std::min(s, s_max_);
  const double x = std::sqrt(inside) * per_step_;
  const int k = std::min(static_cast<int>(x), kSegments - 1);
  const double u = x - k - 0.5;
  const Segment& g = segments_[static_cast<std::size_t>(k)];
  // Horner, for value and slope of both polynomials at once.
  double phi = g.phi[kDegree];
  double phi_u = 0;
  double slope = g.phi_t[kDegree];
  double slope_u = 0;
  for (int i = kDegree - 1; i >= 0; --i) {
    phi_u = phi_u * u + phi;
    phi = phi * u + g.phi[static_cast<std::size_t>(i)];
    slope_u = slope_u * u + slope;
    slope = slope * u + g.phi_t[static_cast<std::size_t>(i)];
  }
  phi += slope * (t - t0_);
  phi_u += slope_u * (t - t0_);
  // d(s φ)/ds = φ + s φ_x/(2 √s): finite at s = 0, where φ_s alone is not.
  const double room = 1.0 / (1.0 - inside * volume_share_);
  const double value = inside * phi * room;
  const double by_s = (phi + 0.5 * x * phi_u) * room + value * volume_share_ * room;
  const double beyond = s - inside;
  // By T: of R T, and of φ at fixed s. Beyond s_max the tangent's own change with T is small and
  // left to the value's: the tangent is there to lead a solver back, not to be right.
  return {rt_c * (value + by_s * beyond),
          rt_c * by_s,
          kGasConstant * total_molar_ * (value + by_s * beyond) + rt_c * inside * slope * room};
}

template <class S>
S OsmoticCurve::pressure(const S& s, const S& temperature_K) const {
  const Point p = evaluate(numerics::value_of(s), numerics::value_of(temperature_K));
  if constexpr (std::is_same_v<S, double>) {
    return p.pressure;
  } else {
    S r(p.pressure);
    for (std::size_t i = 0; i < r.v.size(); ++i) {
      r.v[i] = p.by_s * s.v[i] + p.by_t * temperature_K.v[i];
    }
    return r;
  }
}

}  // namespace drawoff::water
