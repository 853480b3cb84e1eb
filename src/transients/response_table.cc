#include "transients/response_table.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "base/check.h"
#include "machine/streams.h"
#include "machine/treatment.h"
#include "water/mixing.h"

namespace drawoff::transients {

namespace {

using machine::OperatingPoint;
using machine::Outcome;
using machine::Parameter;

// The model as a function of back pressure, with a count of its calls.
class Model {
 public:
  Model(const machine::Specimen& specimen,
        const machine::Feed& feed,
        const machine::Condition& condition)
      : specimen_(specimen),
        machine_(machine::in_condition(specimen.machine, condition)),
        feed_(&feed) {
    machine_.product_pressure = units::pascal(0);
  }
  OperatingPoint<double> at(double back_pressure) {
    ++calls_;
    specimen_.parameters[Parameter::kProductBackPressure] = back_pressure;
    return machine::operating_point(machine_, feed_->water, specimen_.parameters);
  }
  // Of the point that was asked for last.
  water::Composition permeate(const OperatingPoint<double>& point) const {
    return machine::streams_at(specimen_, machine_, *feed_, point).permeate;
  }
  int calls() const { return calls_; }

 private:
  machine::Specimen specimen_;
  machine::Machine machine_;
  const machine::Feed* feed_;
  int calls_ = 0;
};

// Share of the pressure to which an end of flow is found.
constexpr double kEndTolerance = 1e-7;

// Where a flow that falls with back pressure ends: by secants from the side where it still flows,
// each aimed a little short of its zero, so that all but the last stay there.
template <class Flow>
double end_of(Model& model, const Flow& flow) {
  double low = 0;
  double at_low = flow(model.at(0));
  if (!(at_low > 0)) return 0;
  double high = 1e5;
  double before = 0;
  double at_before = 0;
  bool two = false;
  constexpr int kDoublings = 12;
  for (int i = 0; i < kDoublings; ++i) {
    const double q = flow(model.at(high));
    if (!(q > 0)) break;
    before = low;
    at_before = at_low;
    low = high;
    at_low = q;
    two = true;
    high *= 2;
  }
  constexpr int kSteps = 60;
  for (int i = 0; i < kSteps && high - low > kEndTolerance * high; ++i) {
    double next = 0.5 * (low + high);
    if (two && at_before > at_low) {
      const double zero = low + at_low * (low - before) / (at_before - at_low);
      const double aim = low + 0.98 * (zero - low);
      if (aim > low && aim < high) next = aim;
      // The rest is less than what is asked: nothing is gained by coming nearer.
      if (zero > low && zero < high && zero - low < kEndTolerance * high) return zero;
    }
    const double q = flow(model.at(next));
    if (q > 0) {
      before = low;
      at_before = at_low;
      low = next;
      at_low = q;
      two = true;
    } else {
      high = next;
    }
  }
  return low;
}

// Slope at a node between two cells that keeps the cubic monotone; 0 at an extreme.
// [fritsch1980]; the weighted harmonic mean of Fritsch & Butland for unequal cells.
double inner_slope(double h0, double d0, double h1, double d1) {
  if (!(d0 * d1 > 0)) return 0;
  const double w0 = 2 * h1 + h0;
  const double w1 = h1 + 2 * h0;
  return (w0 + w1) / (w0 / d0 + w1 / d1);
}

// At the end of a segment: the parabola's, held to what stays monotone.
double outer_slope(double h0, double d0, double h1, double d1) {
  const double slope = ((2 * h0 + h1) * d0 - h0 * d1) / (h0 + h1);
  if (!(slope * d0 > 0)) return 0;
  if (d0 * d1 <= 0 && std::fabs(slope) > 3 * std::fabs(d0)) return 3 * d0;
  return slope;
}

struct Place {
  double at = 0;  // share of the cell
  double width = 0;
};
struct End {
  double value = 0;
  double slope = 0;
};
// Cubic with given values and slopes at both ends of a cell.
double hermite(const Place& place, const End& left, const End& right) {
  const double t = place.at;
  const double u = 1 - t;
  return u * u * (1 + 2 * t) * left.value + t * t * (3 - 2 * t) * right.value +
         t * u * place.width * (u * left.slope - t * right.slope);
}

water::Composition reciprocals_of(const water::Composition& c) {
  water::Composition result;
  for (std::size_t i = 0; i < c.mol_m3.size(); ++i) {
    result.mol_m3[i] = c.mol_m3[i] > 0 ? 1 / c.mol_m3[i] : 0;
  }
  return result;
}

water::Composition between_compositions(const water::Composition& a,
                                        const water::Composition& b,
                                        double share) {
  water::Composition c;
  for (std::size_t i = 0; i < c.mol_m3.size(); ++i) {
    c.mol_m3[i] = (1 - share) * a.mol_m3[i] + share * b.mol_m3[i];
  }
  return c;
}

}  // namespace

double Response::product_salt() const {
  const double flow = product_flow();
  if (!(flow > 0)) return permeate_salt;
  return (permeate_flow * permeate_salt + blend_flow * blend_salt) / flow;
}

ResponseCurve::ResponseCurve(const machine::Specimen& specimen,
                             const machine::Feed& feed,
                             const machine::Condition& condition,
                             Reach reach) {
  Model model(specimen, feed, condition);
  const auto open = model.at(0);
  outcome_ = open.outcome;
  if (!usable()) return;

  const bool whole = reach == Reach::kWholeCurve;
  double permeate_ends = std::numeric_limits<double>::infinity();
  double blend_ends = permeate_ends;
  if (whole) {
    permeate_ends = end_of(model, [](const auto& p) { return p.permeate_flow; });
    blend_ends =
        open.blend_flow > 0 ? end_of(model, [](const auto& p) { return p.blend_flow; }) : 0.0;
  }
  const double kink = whole ? std::fmin(permeate_ends, blend_ends) : 0;
  const double end = whole ? std::fmax(permeate_ends, blend_ends) : 0;
  raw_salt_ = open.raw_salt;
  pressurised_ = specimen.machine.blend && specimen.machine.blend->pressurised;
  feed_ = feed.composition;
  minerals_ = specimen.minerals;

  double last_reciprocal = 1 / open.permeate_salt;
  for (std::size_t i = 0; i < kNodes; ++i) {
    const bool first = i < kCells;
    const std::size_t k = first ? i : i - kCells;
    const double x =
        0.5 * (1 - std::cos(std::numbers::pi * static_cast<double>(k) / double(kCells)));
    const double p = first ? kink * x : kink + (end - kink) * x;
    nodes_.pressure[i] = p;
    if (i > 0 && p <= nodes_.pressure[i - 1]) {
      nodes_.rows[i] = nodes_.rows[i - 1];
      nodes_.reciprocals[i] = nodes_.reciprocals[i - 1];
      continue;
    }
    // An end is a switching edge of the model: asked just before it, and then set.
    const bool at_end = (i == kCells && kink > 0) || i == kNodes - 1;
    const auto point = whole ? model.at(at_end ? p * (1 - 10 * kEndTolerance) : p) : open;
    Row& row = nodes_.rows[i];
    const bool makes = point.permeate_flow > 0;
    if (makes) {
      last_reciprocal = 1 / point.permeate_salt;
      nodes_.reciprocals[i] = reciprocals_of(model.permeate(point));
    } else if (i > 0) {
      nodes_.reciprocals[i] = nodes_.reciprocals[i - 1];
    }
    row[kPermeate] = p >= permeate_ends ? 0 : point.permeate_flow;
    row[kBlend] = p >= blend_ends ? 0 : point.blend_flow;
    row[kReject] = point.drain_flow;
    row[kReciprocal] = last_reciprocal;
    row[kFeedSalt] = point.feed_salt;
    row[kTee] = point.tee_pressure;
    row[kFiltered] = point.filtered_pressure;
  }
  model_calls_ = model.calls();
  if (!whole) return;
  // With no flow left, all that stands between tee and outlet is height.
  head_ = nodes_.rows.back()[kTee] - end * (1 - 10 * kEndTolerance);
  nodes_.rows.back()[kTee] = head_ + end;
  find_slopes();
}

void ResponseCurve::find_slopes() {
  for (const std::size_t first : {std::size_t{0}, kCells}) {
    std::array<double, kCells> h{};
    for (std::size_t i = 0; i < kCells; ++i) {
      h[i] = nodes_.pressure[first + i + 1] - nodes_.pressure[first + i];
    }
    if (!(h[0] > 0)) continue;
    for (std::size_t c = 0; c < kColumns; ++c) {
      std::array<double, kCells> d{};
      for (std::size_t i = 0; i < kCells; ++i) {
        d[i] = (nodes_.rows[first + i + 1][c] - nodes_.rows[first + i][c]) / h[i];
      }
      std::array<double, kCells + 1> m{};
      m[0] = outer_slope(h[0], d[0], h[1], d[1]);
      for (std::size_t i = 1; i < kCells; ++i) m[i] = inner_slope(h[i - 1], d[i - 1], h[i], d[i]);
      m[kCells] = outer_slope(h[kCells - 1], d[kCells - 1], h[kCells - 2], d[kCells - 2]);
      for (std::size_t i = 0; i < kCells; ++i) {
        slopes_[first + i][0][c] = m[i];
        slopes_[first + i][1][c] = m[i + 1];
      }
    }
  }
}

std::size_t ResponseCurve::cell_of(double pressure) const {
  const auto above =
      std::upper_bound(nodes_.pressure.begin() + 1, nodes_.pressure.end() - 1, pressure);
  return static_cast<std::size_t>(above - nodes_.pressure.begin()) - 1;
}

water::Composition ResponseCurve::product_at(double back_pressure) const {
  const std::size_t cell = cell_of(std::clamp(back_pressure, 0.0, closing_pressure()));
  const Response response = at(back_pressure);
  const double left = nodes_.rows[cell][kReciprocal];
  const double right = nodes_.rows[cell + 1][kReciprocal];
  const double share =
      left == right ? 0
                    : std::clamp((1 / response.permeate_salt - left) / (right - left), 0.0, 1.0);
  const auto permeate = reciprocals_of(
      between_compositions(nodes_.reciprocals[cell], nodes_.reciprocals[cell + 1], share));
  return machine::mineralised(water::mixed({permeate, units::VolumeFlow(response.permeate_flow)},
                                           {water::scaled(feed_, response.blend_salt),
                                            units::VolumeFlow(response.blend_flow)}),
                              minerals_);
}

Response ResponseCurve::at(double back_pressure) const {
  CHECK(usable());
  const double p = std::clamp(back_pressure, 0.0, closing_pressure());
  const std::size_t cell = cell_of(p);
  const double h = nodes_.pressure[cell + 1] - nodes_.pressure[cell];
  Row row = nodes_.rows[cell];
  if (h > 0) {
    for (std::size_t c = 0; c < kColumns; ++c) {
      row[c] = hermite({.at = (p - nodes_.pressure[cell]) / h, .width = h},
                       {.value = nodes_.rows[cell][c], .slope = slopes_[cell][0][c]},
                       {.value = nodes_.rows[cell + 1][c], .slope = slopes_[cell][1][c]});
    }
  }
  return {.permeate_flow = row[kPermeate],
          .blend_flow = row[kBlend],
          .reject_flow = row[kReject],
          .permeate_salt = 1 / row[kReciprocal],
          .feed_salt = row[kFeedSalt],
          .blend_salt = pressurised_ ? row[kFeedSalt] : raw_salt_,
          .raw_salt = raw_salt_,
          .tee_pressure = row[kTee],
          .filtered_pressure = row[kFiltered]};
}

namespace {

constexpr double kBetween = (ResponseTable::kWarmest - ResponseTable::kColdest) /
                            static_cast<double>(ResponseTable::kTemperatures - 1);

// The monotone cubic through equally spaced values, at place `t` of cell `cell`, 0 <= t <= 1.
template <std::size_t kCount>
double cubic(const std::array<double, kCount>& y, std::size_t cell, double t) {
  std::array<double, kCount - 1> rise{};
  for (std::size_t i = 0; i + 1 < kCount; ++i) rise[i] = y[i + 1] - y[i];
  std::array<double, kCount> slope{};
  slope[0] = outer_slope(1, rise[0], 1, rise[1]);
  for (std::size_t i = 1; i + 1 < kCount; ++i) slope[i] = inner_slope(1, rise[i - 1], 1, rise[i]);
  slope[kCount - 1] = outer_slope(1, rise[kCount - 2], 1, rise[kCount - 3]);
  return hermite({.at = t, .width = 1},
                 {.value = y[cell], .slope = slope[cell]},
                 {.value = y[cell + 1], .slope = slope[cell + 1]});
}

}  // namespace

ResponseTable::ResponseTable(const machine::Specimen& specimen,
                             const machine::Feed& feed,
                             const machine::Condition& condition) {
  for (std::size_t i = 0; i < kTemperatures; ++i) {
    machine::Specimen at = specimen;
    at.parameters[Parameter::kTemperature] =
        kColdest + kBetween * static_cast<double>(i) - feed.water.temperature.si();
    curves_[i] = ResponseCurve(at, feed, condition);
  }
}

Outcome ResponseTable::outcome() const {
  for (const ResponseCurve& curve : curves_) {
    if (!curve.usable()) return curve.outcome();
  }
  return Outcome::kRuns;
}

ResponseCurve ResponseTable::at(units::Temperature temperature) const {
  CHECK(outcome() == Outcome::kRuns);
  const double place = (std::clamp(temperature.si(), kColdest, kWarmest) - kColdest) / kBetween;
  const std::size_t cell = std::min(static_cast<std::size_t>(place), kTemperatures - 2);
  const auto between = [&](const auto& value_of) {
    std::array<double, kTemperatures> y{};
    for (std::size_t i = 0; i < kTemperatures; ++i) y[i] = value_of(curves_[i]);
    return cubic(y, cell, place - static_cast<double>(cell));
  };
  ResponseCurve sum;
  sum.outcome_ = Outcome::kRuns;
  sum.raw_salt_ = curves_[0].raw_salt_;
  sum.pressurised_ = curves_[0].pressurised_;
  sum.feed_ = curves_[0].feed_;
  sum.minerals_ = curves_[0].minerals_;
  sum.head_ = between([](const auto& c) { return c.head_; });
  for (std::size_t n = 0; n < ResponseCurve::kNodes; ++n) {
    sum.nodes_.pressure[n] = between([&](const auto& c) { return c.nodes_.pressure[n]; });
    for (std::size_t k = 0; k < ResponseCurve::kColumns; ++k) {
      sum.nodes_.rows[n][k] = between([&](const auto& c) { return c.nodes_.rows[n][k]; });
    }
    sum.nodes_.reciprocals[n] = between_compositions(curves_[cell].nodes_.reciprocals[n],
                                                     curves_[cell + 1].nodes_.reciprocals[n],
                                                     place - static_cast<double>(cell));
  }
  sum.find_slopes();
  return sum;
}

}  // namespace drawoff::transients
