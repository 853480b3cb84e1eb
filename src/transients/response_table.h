// How a machine answers to the pressure at its product outlet, as a table that the model built.
//
// A filling tank or a day of draws asks for product flow and quality at thousands of back
// pressures; each costs the model some 0.2 ms. A curve asks it at a few dozen and answers from
// there:
//
//   pressure     two segments, divided where blend or permeate ends (a kink), each with kCells
//                cells that narrow to both ends
//   temperature  kTemperatures nodes, 8.8 K apart
//
// in both directions by the monotone cubic of Fritsch & Carlson [fritsch1980]: no overshoot; error
// ∝ h³ where smooth (4e-4 of a flow that grows as e^(0.03 T/K)), and at a kink such as an opening
// bypass at most h/4 times the jump of the slope.
//
// Instead of the permeate's strength s_p its reciprocal is kept: from J s_p = B (s_m − s_p),
// 1/s_p = (J + B)/(B s_m) is nearly a straight line in the flow and stays tame where the flow ends.
//
//   const ResponseCurve curve(specimen, feed, condition);     // one temperature
//   curve.at(2e5).product_flow()
//   const ResponseTable table(specimen, feed, condition);     // all of them
//   table.at(celsius(12)).at(2e5)
//
// All numbers SI. Back pressure: gauge, at the lowest outlet, beyond an open one.
#pragma once

#include <array>
#include <cstddef>
#include <span>
#include <vector>

#include "machine/ensemble.h"
#include "machine/operating_point.h"
#include "machine/readings.h"

namespace drawoff::transients {

// How much of a machine is wanted: a flush runs into an open outlet, a tank fills to the end of
// flow.
enum class Reach { kOpenOutlet, kWholeCurve };

// The machine at one back pressure: what transients need of an operating point.
struct Response {
  double permeate_flow = 0;  // [m³/s]
  double blend_flow = 0;
  double reject_flow = 0;    // to the drain
  double permeate_salt = 0;  // strength relative to the raw water as given
  double feed_salt = 0;      // of what the membranes are fed with
  double blend_salt = 0;
  double raw_salt = 0;
  double tee_pressure = 0;       // [Pa]
  double filtered_pressure = 0;  // [Pa]

  double product_flow() const { return permeate_flow + blend_flow; }
  // Of permeate and blend together; that of the permeate where nothing flows.
  double product_salt() const;
};

class ResponseCurve {
 public:
  static constexpr std::size_t kCells = 10;              // of a segment
  static constexpr std::size_t kNodes = 2 * kCells + 1;  // of both
  enum Column { kPermeate, kBlend, kReject, kReciprocal, kFeedSalt, kTee, kFiltered, kColumns };
  using Row = std::array<double, kColumns>;
  struct Nodes {
    std::array<double, kNodes> pressure{};
    std::array<Row, kNodes> rows{};
    // 1/c of every species of the permeate [m³/mol], 0 for what is not in it: nearly a straight
    // line in 1/s_p, as that is in the flow.
    std::array<water::Composition, kNodes> reciprocals{};
  };

  ResponseCurve() = default;
  ResponseCurve(const machine::Specimen& specimen,
                const machine::Feed& feed,
                const machine::Condition& condition,
                Reach reach = Reach::kWholeCurve);

  // How it runs with an open outlet. Numbers mean something where usable().
  machine::Outcome outcome() const { return outcome_; }
  bool usable() const {
    return outcome_ == machine::Outcome::kRuns || outcome_ == machine::Outcome::kOverPressure;
  }
  // Back pressure at which the last product ends: a shut outlet. 0 if only an open one was asked
  // for.
  double closing_pressure() const { return nodes_.pressure.back(); }
  // Where the first of blend and permeate ends.
  double kink() const { return nodes_.pressure[kCells]; }
  // ρ g z of the lowest outlet above the tee: what stands at the tee when nothing flows, less p.
  double head() const { return head_; }
  // Beyond the closing pressure: as there.
  Response at(double back_pressure) const;
  // Every species of the product there.
  water::Composition product_at(double back_pressure) const;
  int model_calls() const { return model_calls_; }
  const Nodes& nodes() const { return nodes_; }

 private:
  friend class ResponseTable;
  void find_slopes();
  std::size_t cell_of(double pressure) const;

  machine::Outcome outcome_ = machine::Outcome::kNothingFlows;
  Nodes nodes_;
  std::array<std::array<Row, 2>, kNodes - 1> slopes_{};  // at both ends of each cell
  double raw_salt_ = 1;
  bool pressurised_ = false;  // the blend is as strong as the membranes' feed
  water::Composition feed_;   // of the membranes, at strength 1
  units::Density minerals_;
  double head_ = 0;
  int model_calls_ = 0;
};

class ResponseTable {
 public:
  static constexpr std::size_t kTemperatures = 6;
  static constexpr double kColdest = 274.15;  // [K]
  static constexpr double kWarmest = 318.15;

  ResponseTable(const machine::Specimen& specimen,
                const machine::Feed& feed,
                const machine::Condition& condition);

  // What keeps it from running at one of the temperatures, if anything.
  machine::Outcome outcome() const;
  // The curve at a temperature, which is held to the range. Only where the outcome is usable.
  ResponseCurve at(units::Temperature temperature) const;
  // Node i, at kColdest + i (kWarmest − kColdest)/(kTemperatures − 1).
  const ResponseCurve& node(std::size_t i) const { return curves_[i]; }

 private:
  std::array<ResponseCurve, kTemperatures> curves_;
};

}  // namespace drawoff::transients
