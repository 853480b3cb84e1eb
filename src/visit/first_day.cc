#include "visit/first_day.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "inference/fit.h"
#include "numerics/random.h"
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
  std::size_t condition;  // among the day's
  double sound = 0;
};

// One day's readings, with the machine and the water of that day.
struct Day {
  machine::MachineEntry entry;
  machine::RawWater raw;
  machine::Feed feed;
  std::vector<Condition> conditions;
  std::vector<Row> rows;
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

// The day's judged readings, and what is asked of the fit for them.
Day day_of(const StartUp& start_up,
           const machine::MachineEntry& entry,
           inference::FitInput& input) {
  Day day{.entry = entry, .raw = start_up.raw, .feed = machine::feed_of(start_up.raw, entry)};
  const Specimen median = machine::nominal(entry, day.feed).specimen;
  const Condition built = as_built(entry);
  for (const JudgedReading& judged : start_up.readings) {
    if (!judged.judgement) continue;
    const ReadingEntry& r = judged.reading;
    const Condition condition = key_of(r.condition, built);
    const auto found = std::find(day.conditions.begin(), day.conditions.end(), condition);
    const auto place = static_cast<std::size_t>(found - day.conditions.begin());
    if (found == day.conditions.end()) day.conditions.push_back(condition);
    const double sound = values_at(median, day.feed, condition)[index_of(r.point)];
    if (std::isnan(sound)) continue;
    const Measured m = observed(r.point, measured(r), sound);
    day.rows.push_back({r.point, place, sound});
    input.readings.push_back(m.value);
    input.sigma.push_back(m.sigma);
  }
  return day;
}

// Adds what the machine of that day shows; nothing at all where a reading has no value.
void show(const Day& day, const Specimen& specimen, std::optional<Numbers>& shown) {
  std::vector<PointValues> values;
  for (const Condition& c : day.conditions) values.push_back(values_at(specimen, day.feed, c));
  for (const Row& row : day.rows) {
    const double value = values[row.condition][index_of(row.point)];
    if (std::isnan(value)) {
      shown.reset();
      return;
    }
    shown->push_back(observable(row.point, value, row.sound));
  }
}

// The numbers of chance on that day: the machine's, and of the day those that stand behind them.
std::vector<Numbers> on_day(std::span<const Numbers> chances,
                            std::size_t day,
                            std::size_t of_day,
                            std::size_t size) {
  std::vector<Numbers> out;
  for (const Numbers& chance : chances) {
    Numbers numbers(chance.begin(), chance.begin() + static_cast<std::ptrdiff_t>(size));
    for (std::size_t i = 0; day > 0 && i < machine::kDayNumbers; ++i) {
      numbers[of_day + i] = chance[size + (day - 1) * machine::kDayNumbers + i];
    }
    out.push_back(std::move(numbers));
  }
  return out;
}

FirstDay fitted(const StartUp& start_up,
                const machine::MachineEntry& entry,
                const Sampling& sampling,
                const std::optional<ReadAgain>& again) {
  FirstDay out;
  inference::FitInput input{.seed = sampling.seed};
  std::vector<Day> days{day_of(start_up, entry, input)};
  out.readings = static_cast<int>(input.readings.size());
  if (out.readings == 0) return out;
  if (again) {
    days.push_back(day_of(again->start_up, run_on(entry, again->after), input));
    if (days.back().rows.empty()) return out;
    out.readings = static_cast<int>(input.readings.size());
  }
  // Told of is the machine as it was read last, on the water of the first day.
  const Day& first = days.front();
  const machine::MachineEntry& now = days.back().entry;
  const Condition built = as_built(entry);
  auto before = machine::specimens(now, first.raw, first.feed, sampling.seed, sampling.draws);
  keep_those_that_run(before, first.feed, built);
  out.drawn = static_cast<int>(before.size());
  if (before.empty()) {
    out.standing = FirstDayStanding::kCannotTell;
    return out;
  }

  const std::size_t size = before.front().chance.size();
  const std::size_t of_day = before.front().days;
  for (const Specimen& s : before) {
    Numbers& numbers = input.prior.emplace_back(s.chance);
    numerics::Random random(numerics::splitmix64(sampling.seed), input.prior.size());
    numbers.resize(size + (days.size() - 1) * machine::kDayNumbers);
    std::generate(numbers.begin() + static_cast<std::ptrdiff_t>(size), numbers.end(), [&] {
      return random.normal();
    });
  }
  const auto model = [&](std::span<const Numbers> chances) {
    std::vector<std::optional<Numbers>> answers(chances.size(), Numbers{});
    for (std::size_t d = 0; d < days.size(); ++d) {
      const auto specimens = machine::specimens_of(
          days[d].entry, days[d].raw, days[d].feed, on_day(chances, d, of_day, size));
      for (std::size_t j = 0; j < answers.size(); ++j) {
        if (!specimens[j]) answers[j].reset();
        if (answers[j]) show(days[d], *specimens[j], answers[j]);
      }
    }
    return answers;
  };
  const auto fit = inference::fit(input, model);
  out.probability = fit.probability;
  if (fit.probability < kTooFarOff) {
    out.standing = FirstDayStanding::kNotThisMachine;
    return out;
  }
  if (!fit.found) {
    out.standing = FirstDayStanding::kCannotTell;
    return out;
  }
  for (auto& specimen :
       machine::specimens_of(now, first.raw, first.feed, on_day(fit.draws, 0, of_day, size))) {
    if (specimen) out.specimens.push_back(*std::move(specimen));
  }
  keep_those_that_run(out.specimens, first.feed, built);
  out.standing = FirstDayStanding::kFitted;
  describe(machine::nominal(now, first.feed).specimen, before, out);
  expect(first.feed, built, out);
  return out;
}

}  // namespace

machine::MachineEntry run_on(machine::MachineEntry entry, units::Time after) {
  if (entry.element.run_time) *entry.element.run_time += after;
  return entry;
}

FirstDay first_day(const StartUp& start_up,
                   const machine::MachineEntry& entry,
                   const Sampling& sampling,
                   const std::optional<ReadAgain>& again) {
  bool told = false;  // whether what was read again tells of the machine at all
  if (again) {
    FirstDay both = fitted(start_up, entry, sampling, again);
    if (both.standing == FirstDayStanding::kFitted) {
      both.settling = again->start_up.unread.empty() ? Settling::kSettled : Settling::kInPart;
      return both;
    }
    told = both.standing == FirstDayStanding::kNotThisMachine;
  }
  FirstDay out = fitted(start_up, entry, sampling, std::nullopt);
  if (told) {
    out.settling = Settling::kNotTogether;
  } else if (entry.element.run_time && *entry.element.run_time >= kSettledAfter) {
    out.settling = Settling::kRunIn;
  }
  return out;
}

}  // namespace drawoff::visit
