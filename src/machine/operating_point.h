// How a machine runs: the pressures and flows at which all its parts agree.
//
// Two unknowns remain once each part is written as pressure against flow: the fresh flow Q that the
// membranes are fed with, and the pressure p_t where permeate and blend meet. For a given Q, the
// product side has one solution, because permeate and blend both fall as p_t rises while the
// product line takes more. And over Q there is one, because a larger flow lowers the pressure that
// supply and pump can hold and raises the one that restrictor and drain ask for. Both are found
// inside a bracket, from no guess of the user's; derivatives follow from the implicit function
// theorem at the solution.
//
// A regulator is the lesser of two pressures that both fall with the flow, an open flush valve only
// adds to what the drain takes: neither changes that. Where reject goes back before the pump, its
// flow and the strength of what the membranes are fed with are unknown too. They stand between the
// two: for given Q and strength the valve passes one flow, for given Q the salt balance has one
// strength (why: operating_point.cc).
//
//   OperatingPoint<double> p = operating_point(machine, water, Parameters<double>());
//   if (p.outcome == Outcome::kRuns) ... p.product_flow ...
//
// All numbers are SI; pressures are gauge, at the height of the unit.
#pragma once

#include "machine/machine.h"
#include "machine/parameters.h"
#include "numerics/dual.h"

namespace drawoff::machine {

enum class Outcome {
  kRuns,
  kNothingFlows,      // the supply cannot push water through to the drain; a blend may run alone
  kNoProduct,         // water runs to the drain, but none passes the membrane to the outlet
  kStarvesPump,       // the pump draws more than supply and filters let through
  kOverConcentrates,  // so little reject that the membrane uses up its stream: the numbers are
                      // those of the least feed that leaves a stream, not of a balance
  kOverPressure,      // the membrane housing would see more than its rating
  kNotSolved,         // the search failed: tests demand that no machine ends here
};
inline constexpr int kOutcomeCount = 7;

// Product comes, whether or not the housing should bear it.
constexpr bool makes_product(Outcome outcome) {
  return outcome == Outcome::kRuns || outcome == Outcome::kOverPressure;
}

// Pressure before the pump below which it is said to starve: half a bar under the atmosphere
// (from memory: diaphragm boosters lose their flow to vapour and air at about this suction).
inline constexpr double kLeastSuction = -0.5e5;  // [Pa]

template <class S>
struct OperatingPoint {
  Outcome outcome = Outcome::kRuns;
  int evaluations = 0;     // of the membrane model
  bool bracketed = false;  // found by the brackets, where Newton's steps led nowhere
  S supply_flow{};         // [m³/s]
  S feed_flow{};           // to the membranes
  S permeate_flow{};
  S reject_flow{};         // of the membranes
  S recirculation_flow{};  // part of it that goes back before the pump
  S drain_flow{};          // the rest
  S blend_flow{};          // past the membranes into the product
  S product_flow{};
  S unit_inlet_pressure{};  // [Pa] after stop valve, tube and regulator
  S filtered_pressure{};    // after the filters, before the pump
  S membrane_pressure{};    // at the first element
  S reject_pressure{};      // after the last element, before the restrictor
  S permeate_pressure{};    // behind the membrane
  S tee_pressure{};         // where blend and permeate meet
  S raw_salt{};             // strengths relative to the raw water as given
  S feed_salt{};            // of what the membranes are fed with: above raw_salt if it recirculates
  S permeate_salt{};
  S reject_salt{};
  S blend_salt{};
  S product_salt{};  // of permeate and blend together, by flow
  S wall_salt{};     // at the membrane's wall near the reject end
  S polarisation{};  // mean of the last element
  S flux{};          // mean of all elements [m/s]
  S recovery{};      // permeate / (permeate + drain): what goes round counts once
};

// What a balance of pressures may lack at a solution, as a share of the largest pressure.
inline constexpr double kBalanceTolerance = 1e-9;

// Permeate below this share of the feed counts as none: the product's check valve stands at the
// edge of opening.
inline constexpr double kHeldShut = 1e-6;

// The brackets alone give the same answer a hundred times slower: for comparison.
enum class SolveBy { kNewtonThenBrackets, kBracketsOnly };
struct SolveOptions {
  SolveBy by = SolveBy::kNewtonThenBrackets;
};

OperatingPoint<double> operating_point(const Machine& machine,
                                       const FeedWater& water,
                                       const Parameters<double>& parameters,
                                       const SolveOptions& options = {});

using Seeded = numerics::Dual<static_cast<int>(kParameterCount)>;

// The same point with the derivative of every number with respect to every parameter. Meaningful
// where the outcome is kRuns, away from a switching edge (a valve that just opens).
OperatingPoint<Seeded> operating_point_with_derivatives(const Machine& machine,
                                                        const FeedWater& water,
                                                        const Parameters<double>& parameters);

}  // namespace drawoff::machine
