// The membranes of a machine: elements in rows, the reject of each the feed of the next, such rows
// side by side on one feed. Templates on the scalar, as operating_point_network.h.
//
// Rows alike share the feed evenly. Rows of different elements start at one pressure and end at
// one, so the feed q_i of each is such that
//
//   Δp_i(q_i) = Δp for all i,  Σ q_i = q
//
// met by steps q_i += (Δp − Δp_i)/s_i, with the slope s_i of each row's own loss: of a channel's
// friction Δp ~ q^n at first, then the secant of its last two rounds.
//
// Check: two unlike rows carry what each alone carries on its own feed; their ends agree.
#pragma once

#include <cmath>
#include <vector>

#include "machine/machine.h"
#include "membrane/element.h"
#include "numerics/dual.h"

namespace drawoff::machine {

// The membrane of the element in place i of that row, both from 0.
template <class S>
membrane::Membrane<S> membrane_at(const Membranes& m, membrane::Membrane<S> plate, int row, int i) {
  const Position position = position_of(m, row, i);
  plate.water_permeability = plate.water_permeability * position.water_permeability;
  plate.salt_permeability = plate.salt_permeability * position.salt_permeability;
  return plate;
}

template <class S>
struct RowResult {
  membrane::ElementStatus status = membrane::ElementStatus::kSolved;
  membrane::Stream<S> reject;
  S permeate_flow{};  // [m³/s]; not above 0: the rest of the row was left out
  S permeate_salt{};  // permeate flow × s_p [m³/s]
  S flux{};           // mean of the row [m/s]
  S wall_salt{};      // of its last element
  S polarisation{};   // of its last element
  S friction_loss{};  // [Pa]
};

template <class S>
RowResult<S> pass_row(const Membranes& m,
                      const membrane::Membrane<S>& plate,
                      const membrane::Surroundings<S>& around,
                      int row,
                      const membrane::Stream<S>& feed) {
  RowResult<S> out{.reject = feed};
  for (int i = 0; i < m.in_series; ++i) {
    const auto element =
        membrane::pass_element(m.channel, membrane_at(m, plate, row, i), around, out.reject);
    out.status = element.status;
    if (out.status != membrane::ElementStatus::kSolved) return out;
    out.permeate_flow += element.permeate_flow;
    out.permeate_salt += element.permeate_salt;
    out.flux += element.flux * (1.0 / m.in_series);
    out.wall_salt = element.wall_salt;
    out.polarisation = element.polarisation;
    out.friction_loss += element.friction_loss;
    out.reject = element.reject;
    // The pressure only falls from here on: what an element took back, no later one makes good.
    if (!(numerics::value_of(out.permeate_flow) > 0)) return out;
  }
  return out;
}

// What each row is fed with, of a feed for all of them together. Even shares where a row uses up
// its stream on the way to the answer.
template <class S>
std::vector<membrane::Stream<S>> feeds_of_rows(const Membranes& m,
                                               const membrane::Membrane<S>& plate,
                                               const membrane::Surroundings<S>& around,
                                               const membrane::Stream<S>& feed) {
  constexpr int kRounds = 60;
  constexpr int kSettle = 3;          // rounds more, for what S carries
  constexpr double kPower = 1.7;      // n, to begin with
  constexpr double kAgree = 1e-14;    // of the loss
  constexpr double kMostTaken = 0.7;  // of a row's feed in one round
  using numerics::value_of;
  const double share = 1.0 / m.in_parallel;
  const membrane::Stream<S> even{feed.flow * share, feed.salt * share, feed.pressure};
  const auto rows = static_cast<std::size_t>(m.in_parallel);
  std::vector<membrane::Stream<S>> feeds(rows, even);
  if (rows_alike(m)) return feeds;
  std::vector<S> losses(rows), steps(rows, S(0.0));
  std::vector<double> gives(rows);  // 1/s_i
  int settled = 0;
  for (int round = 0; round < kRounds && settled < kSettle; ++round) {
    double all = 0;
    S weighted(0.0);
    for (std::size_t i = 0; i < rows; ++i) {
      const auto row = pass_row(m, plate, around, static_cast<int>(i), feeds[i]);
      if (row.status != membrane::ElementStatus::kSolved) {
        return std::vector<membrane::Stream<S>>(rows, even);
      }
      const double before = value_of(losses[i]);
      losses[i] = row.friction_loss;
      const double now = value_of(losses[i]);
      if (round == 0) {
        gives[i] = value_of(feeds[i].flow) / (kPower * now);
      } else if (const double secant = value_of(steps[i]) / (now - before);
                 settled == 0 && std::isfinite(secant) && secant > 0) {
        gives[i] = secant;
      }
      all += gives[i];
      weighted += losses[i] * gives[i];
    }
    const S common = weighted * (1 / all);
    double apart = 0;
    double whole = 1;  // of the steps
    for (std::size_t i = 0; i < rows; ++i) {
      steps[i] = (common - losses[i]) * gives[i];
      apart = std::fmax(apart, std::fabs(value_of(common - losses[i])));
      const double taken = -value_of(steps[i]) / value_of(feeds[i].flow);
      if (taken > kMostTaken) whole = std::fmin(whole, kMostTaken / taken);
    }
    for (std::size_t i = 0; i < rows; ++i) {
      steps[i] = steps[i] * whole;
      feeds[i].flow += steps[i];
      feeds[i].salt = feeds[i].flow * (feed.salt / feed.flow);
    }
    if (apart < kAgree * value_of(common)) ++settled;
  }
  return feeds;
}

// All rows together on one feed.
template <class S>
RowResult<S> pass_rows(const Membranes& m,
                       const membrane::Membrane<S>& plate,
                       const membrane::Surroundings<S>& around,
                       const membrane::Stream<S>& feed) {
  const double share = 1.0 / m.in_parallel;
  if (rows_alike(m)) {
    const double rows = m.in_parallel;
    auto row = pass_row(m, plate, around, 0, {feed.flow * share, feed.salt * share, feed.pressure});
    row.permeate_flow = row.permeate_flow * rows;
    row.permeate_salt = row.permeate_salt * rows;
    row.reject.flow = row.reject.flow * rows;
    row.reject.salt = row.reject.salt * rows;
    return row;
  }
  RowResult<S> all;
  const auto feeds = feeds_of_rows(m, plate, around, feed);
  for (std::size_t i = 0; i < feeds.size(); ++i) {
    const auto row = pass_row(m, plate, around, static_cast<int>(i), feeds[i]);
    all.status = row.status;
    if (all.status != membrane::ElementStatus::kSolved) return all;
    all.permeate_flow += row.permeate_flow;
    all.permeate_salt += row.permeate_salt;
    all.reject.flow += row.reject.flow;
    all.reject.salt += row.reject.salt;
    all.reject.pressure += row.reject.pressure * share;
    all.flux += row.flux * share;
    // Where scale would form first.
    if (i == 0 || numerics::value_of(row.wall_salt) > numerics::value_of(all.wall_salt)) {
      all.wall_salt = row.wall_salt;
      all.polarisation = row.polarisation;
    }
  }
  return all;
}

}  // namespace drawoff::machine
