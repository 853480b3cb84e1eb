#include "water/pitzer.h"

#include <cmath>
#include <cstdlib>
#include <vector>

#include "base/check.h"
#include "base/csv.h"
#include "data/embedded.h"

namespace drawoff::water {
namespace {

using Slope = PitzerMixture::Slope;

constexpr double kReference = 298.15;  // K, of the tables
constexpr double kB = 1.2;             // [(kg/mol)^½], universal in the model

struct Pair {
  std::size_t cation, anion;
  double beta0, beta1, beta2, c;          // c = C^φ/(2 √|z z|)
  double beta0_t, beta1_t, beta2_t, c_t;  // by temperature [1/K]
  bool two_two;
};
struct Theta {
  std::size_t first, second;
  double theta;
};
struct Psi {
  std::size_t first, second, opposite;
  double psi;
};
struct Parameters {
  std::vector<Pair> pairs;
  std::vector<Theta> thetas;
  std::vector<Psi> psis;
};

std::size_t species_of(const base::Csv& csv, std::size_t row, const char* column) {
  const std::optional<Species> s = species_from_key(csv.text(row, column));
  CHECK(s.has_value());
  return index(*s);
}

int charge_at(std::size_t i) { return charge_of(species_at(static_cast<int>(i))); }

Parameters parse_parameters() {
  Parameters p;
  const base::Csv pairs = base::Csv::parse(data::file("pitzer_pairs.csv"));
  for (std::size_t row = 0; row < pairs.rows(); ++row) {
    const std::size_t cation = species_of(pairs, row, "cation");
    const std::size_t anion = species_of(pairs, row, "anion");
    const int zc = charge_at(cation);
    const int za = -charge_at(anion);
    CHECK(zc > 0 && za > 0);
    const double to_c = 1.0 / (2.0 * std::sqrt(static_cast<double>(zc * za)));
    p.pairs.push_back({cation,
                       anion,
                       pairs.number(row, "beta0"),
                       pairs.number(row, "beta1"),
                       pairs.number(row, "beta2"),
                       pairs.number(row, "c_phi") * to_c,
                       pairs.number(row, "beta0_t"),
                       pairs.number(row, "beta1_t"),
                       pairs.number(row, "beta2_t"),
                       pairs.number(row, "c_phi_t") * to_c,
                       zc == 2 && za == 2});
    CHECK(p.pairs.back().two_two || p.pairs.back().beta2 == 0);
  }
  const base::Csv thetas = base::Csv::parse(data::file("pitzer_theta.csv"));
  for (std::size_t row = 0; row < thetas.rows(); ++row) {
    p.thetas.push_back({species_of(thetas, row, "first"),
                        species_of(thetas, row, "second"),
                        thetas.number(row, "theta")});
    CHECK(charge_at(p.thetas.back().first) * charge_at(p.thetas.back().second) > 0);
  }
  const base::Csv psis = base::Csv::parse(data::file("pitzer_psi.csv"));
  for (std::size_t row = 0; row < psis.rows(); ++row) {
    p.psis.push_back({species_of(psis, row, "first"),
                      species_of(psis, row, "second"),
                      species_of(psis, row, "opposite"),
                      psis.number(row, "psi")});
    CHECK(charge_at(p.psis.back().first) * charge_at(p.psis.back().second) > 0);
    CHECK(charge_at(p.psis.back().first) * charge_at(p.psis.back().opposite) < 0);
  }
  CHECK(!p.pairs.empty() && !p.thetas.empty() && !p.psis.empty());
  return p;
}

const Parameters& parameters() {
  static const Parameters parsed = parse_parameters();
  return parsed;
}

// value + slope (T − 25 °C) as a number with its temperature slope.
Slope linear(double value, double slope, double from_reference) {
  Slope r(value + slope * from_reference);
  r.v[0] = slope;
  return r;
}

// x J′(x) of the unsymmetrical mixing integral J(x) ≈ x/(4 + 4.581 x^−0.7237 e^(−0.012 x^0.528)).
// [pitzer1975, eq. 47], coefficients from memory; within 1 % of the integral for x below 100.
Slope x_times_j_slope(const Slope& x) {
  using numerics::exp;
  using numerics::log;
  if (x.x <= 0) return Slope(0.0);
  const Slope l = log(x);
  const Slope power = exp(0.528 * l);
  const Slope tail = 4.581 * exp(-0.7237 * l - 0.012 * power);
  const Slope whole = 4.0 + tail;
  // J = x/whole, x whole′ = −tail (0.7237 + 0.012 · 0.528 x^0.528).
  return x / whole + x * tail * (0.7237 + 0.012 * 0.528 * power) / (whole * whole);
}

// ᴱθ + I ᴱθ′ = z z′/(8 I) [x J′(x_zz′) − ½ x J′(x_zz) − ½ x J′(x_z′z′)],  x_ij = 6 zᵢ zⱼ A_φ √I.
Slope unsymmetrical(int z1, int z2, const Slope& slope_root_i, const Slope& ionic) {
  const auto term = [&](int product) { return x_times_j_slope(6.0 * product * slope_root_i); };
  return (z1 * z2 / 8.0) * (term(z1 * z2) - 0.5 * term(z1 * z1) - 0.5 * term(z2 * z2)) / ionic;
}

constexpr std::array<std::array<int, 2>, 3> kUnlike{{{1, 2}, {1, 3}, {2, 3}}};

}  // namespace

PitzerMixture::PitzerMixture(const Composition& c, units::Temperature temperature) {
  const TemperatureOf<Slope> t(Slope::variable(temperature.si(), 0));
  const Slope per_mass = 1.0 / density(t).si();  // c/ρ_w = n
  const Slope per_mass_2 = per_mass * per_mass;
  const double dt = temperature.si() - kReference;
  slope_ = debye_hueckel_slope(t);

  double ionic = 0;
  double charge = 0;
  std::array<std::array<double, 4>, 2> by_charge{};  // Σc by sign and |z|
  for (int i = 0; i < kSpeciesCount; ++i) {
    const Species s = species_at(i);
    if (c[s] == 0) continue;
    const int z = charge_of(s);
    total_molar_ += c[s];
    volume_share_ += c[s] * species_data(s).molar_volume.si();
    ionic += 0.5 * z * z * c[s];
    charge += std::abs(z) * c[s];
    by_charge[z > 0 ? 1 : 0][static_cast<std::size_t>(std::abs(z))] += c[s];
  }
  total_ = total_molar_ * per_mass;
  ionic_ = ionic * per_mass;
  const Slope z_total = charge * per_mass;

  const Parameters& p = parameters();
  Slope c_sum(0.0);
  for (const Pair& q : p.pairs) {
    const double product = c.mol_m3[q.cation] * c.mol_m3[q.anion];
    if (product == 0) continue;
    constant_ += product * linear(q.beta0, q.beta0_t, dt);
    c_sum += product * linear(q.c, q.c_t, dt);
    if (q.two_two) {
      alpha_14_ += product * linear(q.beta1, q.beta1_t, dt);
      alpha_12_ += product * linear(q.beta2, q.beta2_t, dt);
    } else {
      alpha_2_ += product * linear(q.beta1, q.beta1_t, dt);
    }
  }
  for (const Theta& q : p.thetas) {
    constant_ += c.mol_m3[q.first] * c.mol_m3[q.second] * q.theta;
  }
  double psi_sum = 0;
  for (const Psi& q : p.psis) {
    psi_sum += c.mol_m3[q.first] * c.mol_m3[q.second] * c.mol_m3[q.opposite] * q.psi;
  }
  constant_ *= per_mass_2;
  alpha_2_ *= per_mass_2;
  alpha_14_ *= per_mass_2;
  alpha_12_ *= per_mass_2;
  triple_ = (c_sum * z_total + psi_sum * per_mass) * per_mass_2;
  for (std::size_t k = 0; k < kUnlike.size(); ++k) {
    const auto [z1, z2] = kUnlike[k];
    double product = 0;
    for (const auto& sums : by_charge) {
      product += sums[static_cast<std::size_t>(z1)] * sums[static_cast<std::size_t>(z2)];
    }
    unlike_[k] = product * per_mass_2;
  }
}

PitzerMixture::Slope PitzerMixture::osmotic_coefficient(double factor) const {
  using numerics::exp;
  using numerics::sqrt;
  const double room = 1.0 - factor * volume_share_;
  CHECK(factor >= 0 && room > 0);
  const double sigma = factor / room;
  if (sigma == 0 || total_.x == 0) return Slope(1.0);
  const Slope ionic = sigma * ionic_;
  if (ionic.x == 0) return Slope(1.0);
  const Slope root = sqrt(ionic);
  // Everything in the braces of the header's formula divided by σ, so that it does not vanish.
  Slope sum = -slope_ * ionic_ * root / (1.0 + kB * root);
  Slope binary = constant_ + alpha_2_ * exp(-2.0 * root);
  if (alpha_14_.x != 0) {
    binary += alpha_14_ * exp(-1.4 * root) + alpha_12_ * exp(-12.0 * root);
  }
  for (std::size_t k = 0; k < kUnlike.size(); ++k) {
    if (unlike_[k].x == 0) continue;
    binary += unlike_[k] * unsymmetrical(kUnlike[k][0], kUnlike[k][1], slope_ * root, ionic);
  }
  sum += sigma * (binary + sigma * triple_);
  return 1.0 + 2.0 * sum / total_;
}

double osmotic_coefficient(const Composition& c, units::Temperature temperature) {
  return PitzerMixture(c, temperature).osmotic_coefficient(1.0).x;
}

units::Pressure osmotic_pressure(const Composition& c, units::Temperature temperature) {
  const PitzerMixture mixture(c, temperature);
  return units::Pressure(mixture.osmotic_coefficient(1.0).x * kGasConstant * temperature.si() *
                         mixture.total_molar() / (1.0 - mixture.volume_share()));
}

units::Density solution_density(const Composition& c, units::Temperature temperature) {
  const double water = density(temperature).si();
  double rho = water;
  for (int i = 0; i < kSpeciesCount; ++i) {
    const Species s = species_at(i);
    if (c[s] == 0) continue;
    rho += c[s] * (molar_mass_of(s) - water * species_data(s).molar_volume.si());
  }
  return units::Density(rho);
}

}  // namespace drawoff::water
