#include "water/osmotic_curve.h"

#include <numbers>

#include "water/pitzer.h"

namespace drawoff::water {
namespace {

constexpr double kLargestIonicStrength = 6.0;  // mol/kg, the end of the Pitzer tables

// Largest s within the model: I = s I₁/(1 − s v) = 6 mol/kg.
double largest_factor(const PitzerMixture& mixture, double wanted) {
  const double i1 = mixture.ionic_strength();
  double s = wanted;
  const double denominator = i1 + kLargestIonicStrength * mixture.volume_share();
  if (denominator > 0) s = std::min(s, kLargestIonicStrength / denominator);
  // Uncharged solutes alone: the water must not vanish.
  if (mixture.volume_share() > 0) s = std::min(s, 0.5 / mixture.volume_share());
  return s;
}

// Solves the small system in place by elimination; its rows are Chebyshev points, well apart.
template <std::size_t N>
std::array<std::array<double, N>, N> inverse(std::array<std::array<double, N>, N> a) {
  std::array<std::array<double, N>, N> b{};
  for (std::size_t i = 0; i < N; ++i) b[i][i] = 1.0;
  for (std::size_t k = 0; k < N; ++k) {
    std::size_t pivot = k;
    for (std::size_t i = k + 1; i < N; ++i) {
      if (std::abs(a[i][k]) > std::abs(a[pivot][k])) pivot = i;
    }
    std::swap(a[k], a[pivot]);
    std::swap(b[k], b[pivot]);
    const double scale = 1.0 / a[k][k];
    for (std::size_t j = 0; j < N; ++j) {
      a[k][j] *= scale;
      b[k][j] *= scale;
    }
    for (std::size_t i = 0; i < N; ++i) {
      if (i == k) continue;
      const double m = a[i][k];
      for (std::size_t j = 0; j < N; ++j) {
        a[i][j] -= m * a[k][j];
        b[i][j] -= m * b[k][j];
      }
    }
  }
  return b;
}

}  // namespace

OsmoticCurve::OsmoticCurve(const Composition& composition, units::Temperature t0, double s_max)
    : t0_(t0.si()) {
  const PitzerMixture mixture(composition, t0);
  total_molar_ = mixture.total_molar();
  volume_share_ = mixture.volume_share();
  s_max_ = largest_factor(mixture, s_max);
  per_step_ = kSegments / std::sqrt(s_max_);

  // Points of a segment, u in −½ … ½, its ends among them so that neighbours meet; and the matrix
  // that turns values there into the polynomial's coefficients. The same for every composition.
  constexpr std::size_t kPoints = kDegree + 1;
  struct Basis {
    std::array<double, kPoints> u{};
    std::array<std::array<double, kPoints>, kPoints> to_coefficients{};
  };
  static const Basis basis = [] {
    Basis b;
    std::array<std::array<double, kPoints>, kPoints> powers{};
    for (std::size_t i = 0; i < kPoints; ++i) {
      b.u[i] = -0.5 * std::cos(std::numbers::pi * static_cast<double>(i) / kDegree);
      double p = 1;
      for (std::size_t j = 0; j < kPoints; ++j, p *= b.u[i]) powers[i][j] = p;
    }
    b.to_coefficients = inverse(powers);
    return b;
  }();

  std::array<PitzerMixture::Slope, kPoints> value{};
  for (int k = 0; k < kSegments; ++k) {
    for (std::size_t i = 0; i < kPoints; ++i) {
      if (k > 0 && i == 0) {
        value[0] = value[kPoints - 1];
        continue;
      }
      const double x = (k + 0.5 + basis.u[i]) / per_step_;
      value[i] = mixture.osmotic_coefficient(std::min(x * x, s_max_));
    }
    Segment& g = segments_[static_cast<std::size_t>(k)];
    for (std::size_t j = 0; j < kPoints; ++j) {
      for (std::size_t i = 0; i < kPoints; ++i) {
        g.phi[j] += basis.to_coefficients[j][i] * value[i].x;
        g.phi_t[j] += basis.to_coefficients[j][i] * value[i].v[0];
      }
    }
  }
}

OsmoticCurve OsmoticCurve::ideal(units::MolarConcentration total, units::Temperature t0) {
  OsmoticCurve curve;
  curve.t0_ = t0.si();
  curve.s_max_ = 60.0;
  curve.total_molar_ = total.si();
  curve.per_step_ = kSegments / std::sqrt(curve.s_max_);
  for (Segment& g : curve.segments_) g.phi[0] = 1.0;
  return curve;
}

double OsmoticCurve::osmotic_coefficient(double s) const {
  const double inside = std::clamp(s, 0.0, s_max_);
  if (inside == 0 || total_molar_ == 0) return 1.0;
  return pressure<double>(inside, t0_) * (1.0 - inside * volume_share_) /
         (kGasConstant * t0_ * total_molar_ * inside);
}

}  // namespace drawoff::water
