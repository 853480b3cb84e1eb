// Quantity<Dimension, Rep>: a number in SI whose dimension the compiler checks.
//
// Why an own type and not a library: docs/decisions/0001-units.md. It costs nothing at run time,
// and Rep may be a dual number (numerics/dual.h), so that one formula gives value and derivatives.
//
//   Pressure p = bar(6.0);
//   VolumeFlow q = litre_per_hour(14.0);
//   Power w = p * q;            // dimensions multiply
//   double shown = p / bar(1);  // a ratio of equal dimensions is a plain number
//
// What it refuses: adding unlike dimensions, a Pressure where a VolumeFlow is due, a bare double
// where a quantity is due. Temperatures are absolute (kelvin) and enter only through celsius().
#pragma once

#include <cmath>
#include <compare>

namespace drawoff::units {

// Exponents of kilogram, metre, second, kelvin, mole, ampere.
template <int Kg, int M, int S, int K = 0, int Mol = 0, int A = 0>
struct Dimension {
  static constexpr int kg = Kg, m = M, s = S, k = K, mol = Mol, a = A;
};

template <class D1, class D2>
using Times = Dimension<D1::kg + D2::kg,
                        D1::m + D2::m,
                        D1::s + D2::s,
                        D1::k + D2::k,
                        D1::mol + D2::mol,
                        D1::a + D2::a>;
template <class D1, class D2>
using Per = Dimension<D1::kg - D2::kg,
                      D1::m - D2::m,
                      D1::s - D2::s,
                      D1::k - D2::k,
                      D1::mol - D2::mol,
                      D1::a - D2::a>;
using One = Dimension<0, 0, 0>;

template <class D, class Rep = double>
class Quantity {
 public:
  constexpr Quantity() = default;
  // The number is in SI base units. Explicit: a unit function (bar, litre_per_hour) reads better.
  constexpr explicit Quantity(Rep si) : si_(si) {}
  // A constant enters a computation with derivatives: Quantity<D, double> -> Quantity<D, Dual>.
  template <class Other>
  constexpr explicit Quantity(const Quantity<D, Other>& other) : si_(other.si()) {}

  [[nodiscard]] constexpr const Rep& si() const { return si_; }

  constexpr Quantity operator-() const { return Quantity(-si_); }
  constexpr Quantity& operator+=(const Quantity& b) { return *this = *this + b; }
  constexpr Quantity& operator-=(const Quantity& b) { return *this = *this - b; }
  friend constexpr Quantity operator+(const Quantity& a, const Quantity& b) {
    return Quantity(a.si_ + b.si_);
  }
  friend constexpr Quantity operator-(const Quantity& a, const Quantity& b) {
    return Quantity(a.si_ - b.si_);
  }
  friend constexpr Quantity operator*(const Quantity& a, double b) { return Quantity(a.si_ * b); }
  friend constexpr Quantity operator*(double a, const Quantity& b) { return Quantity(a * b.si_); }
  friend constexpr Quantity operator/(const Quantity& a, double b) { return Quantity(a.si_ / b); }
  friend constexpr auto operator<=>(const Quantity& a, const Quantity& b) {
    return a.si_ <=> b.si_;
  }
  friend constexpr bool operator==(const Quantity& a, const Quantity& b) { return a.si_ == b.si_; }

 private:
  Rep si_{};
};

// A product or quotient without dimension is a plain number.
template <class D, class Rep>
constexpr auto make(Rep si) {
  if constexpr (D::kg == 0 && D::m == 0 && D::s == 0 && D::k == 0 && D::mol == 0 && D::a == 0) {
    return si;
  } else {
    return Quantity<D, Rep>(si);
  }
}

template <class D1, class R1, class D2, class R2>
constexpr auto operator*(const Quantity<D1, R1>& a, const Quantity<D2, R2>& b) {
  return make<Times<D1, D2>>(a.si() * b.si());
}
template <class D1, class R1, class D2, class R2>
constexpr auto operator/(const Quantity<D1, R1>& a, const Quantity<D2, R2>& b) {
  return make<Per<D1, D2>>(a.si() / b.si());
}
template <class D, class Rep>
constexpr auto operator/(double a, const Quantity<D, Rep>& b) {
  return make<Per<One, D>>(a / b.si());
}

// The quantities of this trade. `Of` is the dimension, to be used with another Rep.
namespace dim {
using Length = Dimension<0, 1, 0>;
using Area = Dimension<0, 2, 0>;
using Volume = Dimension<0, 3, 0>;
using Time = Dimension<0, 0, 1>;
using Mass = Dimension<1, 0, 0>;
using Temperature = Dimension<0, 0, 0, 1>;
using Velocity = Dimension<0, 1, -1>;
using Acceleration = Dimension<0, 1, -2>;
using VolumeFlow = Dimension<0, 3, -1>;
using Pressure = Dimension<1, -1, -2>;
using PressureGradient = Dimension<1, -2, -2>;
using Power = Dimension<1, 2, -3>;
using Energy = Dimension<1, 2, -2>;
using Force = Dimension<1, 1, -2>;
using Voltage = Dimension<1, 2, -3, 0, 0, -1>;
using Current = Dimension<0, 0, 0, 0, 0, 1>;
using Frequency = Dimension<0, 0, -1>;        // also a rate per time
using FlowResistance = Dimension<1, -4, -1>;  // pressure per volume flow
using Compliance = Dimension<-1, 4, 2>;       // volume per pressure
using Density = Dimension<1, -3, 0>;          // also mass concentration
using Viscosity = Dimension<1, -1, -1>;
using Diffusivity = Dimension<0, 2, -1>;
using Permeability = Dimension<-1, 2, 1>;              // water permeability A, m/(s·Pa)
using MolarConcentration = Dimension<0, -3, 0, 0, 1>;  // mol/m³, also of charge equivalents
using Molality = Dimension<-1, 0, 0, 0, 1>;
using MolarMass = Dimension<1, 0, 0, 0, -1>;
using Conductivity = Dimension<-1, -3, 3, 0, 0, 2>;       // S/m
using MolarConductivity = Dimension<-1, 0, 3, 0, -1, 2>;  // S·m²/mol
}  // namespace dim

using Length = Quantity<dim::Length>;
using Area = Quantity<dim::Area>;
using Volume = Quantity<dim::Volume>;
using Time = Quantity<dim::Time>;
using Mass = Quantity<dim::Mass>;
using Temperature = Quantity<dim::Temperature>;
using Velocity = Quantity<dim::Velocity>;
using VolumeFlow = Quantity<dim::VolumeFlow>;
using Pressure = Quantity<dim::Pressure>;
using Power = Quantity<dim::Power>;
using Energy = Quantity<dim::Energy>;
using Force = Quantity<dim::Force>;
using Voltage = Quantity<dim::Voltage>;
using Current = Quantity<dim::Current>;
using Frequency = Quantity<dim::Frequency>;
using FlowResistance = Quantity<dim::FlowResistance>;
using PressureGradient = Quantity<dim::PressureGradient>;
using Density = Quantity<dim::Density>;
using Viscosity = Quantity<dim::Viscosity>;
using Diffusivity = Quantity<dim::Diffusivity>;
using Permeability = Quantity<dim::Permeability>;
using MolarConcentration = Quantity<dim::MolarConcentration>;
using Conductivity = Quantity<dim::Conductivity>;

// Makers: the only way from a number in a person's unit to a quantity.
constexpr Length metre(double x) { return Length(x); }
constexpr Length millimetre(double x) { return Length(x * 1e-3); }
constexpr Area square_metre(double x) { return Area(x); }
constexpr Volume litre(double x) { return Volume(x * 1e-3); }
constexpr Voltage volt(double x) { return Voltage(x); }
constexpr Time second(double x) { return Time(x); }
constexpr Time hour(double x) { return Time(x * 3600.0); }
constexpr VolumeFlow litre_per_hour(double x) { return VolumeFlow(x / 3.6e6); }
constexpr Pressure pascal(double x) { return Pressure(x); }
constexpr Pressure bar(double x) { return Pressure(x * 1e5); }
constexpr Velocity metre_per_second(double x) { return Velocity(x); }
constexpr Density milligram_per_litre(double x) { return Density(x * 1e-3); }
constexpr MolarConcentration mol_per_cubic_metre(double x) { return MolarConcentration(x); }
constexpr Conductivity microsiemens_per_cm(double x) { return Conductivity(x * 1e-4); }
constexpr Permeability litre_per_m2_h_bar(double x) { return Permeability(x / 3.6e11); }
constexpr Velocity litre_per_m2_h(double x) { return Velocity(x / 3.6e6); }
// The only door for temperatures: 0 °C is 273.15 K.
constexpr Temperature celsius(double t) { return Temperature(t + 273.15); }
constexpr double in_celsius(Temperature t) { return t.si() - 273.15; }

}  // namespace drawoff::units
