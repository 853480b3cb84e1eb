// Dual<N>: a number that carries its derivatives with respect to N chosen inputs.
//
// x + Σ vᵢ εᵢ with εᵢ εⱼ = 0. Run a formula on duals and the εᵢ of the result are its exact first
// derivatives (forward automatic differentiation): for x = 3 seeded with v = 1, x·x gives 9 + 6 ε.
//
//   auto t = Dual<2>::variable(298.15, 0);   // derivative with respect to input 0
//   auto mu = viscosity(t);                  // mu.v[0] is dµ/dT
//
// Comparison looks at the value only, so branches are taken as they would be for a double.
#pragma once

#include <array>
#include <cmath>
#include <cstddef>

namespace drawoff::numerics {

template <int N>
struct Dual {
  double x = 0;
  std::array<double, N> v{};

  constexpr Dual() = default;
  // NOLINTNEXTLINE(google-explicit-constructor): a constant is a dual without derivatives.
  constexpr Dual(double value) : x(value) {}
  static constexpr Dual variable(double value, int index) {
    Dual d(value);
    d.v[static_cast<std::size_t>(index)] = 1.0;
    return d;
  }

  // f(a) given f and f' at a.x.
  constexpr Dual chain(double value, double slope) const {
    Dual r(value);
    for (int i = 0; i < N; ++i) r.v[i] = slope * v[i];
    return r;
  }

  constexpr Dual operator-() const { return chain(-x, -1.0); }
  constexpr Dual& operator+=(const Dual& b) {
    x += b.x;
    for (int i = 0; i < N; ++i) v[i] += b.v[i];
    return *this;
  }
  constexpr Dual& operator-=(const Dual& b) {
    x -= b.x;
    for (int i = 0; i < N; ++i) v[i] -= b.v[i];
    return *this;
  }
  constexpr Dual& operator*=(const Dual& b) { return *this = *this * b; }
  constexpr Dual& operator/=(const Dual& b) { return *this = *this / b; }

  friend constexpr Dual operator+(Dual a, const Dual& b) { return a += b; }
  friend constexpr Dual operator-(Dual a, const Dual& b) { return a -= b; }
  friend constexpr Dual operator*(const Dual& a, const Dual& b) {
    Dual r(a.x * b.x);
    for (int i = 0; i < N; ++i) r.v[i] = a.v[i] * b.x + a.x * b.v[i];
    return r;
  }
  friend constexpr Dual operator/(const Dual& a, const Dual& b) {
    const double q = a.x / b.x;
    Dual r(q);
    for (int i = 0; i < N; ++i) r.v[i] = (a.v[i] - q * b.v[i]) / b.x;
    return r;
  }
  friend constexpr bool operator<(const Dual& a, const Dual& b) { return a.x < b.x; }
  friend constexpr bool operator>(const Dual& a, const Dual& b) { return a.x > b.x; }
  friend constexpr bool operator<=(const Dual& a, const Dual& b) { return a.x <= b.x; }
  friend constexpr bool operator>=(const Dual& a, const Dual& b) { return a.x >= b.x; }
};

template <int N>
Dual<N> exp(const Dual<N>& a) {
  const double e = std::exp(a.x);
  return a.chain(e, e);
}
template <int N>
Dual<N> log(const Dual<N>& a) {
  return a.chain(std::log(a.x), 1.0 / a.x);
}
// At zero the slope of the root is unbounded; it is taken as 0 there, so that an absent species
// (concentration 0) contributes nothing instead of a NaN.
template <int N>
Dual<N> sqrt(const Dual<N>& a) {
  const double s = std::sqrt(a.x);
  return a.chain(s, s > 0 ? 0.5 / s : 0.0);
}
template <int N>
Dual<N> cbrt(const Dual<N>& a) {
  const double c = std::cbrt(a.x);
  return a.chain(c, c != 0 ? 1.0 / (3.0 * c * c) : 0.0);
}
template <int N>
Dual<N> pow(const Dual<N>& a, double p) {
  const double value = std::pow(a.x, p);
  return a.chain(value, a.x != 0 ? p * value / a.x : 0.0);
}
template <int N>
Dual<N> abs(const Dual<N>& a) {
  return a.x < 0 ? -a : a;
}

// The plain value, whatever the scalar is: for branches, bounds and printing.
constexpr double value_of(double a) { return a; }
template <int N>
constexpr double value_of(const Dual<N>& a) {
  return a.x;
}

}  // namespace drawoff::numerics
