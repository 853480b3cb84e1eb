#include "membrane/ions.h"

#include <Eigen/Dense>
#include <algorithm>
#include <array>
#include <cmath>
#include <initializer_list>

#include "base/check.h"
#include "numerics/dual.h"

namespace drawoff::membrane {

namespace {

using water::charge_of;
using water::Composition;
using water::kSpeciesCount;
using water::Species;
using water::species_at;

constexpr int kLayers = 3;
constexpr int kUnknowns = kLayers + 1;  // potentials at the nodes behind the wall, ln θ
constexpr int kMostCharges = 6;         // different ones in a water: −3 … 3
// One more than the species: a charge that the analysis did not find.
constexpr int kMostIons = kSpeciesCount + 1;

using D = numerics::Dual<kUnknowns>;
using Potential = std::array<double, kUnknowns>;

// (e^x − 1)/x, given e^x too; by the series where the difference would drown in rounding.
D rise(const D& x, const D& e) {
  if (std::fabs(x.x) > 0.1) {
    const double value = (e.x - 1.0) / x.x;
    return x.chain(value, (e.x - value) / x.x);
  }
  double value = 1.0;
  double slope = 0.0;
  double term = 1.0;  // x^(n−2)/(n−1)!
  for (int n = 2; n < 12; ++n) {
    slope += term * (n - 1) / n;
    term *= x.x / n;
    value += term;
  }
  return x.chain(value, slope);
}

// What the ions of one charge meet on their way to node m = 1 … kLayers.
struct Way {
  std::array<D, kLayers> fall;  // e^(−zφ_m)
  std::array<D, kLayers> sum;   // ∫₀^ξ_m e^(zφ) dξ
};

using Unknowns = std::array<D, kUnknowns>;

// The powers that every charge needs, found once.
struct Powers {
  D step;                           // of ln g over a layer
  D g;                              // e^step
  D width;                          // of the first layer in ξ over its rise
  std::array<D, kLayers> up, down;  // e^(±φ_m)
};

Powers powers_of(const Unknowns& x) {
  Powers p;
  p.step = x[kLayers] * (1.0 / kLayers);
  p.g = exp(p.step);
  p.width = 1.0 / (kLayers * rise(x[kLayers], exp(x[kLayers])));
  for (int m = 0; m < kLayers; ++m) {
    p.up[m] = exp(x[m]);
    p.down[m] = 1.0 / p.up[m];
  }
  return p;
}

D power(const D& base, int n) {
  D result = base;
  for (int i = 1; i < n; ++i) result *= base;
  return result;
}

Way way_of(int charge, const Unknowns& x, const Powers& p) {
  Way way;
  const int n = std::abs(charge);
  D near(1.0);       // e^(zφ) g at the near node
  D inverse(1.0);    // e^(−zφ) there
  D potential(0.0);  // zφ there
  D sum(0.0);
  for (int m = 0; m < kLayers; ++m) {
    const D ratio = power(charge > 0 ? p.up[m] : p.down[m], n) * inverse * p.g;
    const D next = static_cast<double>(charge) * x[m];
    sum += near * p.width * rise(next - potential + p.step, ratio);
    way.fall[m] = power(charge > 0 ? p.down[m] : p.up[m], n);
    way.sum[m] = sum;
    near *= ratio;
    inverse = way.fall[m];
    potential = next;
  }
  return way;
}

// The ions of a water, found once.
struct Ions {
  int count = 0;
  std::array<int, kMostIons> charge{};
  std::array<int, kMostIons> kind{};     // index of its charge among those present
  std::array<int, kMostIons> species{};  // −1: the charge that was not analysed
  std::array<double, kMostIons> ratio{};
  std::array<double, kMostIons> amount{};  // of the feed [mol/m³]
  int kinds = 0;
  std::array<int, kMostCharges> charges{};

  void add(int which, int z, double rho, double c) {
    charge[count] = z;
    species[count] = which;
    ratio[count] = rho;
    amount[count] = c;
    int k = 0;
    while (k < kinds && charges[k] != z) ++k;
    if (k == kinds) charges[kinds++] = z;
    kind[count] = k;
    ++count;
  }
};

Ions ions_of(const Composition& c, const PassageRatios& ratios) {
  Ions ions;
  double excess = 0;
  for (int i = 0; i < kSpeciesCount; ++i) {
    const int z = charge_of(species_at(i));
    if (z == 0 || !(c.mol_m3[i] > 0)) continue;
    ions.add(i, z, ratios[i], c.mol_m3[i]);
    excess += z * c.mol_m3[i];
  }
  const auto usual = excess > 0 ? Species::Cl : Species::Na;
  if (excess != 0) {
    ions.add(-1, charge_of(usual), ratios[water::index(usual)], std::fabs(excess));
  }
  return ions;
}

using Ways = std::array<Way, kMostCharges>;

Ways ways_of(const Ions& ions, const Unknowns& x) {
  Ways ways;
  const Powers powers = powers_of(x);
  for (int k = 0; k < ions.kinds; ++k) ways[k] = way_of(ions.charges[k], x, powers);
  return ways;
}

struct Point {
  double flux = 0;
  double polarisation = 1;
  double salt_permeability = 0;
};

// The charges of one sign and valence at the nodes. What each ion adds depends on the way's fall
// and sum at the node m and at the end; the slopes by those four are added up over the ions, and
// only then turned into slopes by the unknowns.
struct Charges {
  std::array<double, kLayers> here{}, by_fall{}, by_sum{}, by_last_fall{}, by_last_sum{};
  double wall = 0, wall_by_last_fall = 0, wall_by_last_sum = 0;
};

void add_ion(const Way& way, const Point& at, double bulk, double per_flux, Charges& charges) {
  const double last_fall = way.fall[kLayers - 1].x;
  const double last_sum = way.sum[kLayers - 1].x;
  const double passed = last_fall / (1.0 + per_flux * last_fall * last_sum);
  const double by_last_fall = passed * passed / (last_fall * last_fall);
  const double by_last_sum = -passed * passed * per_flux;
  const double below = 1.0 + (at.polarisation - 1.0) * passed;
  const double wall = at.polarisation * bulk / below;
  const double wall_by_passed = -wall * (at.polarisation - 1.0) / below;
  charges.wall += wall;
  charges.wall_by_last_fall += wall_by_passed * by_last_fall;
  charges.wall_by_last_sum += wall_by_passed * by_last_sum;
  for (int m = 0; m < kLayers; ++m) {
    const double fall = way.fall[m].x;
    const double sum = way.sum[m].x;
    const double left = 1.0 - per_flux * passed * sum;
    const double by_passed = fall * (wall_by_passed * left - wall * per_flux * sum);
    charges.here[m] += wall * fall * left;
    charges.by_fall[m] += wall * left;
    charges.by_sum[m] -= wall * fall * per_flux * passed;
    charges.by_last_fall[m] += by_passed * by_last_fall;
    charges.by_last_sum[m] += by_passed * by_last_sum;
  }
}

// value + Σ slope × (the derivatives of the number it is a slope by).
struct Slope {
  double slope;
  const D& by;
};
D chained(double value, std::initializer_list<Slope> slopes) {
  D d(value);
  for (const Slope& s : slopes) {
    for (int i = 0; i < kUnknowns; ++i) d.v[i] += s.slope * s.by.v[i];
  }
  return d;
}

// What the charges lack of balance at each node, as a share of those there, and what θ lacks.
Unknowns lacking(const Ions& ions,
                 const Ways& ways,
                 const std::array<double, kMostIons>& bulk,
                 const Point& at,
                 const D& log_share) {
  std::array<Charges, kMostCharges> by_charge{};
  D wall_charges(0.0);
  for (int i = 0; i < ions.count; ++i) {
    const int k = ions.kind[i];
    const double permeability = ions.ratio[i] * at.salt_permeability;
    if (permeability > 0) {
      add_ion(ways[k], at, bulk[i], at.flux / permeability, by_charge[k]);
    } else {
      // An ion that the skin bars is not in it.
      wall_charges += std::abs(ions.charge[i]) * at.polarisation * bulk[i];
    }
  }
  std::array<D, kLayers> excess{}, charges{};
  for (int k = 0; k < ions.kinds; ++k) {
    const auto charge = static_cast<double>(ions.charges[k]);
    const Charges& c = by_charge[k];
    const Way& way = ways[k];
    const D& last_fall = way.fall[kLayers - 1];
    const D& last_sum = way.sum[kLayers - 1];
    wall_charges +=
        std::fabs(charge) *
        chained(c.wall, {{c.wall_by_last_fall, last_fall}, {c.wall_by_last_sum, last_sum}});
    for (int m = 0; m < kLayers; ++m) {
      const D here = chained(c.here[m],
                             {{c.by_fall[m], way.fall[m]},
                              {c.by_sum[m], way.sum[m]},
                              {c.by_last_fall[m], last_fall},
                              {c.by_last_sum[m], last_sum}});
      excess[m] += charge * here;
      charges[m] += std::fabs(charge) * here;
    }
  }
  Unknowns lacks;
  for (int m = 0; m < kLayers; ++m) lacks[m] = excess[m] / charges[m];
  lacks[kLayers] = log(charges[kLayers - 1] / wall_charges) - log_share;
  return lacks;
}

// The skin as if it met one salt with the mixture's mean ions: a start within Newton's reach.
Potential first_guess(const Ions& ions,
                      const std::array<double, kMostIons>& bulk,
                      const Point& at) {
  std::array<double, 2> weighted{}, whole{}, charged{};
  for (int i = 0; i < ions.count; ++i) {
    const int z = std::abs(ions.charge[i]);
    const std::size_t side = ions.charge[i] > 0 ? 0 : 1;
    weighted[side] += z * bulk[i] * ions.ratio[i];
    whole[side] += z * bulk[i];
    charged[side] += z * z * bulk[i];
  }
  Potential x{};
  if (!(weighted[0] > 0 && weighted[1] > 0)) return x;
  const double plus = weighted[0] / whole[0];
  const double minus = weighted[1] / whole[1];
  const double z_plus = charged[0] / whole[0];
  const double z_minus = charged[1] / whole[1];
  const double below = z_plus * plus + z_minus * minus;
  const double salt = (z_plus + z_minus) * plus * minus / below * at.salt_permeability;
  x[kLayers] = std::log(salt / (at.flux + salt));
  for (int m = 0; m < kLayers; ++m) {
    x[m] = (minus - plus) / below * x[kLayers] * (m + 1) / kLayers;
  }
  return x;
}

// Share of the stream's concentration that the permeate holds, from that of the wall's.
double share_of_stream(double passed, double polarisation) {
  return polarisation * passed / (1.0 + (polarisation - 1.0) * passed);
}

// Newton's last step leaves the square of what was lacking before it.
constexpr double kNearlyBalanced = 1e-6;

struct Step {
  std::array<double, kMostIons> share{};  // of the stream, in the permeate, after the step
  double lacked = 0;                      // by the largest, before it
};

// One step of Newton's method on the potential. The shares follow it to first order, so that they
// need no second look at the skin.
Step improve(const Ions& ions,
             const std::array<double, kMostIons>& bulk,
             const Point& at,
             Potential& x) {
  using Vector = Eigen::Matrix<double, kUnknowns, 1>;
  constexpr double kLongest = 2.0;  // in φ or ln θ
  Unknowns seeded;
  for (int i = 0; i < kUnknowns; ++i) seeded[i] = D::variable(x[i], i);
  const auto ways = ways_of(ions, seeded);
  const Unknowns lacks = lacking(ions, ways, bulk, at, seeded[kLayers]);
  Eigen::Matrix<double, kUnknowns, kUnknowns> slope;
  Vector residual;
  for (int i = 0; i < kUnknowns; ++i) {
    residual(i) = lacks[i].x;
    for (int j = 0; j < kUnknowns; ++j) slope(i, j) = lacks[i].v[j];
  }
  Step step;
  step.lacked = residual.cwiseAbs().maxCoeff();
  Vector move = slope.partialPivLu().solve(-residual);
  const double longest = move.cwiseAbs().maxCoeff();
  if (longest > kLongest) move *= kLongest / longest;
  for (int i = 0; i < kUnknowns; ++i) x[i] += move(i);

  const auto moved = [&](const D& d) {
    double value = d.x;
    for (int j = 0; j < kUnknowns; ++j) value += d.v[j] * move(j);
    return value;
  };
  std::array<double, kMostCharges> fall{}, sum{};
  for (int k = 0; k < ions.kinds; ++k) {
    fall[k] = std::max(moved(ways[k].fall[kLayers - 1]), 0.0);
    sum[k] = std::max(moved(ways[k].sum[kLayers - 1]), 0.0);
  }
  for (int i = 0; i < ions.count; ++i) {
    const double permeability = ions.ratio[i] * at.salt_permeability;
    if (!(permeability > 0)) continue;
    const int k = ions.kind[i];
    const double passed = fall[k] / (1.0 + at.flux / permeability * fall[k] * sum[k]);
    step.share[i] = share_of_stream(passed, at.polarisation);
  }
  return step;
}

bool any_passes(const Ions& ions, const Point& at) {
  bool plus = false, minus = false;
  for (int i = 0; i < ions.count; ++i) {
    if (ions.ratio[i] > 0) (ions.charge[i] > 0 ? plus : minus) = true;
  }
  return plus && minus && at.salt_permeability > 0 && at.flux > 0;
}

double uncharged_share(Species s, const Skin& skin, const Point& at) {
  if (s == Species::CO2) return 1;
  const double through = (*skin.ratios)[water::index(s)] * skin.salt_permeability;
  return share_of_stream(through > 0 ? through / (at.flux + through) : 0, at.polarisation);
}

// Amounts of one species at the Gauss points, for the shares that pass there:
//   Q_i c_i + S Σ_j a_ij (J_j K_j + leak) c_j = Q_f c_f
std::array<double, kPoints> along(const ElementResult<double>& e,
                                  double area,
                                  const std::array<double, kPoints>& share,
                                  double feed_flux) {
  Eigen::Matrix3d m;
  for (int i = 0; i < kPoints; ++i) {
    for (int j = 0; j < kPoints; ++j) {
      const double taken = std::max(e.points[j].flux, 0.0) * share[j] + e.leak;
      m(i, j) = area * kStage[i][j] * taken + (i == j ? e.points[i].flow : 0.0);
    }
  }
  const Eigen::Vector3d c = m.inverse() * Eigen::Vector3d::Constant(feed_flux);
  return {c(0), c(1), c(2)};
}

}  // namespace

LocalIons local_ions(const Skin& skin, const Composition& bulk, double flux, double polarisation) {
  CHECK(skin.ratios != nullptr && flux > 0 && polarisation >= 1);
  const Point at{flux, polarisation, skin.salt_permeability};
  const Ions ions = ions_of(bulk, *skin.ratios);
  LocalIons result;
  std::array<double, kMostIons> share{};
  if (any_passes(ions, at)) {
    Potential x = first_guess(ions, ions.amount, at);
    constexpr int kSteps = 60;
    Step step{.lacked = 1};
    for (; result.steps < kSteps && !(step.lacked < kNearlyBalanced); ++result.steps) {
      step = improve(ions, ions.amount, at, x);
    }
    share = step.share;
  }
  const auto put = [&](int i, double passed) {
    const double c = bulk.mol_m3[i];
    result.permeate.mol_m3[i] = c * passed;
    result.wall.mol_m3[i] = c * (polarisation - (polarisation - 1.0) * passed);
  };
  for (int i = 0; i < kSpeciesCount; ++i) {
    if (charge_of(species_at(i)) == 0) put(i, uncharged_share(species_at(i), skin, at));
  }
  for (int i = 0; i < ions.count; ++i) {
    if (ions.species[i] >= 0) put(ions.species[i], share[i]);
  }
  return result;
}

ElementIons pass_ions(const Skin& skin,
                      const Channel& channel,
                      const ElementResult<double>& element,
                      const Composition& feed) {
  CHECK(skin.ratios != nullptr && element.status == ElementStatus::kSolved);
  const double area = channel.area.si();
  const double feed_flow = element.reject.flow + element.permeate_flow;
  std::array<Point, kPoints> points;
  for (int j = 0; j < kPoints; ++j) {
    points[j] = {element.points[j].flux, element.points[j].polarisation, skin.salt_permeability};
  }
  const Ions ions = ions_of(feed, *skin.ratios);

  // Amounts follow from the shares, shares from the amounts: little of a stream passes, so that a
  // few rounds with one step of Newton's method each agree: each leaves less than a hundredth of
  // what the one before it changed.
  constexpr int kRounds = 60;
  constexpr double kAgree = 1e-9;
  std::array<std::array<double, kMostIons>, kPoints> amount{}, share{};
  std::array<Potential, kPoints> potential{};
  for (int j = 0; j < kPoints; ++j) {
    for (int i = 0; i < ions.count; ++i) amount[j][i] = ions.amount[i] * element.points[j].strength;
    if (any_passes(ions, points[j])) potential[j] = first_guess(ions, amount[j], points[j]);
  }
  for (int round = 0; round < kRounds; ++round) {
    double change = 0;
    double lacked = 0;
    for (int j = 0; j < kPoints; ++j) {
      if (!any_passes(ions, points[j])) continue;
      const Step step = improve(ions, amount[j], points[j], potential[j]);
      share[j] = step.share;
      lacked = std::max(lacked, step.lacked);
    }
    for (int i = 0; i < ions.count; ++i) {
      const auto c =
          along(element, area, {share[0][i], share[1][i], share[2][i]}, feed_flow * ions.amount[i]);
      for (int j = 0; j < kPoints; ++j) {
        change = std::max(change, std::fabs(c[j] - amount[j][i]) / (c[j] > 0 ? c[j] : 1.0));
        amount[j][i] = c[j];
      }
    }
    if (change < kAgree && lacked < kNearlyBalanced) break;
  }

  ElementIons result;
  const auto put = [&](int species,
                       const std::array<double, kPoints>& c,
                       const std::array<double, kPoints>& passed) {
    double through = 0;
    for (int j = 0; j < kPoints; ++j) {
      const double flux = std::max(points[j].flux, 0.0);
      through += area * kWeight[j] * (flux * passed[j] + element.leak) * c[j];
    }
    const double p = points[kPoints - 1].polarisation;
    const double entering = feed.mol_m3[species];
    result.permeate.mol_m3[species] =
        element.permeate_flow > 0 ? through / element.permeate_flow : 0.0;
    result.reject.mol_m3[species] = (feed_flow * entering - through) / element.reject.flow;
    result.wall.mol_m3[species] = c[kPoints - 1] * (p - (p - 1.0) * passed[kPoints - 1]);
  };
  for (int i = 0; i < ions.count; ++i) {
    if (ions.species[i] < 0) continue;
    put(ions.species[i],
        {amount[0][i], amount[1][i], amount[2][i]},
        {share[0][i], share[1][i], share[2][i]});
  }
  for (int i = 0; i < kSpeciesCount; ++i) {
    const Species s = species_at(i);
    if (charge_of(s) != 0 || !(feed.mol_m3[i] > 0)) continue;
    std::array<double, kPoints> passed{};
    for (int j = 0; j < kPoints; ++j) {
      if (points[j].flux > 0) passed[j] = uncharged_share(s, skin, points[j]);
    }
    put(i, along(element, area, passed, feed_flow * feed.mol_m3[i]), passed);
  }
  return result;
}

}  // namespace drawoff::membrane
