#include "membrane/element.h"

#include <Eigen/Dense>
#include <algorithm>
#include <array>
#include <cmath>
#include <type_traits>

#include "base/check.h"
#include "membrane/collocation.h"
#include "membrane/scalars.h"
#include "numerics/bracket.h"

namespace drawoff::membrane {

namespace {

using numerics::Dual;
using numerics::value_of;

constexpr int kUnknowns = 2 * kPoints;  // per point: flux (scaled) and stream strength s

// A stream this much smaller than the feed counts as used up: beyond, three points no longer follow
// the strength along the leaf (compared with 64 parts: 4 % off at a recovery of 0.85, 70 % at
// 0.97).
constexpr double kLeastStream = 0.03;

template <class S>
struct Wall {
  S wall;
  S permeate;
  S osmotic;       // π(s_m) − π(s_p) [Pa]
  S polarisation;  // e^(J/k)
};

// Film theory and salt diffusion at one point, for a flux J > 0 (or a membrane without salt
// passage): s_p = s B/(J e^(−J/k) + B), s_m − s_p = s J/(J e^(−J/k) + B). Written without the
// difference s − s_p, which drowns in rounding where the membrane mixes so badly that nearly
// all salt passes.
template <class S>
Wall<S> wall_of(
    const Membrane<S>& m, const Surroundings<S>& around, const S& k, const S& flux, const S& bulk) {
  using std::exp;
  const S heaped = exp(flux / k);
  const bool passes = value_of(m.salt_permeability) > 0;
  const S per_feed = passes ? bulk / (flux / heaped + m.salt_permeability) : S(0.0);
  const S permeate = per_feed * m.salt_permeability;
  const S wall = passes ? permeate + per_feed * flux : bulk * heaped;
  const S osmotic = around.osmotic->pressure(wall, around.temperature) -
                    around.osmotic->pressure(permeate, around.temperature);
  return {wall, permeate, osmotic, heaped};
}

template <class S>
struct Problem {
  const Channel* channel = nullptr;
  Membrane<S> membrane;
  Surroundings<S> around;
  Stream<S> feed;
  double grown = 1;       // share of the membrane area at work (continuation, see solve)
  double flux_scale = 1;  // [m/s]
};

template <class S>
using Unknowns = std::array<S, kUnknowns>;

template <class S>
struct Points {
  std::array<S, kPoints> flow, through, salt, wall, polarisation, flux;
  S friction_loss{};
};

// The state at the Gauss points for given unknowns, and what the equations lack of being true.
template <class S>
Points<S> evaluate(const Problem<S>& p, const Unknowns<S>& x, Unknowns<S>& residual) {
  const double area = p.channel->area.si() * p.grown;
  const double length = p.channel->length.si() * p.grown;
  Points<S> at;
  std::array<S, kPoints> friction, k, strength;
  for (int i = 0; i < kPoints; ++i) {
    at.flux[i] = x[i] * p.flux_scale;
    strength[i] = x[kPoints + i];
  }
  // The bypass needs the pressure, the pressure the friction, the friction the flow: friction
  // hardly moves over an element, so the bypass is taken at the feed pressure.
  const S leak = p.membrane.leak * (p.feed.pressure - p.around.permeate_pressure);
  for (int i = 0; i < kPoints; ++i) at.through[i] = at.flux[i] + leak;
  for (int i = 0; i < kPoints; ++i) {
    S lost(0.0);
    for (int j = 0; j < kPoints; ++j) lost += kStage[i][j] * at.through[j];
    at.flow[i] = p.feed.flow - area * lost;
    friction[i] =
        p.membrane.channel_friction * channel_friction(*p.channel, at.flow[i], p.around.fluid);
    k[i] = p.membrane.mass_transfer *
           mass_transfer(p.around.law, *p.channel, at.flow[i], p.around.fluid);
  }
  at.friction_loss = S(0.0);
  for (int i = 0; i < kPoints; ++i) {
    S lost(0.0);
    for (int j = 0; j < kPoints; ++j) lost += kStage[i][j] * friction[j];
    const S difference = p.feed.pressure - length * lost - p.around.permeate_pressure;
    const bool forward = value_of(at.flux[i]) > 0 || value_of(p.membrane.salt_permeability) == 0;
    if (forward) {
      const Wall<S> w = wall_of(p.membrane, p.around, k[i], at.flux[i], strength[i]);
      at.wall[i] = w.wall;
      at.salt[i] = at.flux[i] * w.permeate + leak * strength[i];
      at.polarisation[i] = w.polarisation;
      residual[i] =
          x[i] - p.membrane.water_permeability * (difference - w.osmotic) * (1.0 / p.flux_scale);
    } else {
      at.wall[i] = strength[i];
      at.salt[i] = leak * strength[i];
      at.polarisation[i] = S(1.0);
      residual[i] = x[i] - p.membrane.water_permeability * difference * (1.0 / p.flux_scale);
    }
    at.friction_loss += length * kWeight[i] * friction[i];
  }
  for (int i = 0; i < kPoints; ++i) {
    S taken(0.0);
    for (int j = 0; j < kPoints; ++j) taken += kStage[i][j] * at.salt[j];
    residual[kPoints + i] = (strength[i] * at.flow[i] - p.feed.salt + area * taken) / p.feed.flow;
  }
  return at;
}

// The same, with its derivatives dropped or made room for.
template <class To, class From>
To plain(const From& v) {
  return To(value_of(v));
}
template <class To, class From>
Fluid<To> with_scalar(const Fluid<From>& f) {
  return {plain<To>(f.density), plain<To>(f.viscosity), plain<To>(f.diffusivity)};
}
template <class To, class From>
Membrane<To> with_scalar(const Membrane<From>& m) {
  return {plain<To>(m.water_permeability),
          plain<To>(m.salt_permeability),
          plain<To>(m.leak),
          plain<To>(m.mass_transfer),
          plain<To>(m.channel_friction)};
}
template <class To, class From>
Surroundings<To> with_scalar(const Surroundings<From>& a) {
  return {a.osmotic,
          plain<To>(a.temperature),
          with_scalar<To>(a.fluid),
          plain<To>(a.permeate_pressure),
          a.law};
}
template <class To, class From>
Problem<To> with_scalar(const Problem<From>& p) {
  return {p.channel,
          with_scalar<To>(p.membrane),
          with_scalar<To>(p.around),
          {plain<To>(p.feed.flow), plain<To>(p.feed.salt), plain<To>(p.feed.pressure)},
          p.grown,
          p.flux_scale};
}

using Matrix = Eigen::Matrix<double, kUnknowns, kUnknowns>;
using Vector = Eigen::Matrix<double, kUnknowns, 1>;

// ∂r/∂x by hand, from the local slopes of wall, mass transfer and friction: this is the inner loop
// of every computation, and a dual number of six derivatives through all of it costs four times
// as much (element_benchmark.cc). A test holds it to the dual's value.
Matrix jacobian(const Problem<double>& p, const Unknowns<double>& x, Vector& residual) {
  const double area = p.channel->area.si() * p.grown;
  const double length = p.channel->length.si() * p.grown;
  const double a = p.membrane.water_permeability;
  const double scale = p.flux_scale;
  const double leak = p.membrane.leak * (p.feed.pressure - p.around.permeate_pressure);

  std::array<double, kPoints> flow, friction, by_flow_friction, by_flow_k, k;
  const auto one = with_scalar<Dual<1>>(p.around.fluid);
  for (int i = 0; i < kPoints; ++i) {
    double lost = 0;
    for (int j = 0; j < kPoints; ++j) lost += kStage[i][j] * (x[j] * scale + leak);
    flow[i] = p.feed.flow - area * lost;
    const auto seeded = Dual<1>::variable(flow[i], 0);
    const auto rub = channel_friction(*p.channel, seeded, one);
    const auto mix = mass_transfer(p.around.law, *p.channel, seeded, one);
    friction[i] = p.membrane.channel_friction * rub.x;
    by_flow_friction[i] = p.membrane.channel_friction * rub.v[0];
    k[i] = p.membrane.mass_transfer * mix.x;
    by_flow_k[i] = p.membrane.mass_transfer * mix.v[0];
  }
  const auto flow_by_flux = [&](int i, int j) { return -area * kStage[i][j]; };

  Matrix m;
  std::array<double, kPoints> salt;
  std::array<std::array<double, kPoints>, kPoints> salt_by_flux;
  std::array<double, kPoints> salt_by_strength;
  const auto local_membrane = with_scalar<Dual<3>>(p.membrane);
  const auto local_around = with_scalar<Dual<3>>(p.around);
  for (int i = 0; i < kPoints; ++i) {
    const double flux = x[i] * scale;
    const double strength = x[kPoints + i];
    double lost = 0;
    for (int j = 0; j < kPoints; ++j) lost += kStage[i][j] * friction[j];
    const double difference = p.feed.pressure - length * lost - p.around.permeate_pressure;
    Dual<3> osmotic(0.0);
    Dual<3> through(0.0);  // J s_p
    if (flux > 0 || p.membrane.salt_permeability == 0) {
      const auto j3 = Dual<3>::variable(flux, 0);
      const auto w = wall_of(local_membrane,
                             local_around,
                             Dual<3>::variable(k[i], 2),
                             j3,
                             Dual<3>::variable(strength, 1));
      osmotic = w.osmotic;
      through = j3 * w.permeate;
    }
    salt[i] = through.x + leak * strength;
    salt_by_strength[i] = through.v[1] + leak;
    residual(i) = x[i] - a * (difference - osmotic.x) / scale;
    for (int j = 0; j < kPoints; ++j) {
      const double same = i == j ? 1.0 : 0.0;
      double pressure_by_flux = 0;
      for (int l = 0; l < kPoints; ++l) {
        pressure_by_flux -= length * kStage[i][l] * by_flow_friction[l] * flow_by_flux(l, j);
      }
      const double k_by_flux = by_flow_k[i] * flow_by_flux(i, j);
      m(i, j) = same - a * (pressure_by_flux - osmotic.v[0] * same - osmotic.v[2] * k_by_flux);
      m(i, kPoints + j) = a / scale * osmotic.v[1] * same;
      salt_by_flux[i][j] = through.v[0] * same + through.v[2] * k_by_flux;
    }
  }
  for (int i = 0; i < kPoints; ++i) {
    double taken = 0;
    for (int j = 0; j < kPoints; ++j) taken += kStage[i][j] * salt[j];
    const double strength = x[kPoints + i];
    residual(kPoints + i) = (strength * flow[i] - p.feed.salt + area * taken) / p.feed.flow;
    for (int j = 0; j < kPoints; ++j) {
      double taken_by_flux = 0;
      for (int l = 0; l < kPoints; ++l) taken_by_flux += kStage[i][l] * salt_by_flux[l][j];
      m(kPoints + i, j) =
          scale * (strength * flow_by_flux(i, j) + area * taken_by_flux) / p.feed.flow;
      m(kPoints + i, kPoints + j) =
          ((i == j ? flow[i] : 0.0) + area * kStage[i][j] * salt_by_strength[j]) / p.feed.flow;
    }
  }
  return m;
}

// Streams must stay streams: a step that would dry a Gauss point is not taken.
bool feasible(const Problem<double>& p, const Unknowns<double>& x) {
  const double area = p.channel->area.si() * p.grown;
  const double leak = p.membrane.leak * (p.feed.pressure - p.around.permeate_pressure);
  for (int i = 0; i < kPoints; ++i) {
    double flow = p.feed.flow;
    for (int j = 0; j < kPoints; ++j) {
      flow -= area * kStage[i][j] * (x[j] * p.flux_scale + leak);
    }
    if (!(flow > kLeastStream * p.feed.flow) || !(x[kPoints + i] > 0) ||
        !(x[kPoints + i] < 1.5 * p.around.osmotic->s_max())) {
      return false;
    }
  }
  return true;
}

bool newton(const Problem<double>& p, Unknowns<double>& x) {
  constexpr int kSteps = 40;
  constexpr double kStepTolerance = 1e-11;  // Newton is quadratic: the error left is its square
  if (!feasible(p, x)) return false;
  Vector residual;
  Matrix m = jacobian(p, x, residual);
  for (int step = 0; step < kSteps; ++step) {
    const Vector move = m.partialPivLu().solve(-residual);
    if (!move.allFinite()) return false;
    double share = 1;
    const double before = residual.cwiseAbs().maxCoeff();
    for (;; share *= 0.5) {
      if (share < 1e-6) return false;
      Unknowns<double> tried = x;
      for (int i = 0; i < kUnknowns; ++i) tried[i] += share * move(i);
      if (!feasible(p, tried)) continue;
      Vector next;
      const Matrix at_tried = jacobian(p, tried, next);
      const double after = next.cwiseAbs().maxCoeff();
      if (!(after < before) && after > 1e-13) continue;
      x = tried;
      m = at_tried;
      residual = next;
      break;
    }
    if (share * move.cwiseAbs().maxCoeff() < kStepTolerance) return true;
  }
  return false;
}

// From the feed's own local flux as first guess; where that is too far off (a stream nearly used
// up), the membrane is grown from a small share of its area to all of it.
bool solve(Problem<double>& p, Unknowns<double>& x) {
  const double k = p.membrane.mass_transfer *
                   mass_transfer(p.around.law, *p.channel, p.feed.flow, p.around.fluid);
  const double strength = p.feed.salt / p.feed.flow;
  const double difference = p.feed.pressure - p.around.permeate_pressure;
  p.flux_scale = p.membrane.water_permeability * std::fmax(std::fabs(difference), 1e3);
  const LocalFlux first = local_flux(p.membrane, p.around, k, strength, difference);
  auto guess = [&] {
    for (int i = 0; i < kPoints; ++i) {
      x[i] = first.flux / p.flux_scale;
      x[kPoints + i] = strength;
    }
  };
  guess();
  if (newton(p, x)) return true;
  guess();
  double done = 0;
  double step = 0.25;
  while (done < 1) {
    Unknowns<double> tried = x;
    p.grown = std::fmin(1.0, done + step);
    if (newton(p, tried)) {
      x = tried;
      done = p.grown;
      step *= 1.5;
    } else {
      step *= 0.5;
      if (step < 1e-3) return false;
    }
  }
  return true;
}

}  // namespace

LocalFlux local_flux(const Membrane<double>& membrane,
                     const Surroundings<double>& around,
                     double mass_transfer,
                     double bulk_salt,
                     double pressure_difference) {
  const double a = membrane.water_permeability;
  if (membrane.salt_permeability > 0 && pressure_difference <= 0) {
    return {a * pressure_difference, bulk_salt, 0};
  }
  auto lacks = [&](double flux) {
    const auto w = wall_of(membrane, around, mass_transfer, flux, bulk_salt);
    return flux - a * (pressure_difference - w.osmotic);
  };
  const double open = a * pressure_difference;
  const double opposed =
      a * (pressure_difference - around.osmotic->pressure(bulk_salt, around.temperature));
  numerics::Bracket bracket{.low = std::fmin(0.0, opposed), .high = std::fmax(0.0, open)};
  // At exactly no flux a membrane that passes salt has none piled up.
  if (membrane.salt_permeability > 0) bracket.low = open * 1e-12;
  bracket.scale = std::fmax(std::fabs(open), std::fabs(opposed)) * 1e-3;
  if (bracket.scale == 0) return {0, bulk_salt, 0};
  const auto root = numerics::find_root(lacks, bracket);
  const double flux = root.status == numerics::BracketStatus::kNoSignChange ? 0.0 : root.root;
  if (flux <= 0 && membrane.salt_permeability > 0) return {0, bulk_salt, bulk_salt};
  const auto w = wall_of(membrane, around, mass_transfer, flux, bulk_salt);
  return {flux, w.wall, w.permeate};
}

template <class S>
ElementResult<S> pass_element(const Channel& channel,
                              const Membrane<S>& membrane,
                              const Surroundings<S>& around,
                              const Stream<S>& feed) {
  CHECK(around.osmotic != nullptr);
  ElementResult<S> result;
  Problem<S> problem{.channel = &channel, .membrane = membrane, .around = around, .feed = feed};
  auto exhausted = [&] {
    result.status = ElementStatus::kExhausted;
    return result;
  };
  if (!(value_of(feed.flow) > 0)) return exhausted();

  auto values = with_scalar<double>(problem);
  Unknowns<double> x{};
  if (!solve(values, x)) return exhausted();
  problem.flux_scale = values.flux_scale;
  // A bypass may take what the Gauss points leave: the outlet itself must still flow.
  Unknowns<S> at, residual;
  for (int i = 0; i < kUnknowns; ++i) at[i] = S(x[i]);
  Points<S> points = evaluate(problem, at, residual);
  if constexpr (!std::is_same_v<S, double>) {
    // Implicit function theorem: dx/dp = −(∂r/∂x)⁻¹ ∂r/∂p, for every input that S carries.
    Vector unused;
    const auto solver = jacobian(values, x, unused).partialPivLu();
    constexpr auto kInputs = static_cast<int>(std::tuple_size_v<decltype(S{}.v)>);
    Eigen::Matrix<double, kUnknowns, kInputs> slope;
    for (int i = 0; i < kUnknowns; ++i) {
      for (int j = 0; j < kInputs; ++j) slope(i, j) = -residual[i].v[j];
    }
    const Eigen::Matrix<double, kUnknowns, kInputs> moved = solver.solve(slope);
    for (int i = 0; i < kUnknowns; ++i) {
      for (int j = 0; j < kInputs; ++j) at[i].v[j] = moved(i, j);
    }
    points = evaluate(problem, at, residual);
  }

  const double area = channel.area.si();
  result.permeate_flow = S(0.0);
  result.permeate_salt = S(0.0);
  result.polarisation = S(0.0);
  result.flux = S(0.0);
  for (int i = 0; i < kPoints; ++i) {
    result.permeate_flow += area * kWeight[i] * points.through[i];
    result.permeate_salt += area * kWeight[i] * points.salt[i];
    result.polarisation += kWeight[i] * points.polarisation[i];
    result.flux += kWeight[i] * points.flux[i];
  }
  result.wall_salt = points.wall[kPoints - 1];
  for (int i = 0; i < kPoints; ++i) {
    result.points[i] = {.flow = points.flow[i],
                        .strength = at[kPoints + i],
                        .flux = points.flux[i],
                        .polarisation = points.polarisation[i],
                        .wall = points.wall[i]};
  }
  result.leak = membrane.leak * (feed.pressure - around.permeate_pressure);
  result.reject.flow = feed.flow - result.permeate_flow;
  result.reject.salt = feed.salt - result.permeate_salt;
  result.friction_loss = points.friction_loss;
  result.reject.pressure = feed.pressure - points.friction_loss;
  if (!(value_of(result.reject.flow) > kLeastStream * value_of(feed.flow))) return exhausted();
  return result;
}

#define DRAWOFF_INSTANTIATE(S)               \
  template ElementResult<S> pass_element<S>( \
      const Channel&, const Membrane<S>&, const Surroundings<S>&, const Stream<S>&)
DRAWOFF_MEMBRANE_SCALARS(DRAWOFF_INSTANTIATE);
#undef DRAWOFF_INSTANTIATE

}  // namespace drawoff::membrane
