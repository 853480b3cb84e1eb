// Whatever can be entered ends in a named outcome, and the numbers that come with it satisfy the
// equations of every part. Nothing here is measured on a real machine: it is the solver that is
// tested, not the world.
#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <numeric>
#include <string>

#include "support/balances.h"
#include "support/outputs.h"
#include "support/random_machine.h"
#include "support/section.h"

namespace drawoff {
namespace {

using machine::Outcome;

constexpr std::uint64_t kSeed = 20260101;
constexpr std::array<const char*, machine::kOutcomeCount> kNames = {"runs",
                                                                    "nothing flows",
                                                                    "no product",
                                                                    "starves the pump",
                                                                    "over-concentrates",
                                                                    "over pressure",
                                                                    "not solved"};

// Relative difference of two answers, over all their numbers. Pressures are compared with the
// largest pressure of the machine: one near zero is a difference of large ones. Strengths and flux
// of a stream with hardly any flow carry its relative error, so flows are compared with the feed.
double difference(const machine::OperatingPoint<double>& a,
                  const machine::OperatingPoint<double>& b) {
  double largest = 0;
  for (const auto& output : support::kOutputs) {
    if (output.name.ends_with("_pressure")) {
      largest = std::fmax(largest, std::fabs(a.*output.member));
    }
  }
  double worst = 0;
  for (const auto& output : support::kOutputs) {
    const double size = output.name.ends_with("_pressure") ? largest
                        : output.name.ends_with("_flow")   ? std::fmax(a.supply_flow, a.feed_flow)
                                                           : std::fabs(a.*output.member);
    if (size > 0) {
      worst = std::fmax(worst, std::fabs(a.*output.member - b.*output.member) / size);
    }
  }
  return worst;
}

int run(bool full) {
  const int count = full ? 20000 : 1000;
  const int compared = full ? 500 : 50;
  support::Section section("Outcomes of random machines");
  section.line(
      "Seed {}, {} machines and waters over all that the plates may say, half of them with "
      "every parameter moved by up to a factor of ten.\n",
      kSeed,
      count);

  std::array<int, machine::kOutcomeCount> outcomes{};
  std::map<std::string_view, double> worst;
  int endless = 0;
  std::array<int, machine::kOutcomeCount> bracketed{};
  int most = 0;
  int without_reason = 0;
  int unlike = 0;
  double apart = 0;
  double evaluations = 0;
  for (int i = 0; i < count; ++i) {
    numerics::Random random(kSeed, static_cast<std::uint64_t>(i));
    const auto c = support::random_case(random);
    const auto& water = c.feed.water;
    const auto p = machine::operating_point(c.machine, water, c.parameters);
    ++outcomes[static_cast<std::size_t>(p.outcome)];
    if (p.outcome == Outcome::kNotSolved) section.line("machine {} is not solved", i);
    if (!support::all_finite(p)) ++endless;
    bracketed[static_cast<std::size_t>(p.outcome)] += p.bracketed;
    most = std::max(most, p.evaluations);
    evaluations += p.evaluations;
    for (const auto& [law, relative] : support::imbalances(c.machine, water, c.parameters, p)) {
      auto& so_far = worst[law];
      if (!(relative <= machine::kBalanceTolerance)) {
        section.line("machine {}: {} is off by {:.1e} ({})",
                     i,
                     law,
                     relative,
                     kNames[static_cast<std::size_t>(p.outcome)]);
      }
      if (!(relative <= so_far)) so_far = relative;
    }
    if (p.outcome == Outcome::kNothingFlows) {
      const double missing = support::missing_drive(c.machine, water, c.parameters, p);
      if (!(missing >= -machine::kBalanceTolerance * std::fabs(p.filtered_pressure) - 1.0)) {
        section.line("machine {}: nothing flows, but {:.3g} Pa drive it", i, -missing);
        ++without_reason;
      }
    }
    if (i < compared) {
      const auto q = machine::operating_point(
          c.machine, water, c.parameters, {.by = machine::SolveBy::kBracketsOnly});
      const double d = difference(p, q);
      if (p.outcome != q.outcome || !(d <= 1e-9)) {
        section.line("machine {}: brackets say {}, Newton {}, {:.1e} apart",
                     i,
                     kNames[static_cast<std::size_t>(q.outcome)],
                     kNames[static_cast<std::size_t>(p.outcome)],
                     d);
        ++unlike;
      }
      apart = std::fmax(apart, d);
    }
  }

  section.line(
      "\n| outcome | machines | share | found by brackets |\n"
      "| --- | ---: | ---: | ---: |");
  for (std::size_t i = 0; i < outcomes.size(); ++i) {
    section.line("| {} | {} | {:.1f} % | {} |",
                 kNames[i],
                 outcomes[i],
                 100.0 * outcomes[i] / count,
                 bracketed[i]);
  }
  const int needed = std::accumulate(bracketed.begin(), bracketed.end(), 0);
  section.line(
      "\nEvaluations of the membranes a solve: mean {:.1f}, most {}. Needed the brackets: {} "
      "({:.1f} %).",
      evaluations / count,
      most,
      needed,
      100.0 * needed / count);
  section.line("\n| law | largest imbalance, relative |\n| --- | ---: |");
  double largest = 0;
  for (const auto& [law, relative] : worst) {
    section.line("| {} | {:.1e} |", law, relative);
    if (!(relative <= largest)) largest = relative;
  }
  section.line(
      "\nNewton against brackets alone, {} machines: {:.1e} apart at most.\n", compared, apart);
  section.demand(outcomes[static_cast<std::size_t>(Outcome::kNotSolved)] == 0,
                 "every solve ends in a named outcome");
  section.demand(endless == 0, "with finite numbers");
  section.demand(largest <= machine::kBalanceTolerance, "every balance closes to 1e-9");
  section.demand(without_reason == 0, "where nothing flows, nothing drives it");
  section.demand(unlike == 0, "brackets alone and Newton agree to 1e-9");
  return section.status();
}

}  // namespace
}  // namespace drawoff

int main(int argc, char** argv) {
  return drawoff::run(drawoff::support::asked_in_full(argc, argv));
}
