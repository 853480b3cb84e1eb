#include "visit/first_day.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "inference/fit.h"
#include "numerics/sample.h"
#include "visit/observable.h"

namespace drawoff::visit {

namespace {

using inference::Numbers;
using machine::Condition;
using machine::Parameter;
using machine::Point;
using machine::PointValues;
using machine::Specimen;

std::size_t index_of(Point p) { return static_cast<std::size_t>(p); }

// Rarer readings than this from a sound machine are not taken for its own.
constexpr double kTooFarOff = 0.01;
// A value that varies by less than this (ln) is not one that a reading could tell of.
constexpr double kNoSpread = 1e-9;
// Correlations beyond this are worth saying.
constexpr double kCloselyTied = 0.5;

// One reading: where, in which state, and what a sound machine would show.
struct Row {
  Point point;
  std::size_t condition;  // among those asked for
  double sound = 0;
};

// Everything that is a machine's own, as a positive number; only ratios of it are used.
double own_of(const Specimen& s, Own what) {
  const auto& membranes = s.machine.membranes;
  const auto& p = s.parameters;
  switch (what) {
    case Own::kMembraneFlow:
      return membranes.water.si() * membranes.channel.area.si() * p[Parameter::kWaterPermeability];
    case Own::kMembranePassage:
      return s.salt_permeability.si() * membranes.channel.area.si() *
             p[Parameter::kSaltPermeability];
    case Own::kMembraneWarmth:
      return membranes.coefficients.water;
    case Own::kMixing:
      return p[Parameter::kMassTransfer];
    case Own::kSupplyPressure:
      return p[Parameter::kSupplyPressure];
    case Own::kSupplyLoss:
      return p[Parameter::kSupplyLoss];
    case Own::kFilterLoss:
      return p[Parameter::kPreFilterLoss];
    case Own::kPumpFlow:
      return p[Parameter::kPumpFlow];
    case Own::kRestrictorFlow:
      return p[Parameter::kRestrictorFlow];
    case Own::kDrainLoss:
      return p[Parameter::kDrainLoss];
    case Own::kBlendFlow:
      return p[Parameter::kBlendFlow];
    case Own::kPolishLoss:
      return p[Parameter::kPostFilterLoss];
    case Own::kRawStrength:
      return p[Parameter::kFeedSalt];
    case Own::kConductivity:
      return s.conductivity;
  }
  return 1;
}

// A part that the machine does not have has nothing of its own.
bool has(const machine::Machine& m, Own what) {
  const auto takes = [](const plumbing::Loss& loss) { return loss.a > 0 || loss.b > 0; };
  switch (what) {
    case Own::kSupplyPressure:
      return m.supply.pressure.si() > 0;
    case Own::kFilterLoss:
      return takes(m.pre_filters);
    case Own::kPumpFlow:
      return m.pump.has_value();
    case Own::kBlendFlow:
      return m.blend.has_value();
    case Own::kPolishLoss:
      return takes(m.post_filters);
    default:
      return true;
  }
}

std::vector<double> logarithms(std::span<const Specimen> specimens,
                               const Specimen& like,
                               Own what) {
  std::vector<double> values;
  for (const Specimen& s : specimens) {
    values.push_back(std::log(std::fmax(1e-6, own_of(s, what) / own_of(like, what))));
  }
  return values;
}

inference::Interval as_factor(std::span<const double> logarithms) {
  const auto band = inference::predicted_interval(logarithms, 0, inference::kExpectedLevel);
  return {std::exp(band.low), std::exp(band.middle), std::exp(band.high)};
}

double correlation_of(std::span<const double> a, std::span<const double> b) {
  const double ma = numerics::mean(a);
  const double mb = numerics::mean(b);
  double sum = 0;
  for (std::size_t i = 0; i < a.size(); ++i) sum += (a[i] - ma) * (b[i] - mb);
  const double spread = numerics::standard_deviation(a) * numerics::standard_deviation(b);
  return spread > 0 ? sum / (static_cast<double>(a.size() - 1) * spread) : 0;
}

void describe(const Specimen& median, std::span<const Specimen> before, FirstDay& out) {
  std::vector<std::pair<Own, std::vector<double>>> known;
  for (const auto& choice : fields::EnumTable<Own>::list) {
    const Own what = choice.value;
    if (!has(median.machine, what)) continue;
    const auto prior = logarithms(before, median, what);
    const double spread = numerics::standard_deviation(prior);
    if (!(spread > kNoSpread)) continue;
    auto fitted = logarithms(out.specimens, median, what);
    const double left = numerics::standard_deviation(fitted) / spread;
    out.values.push_back({.what = what,
                          .before = as_factor(prior),
                          .after = as_factor(fitted),
                          .told = std::fmax(0.0, 1 - left * left)});
    known.emplace_back(what, std::move(fitted));
  }
  std::stable_sort(out.values.begin(), out.values.end(), [](const OwnValue& a, const OwnValue& b) {
    return a.told > b.told;
  });
  for (std::size_t i = 0; i < known.size(); ++i) {
    for (std::size_t k = i + 1; k < known.size(); ++k) {
      const double correlation = correlation_of(known[i].second, known[k].second);
      if (std::fabs(correlation) < kCloselyTied) continue;
      out.together.push_back({known[i].first, known[k].first, correlation});
    }
  }
  std::stable_sort(
      out.together.begin(), out.together.end(), [](const Together& a, const Together& b) {
        return std::fabs(a.correlation) > std::fabs(b.correlation);
      });
}

// A machine that makes no product shows nothing of its membrane: no slope leads there.
void keep_those_that_run(std::vector<Specimen>& specimens,
                         const machine::Feed& feed,
                         const Condition& built) {
  std::erase_if(specimens, [&](const Specimen& s) {
    const auto m = machine::in_condition(s.machine, built);
    return !machine::makes_product(machine::operating_point(m, feed.water, s.parameters).outcome);
  });
}

void expect(const machine::Feed& feed, const Condition& built, FirstDay& out) {
  std::vector<PointValues> all;
  for (const Specimen& s : out.specimens) all.push_back(values_at(s, feed, built));
  for (int i = 0; i < machine::kPointCount; ++i) {
    const auto point = static_cast<Point>(i);
    std::vector<double> draws;
    for (const PointValues& values : all) draws.push_back(values[index_of(point)]);
    if (const auto band = expected_of(std::move(draws))) out.expected.push_back({point, *band});
  }
}

}  // namespace

FirstDay first_day(const StartUp& start_up,
                   const machine::MachineEntry& entry,
                   const Sampling& sampling) {
  FirstDay out;
  const auto& raw = start_up.raw;
  const auto feed = machine::feed_of(raw, entry);
  const Specimen median = machine::nominal(entry, feed).specimen;
  const Condition built = as_built(entry);

  std::vector<Condition> conditions;
  std::vector<Row> rows;
  inference::FitInput input{.seed = sampling.seed};
  for (const JudgedReading& judged : start_up.readings) {
    if (!judged.judgement) continue;
    const ReadingEntry& r = judged.reading;
    const Condition condition = key_of(r.condition, built);
    const auto found = std::find(conditions.begin(), conditions.end(), condition);
    const auto place = static_cast<std::size_t>(found - conditions.begin());
    if (found == conditions.end()) conditions.push_back(condition);
    const double sound = values_at(median, feed, condition)[index_of(r.point)];
    if (std::isnan(sound)) continue;
    const Measured m = observed(r.point, measured(r), sound);
    rows.push_back({r.point, place, sound});
    input.readings.push_back(m.value);
    input.sigma.push_back(m.sigma);
  }
  out.readings = static_cast<int>(rows.size());
  if (rows.empty()) return out;
  auto before = machine::specimens(entry, raw, feed, sampling.seed, sampling.draws);
  keep_those_that_run(before, feed, built);
  out.drawn = static_cast<int>(before.size());

  for (const Specimen& s : before) input.prior.push_back(s.chance);
  const auto model = [&](std::span<const Numbers> chances) {
    std::vector<std::optional<Numbers>> answers;
    for (const auto& specimen : machine::specimens_of(entry, raw, feed, chances)) {
      auto& answer = answers.emplace_back();
      if (!specimen) continue;
      std::vector<PointValues> values;
      for (const Condition& c : conditions) values.push_back(values_at(*specimen, feed, c));
      Numbers shown;
      for (const Row& row : rows) {
        const double value = values[row.condition][index_of(row.point)];
        if (std::isnan(value)) break;
        shown.push_back(observable(row.point, value, row.sound));
      }
      if (shown.size() == rows.size()) answer = std::move(shown);
    }
    return answers;
  };
  const auto fitted = inference::fit(input, model);
  out.probability = fitted.probability;
  if (fitted.probability < kTooFarOff) {
    out.standing = FirstDayStanding::kNotThisMachine;
    return out;
  }
  if (!fitted.found) {
    out.standing = FirstDayStanding::kCannotTell;
    return out;
  }
  for (auto& specimen : machine::specimens_of(entry, raw, feed, fitted.draws)) {
    if (specimen) out.specimens.push_back(*std::move(specimen));
  }
  keep_those_that_run(out.specimens, feed, built);
  out.standing = FirstDayStanding::kFitted;
  describe(median, before, out);
  expect(feed, built, out);
  return out;
}

}  // namespace drawoff::visit
