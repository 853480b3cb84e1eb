#include "visit/start_up.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <limits>

#include "base/check.h"
#include "base/csv.h"
#include "data/embedded.h"
#include "machine/tolerances.h"
#include "messages/number.h"
#include "numerics/random.h"
#include "numerics/sample.h"
#include "visit/day.h"
#include "visit/observable.h"
#include "water/conductivity.h"

namespace drawoff::visit {

namespace {

using machine::Condition;
using machine::kind_of;
using machine::Outcome;
using machine::Parameter;
using machine::Point;
using machine::PointKind;
using machine::PointValues;

std::size_t index_of(Point p) { return static_cast<std::size_t>(p); }

// Rarer visits than this are none of a good machine's. It is told "not yet" in fewer than one visit
// of twenty, whatever was read: the ends of a few hundred draws are less sure than this number
// (tests/statistics/validate_acceptance.cc counts).
constexpr double kFalseAlarms = 0.03;

// What a reading not yet taken would be good for, and the minutes it takes (common practice, no
// source): gauge at a port, jug and stopwatch, pen.
struct PossibleReading {
  Point point;
  double sigma;  // of its observable
  double minutes;
};
constexpr PossibleReading kPossible[] = {
    {Point::kInletPressure, 0.15, 4},
    {Point::kFilteredPressure, 0.15, 4},
    {Point::kMembranePressure, 0.15, 4},
    {Point::kProductFlow, 0.03, 3},
    {Point::kRejectFlow, 0.03, 2},
    {Point::kPermeateQuality, 0.03, 5},
    {Point::kProductQuality, 0.03, 1},
    {Point::kRejectQuality, 0.03, 1},
};

// ---- Causes ----------------------------------------------------------------------------------

struct CauseRow {
  std::string id;
  std::string part;
  double prior = 0;
  std::optional<Parameter> parameter;  // none: the seat of the metering valve
  std::vector<double> degrees;
};

std::optional<Parameter> parameter_of(std::string_view name) {
  if (name == "blend_seat") return std::nullopt;
  constexpr std::pair<std::string_view, Parameter> kNames[] = {
      {"supply_pressure", Parameter::kSupplyPressure},
      {"supply_loss", Parameter::kSupplyLoss},
      {"pre_filter_loss", Parameter::kPreFilterLoss},
      {"pump_flow", Parameter::kPumpFlow},
      {"water_permeability", Parameter::kWaterPermeability},
      {"salt_permeability", Parameter::kSaltPermeability},
      {"leak", Parameter::kLeak},
      {"mass_transfer", Parameter::kMassTransfer},
      {"restrictor_flow", Parameter::kRestrictorFlow},
      {"blend_flow", Parameter::kBlendFlow},
      {"post_filter_loss", Parameter::kPostFilterLoss},
      {"product_back_pressure", Parameter::kProductBackPressure},
      {"drain_loss", Parameter::kDrainLoss},
      {"feed_salt", Parameter::kFeedSalt},
  };
  for (const auto& [key, parameter] : kNames) {
    if (key == name) return parameter;
  }
  CHECK(false && "unknown parameter in causes.csv");
  return Parameter::kCount;
}

const std::vector<CauseRow>& cause_rows() {
  static const std::vector<CauseRow> rows = [] {
    std::vector<CauseRow> result;
    const auto csv = base::Csv::parse(data::file("causes.csv"));
    for (std::size_t i = 0; i < csv.rows(); ++i) {
      CauseRow row{.id = csv.text(i, "cause"),
                   .part = csv.text(i, "part"),
                   .prior = csv.number(i, "prior"),
                   .parameter = parameter_of(csv.text(i, "parameter"))};
      std::string degrees = csv.text(i, "degrees") + ";";
      for (std::size_t at = 0; at < degrees.size();) {
        const std::size_t end = degrees.find(';', at);
        row.degrees.push_back(std::strtod(degrees.substr(at, end - at).c_str(), nullptr));
        at = end + 1;
      }
      result.push_back(row);
    }
    return result;
  }();
  return rows;
}

// The machine with that fault: factors multiply, offsets add; a seat that leaks lets through a
// share of what the valve does as it is set.
machine::Specimen with_fault(machine::Specimen s, const CauseRow& cause, double degree) {
  if (!cause.parameter) {
    auto& blend = s.machine.blend;
    if (blend) blend->shut = {blend->valve.a / degree, blend->valve.b / (degree * degree)};
  } else if (is_offset(*cause.parameter)) {
    s.parameters[*cause.parameter] += degree;
  } else {
    s.parameters[*cause.parameter] *= degree;
  }
  return s;
}

// ---- The low-pressure switch
// ---------------------------------------------------------------------

transients::LowPressure low_switch_of(const machine::MachineEntry& entry,
                                      const machine::Specimen& specimen,
                                      const machine::Feed& feed,
                                      const machine::OperatingPoint<double>& p) {
  // Other machines that do not run say nothing of the water before the pump.
  if (!machine::makes_product(p.outcome) && p.outcome != Outcome::kStarvesPump) return {};
  return transients::low_pressure(entry,
                                  {.rest = transients::resting_feed(specimen, feed.water),
                                   .running = p.filtered_pressure,
                                   .flow = p.supply_flow});
}

// ---- The judged start-up -----------------------------------------------------------------------

// Values of every specimen at every point, once per condition asked for.
class Predictions {
 public:
  Predictions(const machine::Feed& feed, std::vector<machine::Specimen> specimens)
      : feed_(&feed), specimens_(std::move(specimens)) {}

  const std::vector<PointValues>& in(const Condition& condition) {
    for (const auto& [known, values] : known_) {
      if (known == condition) return values;
    }
    std::vector<PointValues> values;
    for (const auto& s : specimens_) values.push_back(values_at(s, *feed_, condition));
    known_.emplace_back(condition, std::move(values));
    return known_.back().second;
  }
  std::vector<double> at(const Condition& condition, Point p) {
    std::vector<double> draws;
    for (const PointValues& v : in(condition)) draws.push_back(v[index_of(p)]);
    return draws;
  }

 private:
  const machine::Feed* feed_;
  std::vector<machine::Specimen> specimens_;
  std::vector<std::pair<Condition, std::vector<PointValues>>> known_;
};

std::vector<double> without_nan(std::vector<double> draws) {
  std::erase_if(draws, [](double x) { return std::isnan(x); });
  return draws;
}

base::Message no_prediction(const ReadingEntry& r) {
  return {"reading.no_prediction", {{"point", base::Ref{point_id(r.point)}}}};
}

std::optional<base::Message> reason_to_set_aside(const ReadingEntry& r,
                                                 const machine::MachineEntry& entry,
                                                 const std::vector<double>& product_flows) {
  if (kind_of(r.point) == PointKind::kFlow && r.value < 0) {
    return base::Message{"reading.below_nothing", {{"point", base::Ref{point_id(r.point)}}}};
  }
  if (r.condition.flush_valve == machine::FlushState::kOpen && !entry.flush_valve) {
    return base::Message{"reading.no_flush_valve", {{"point", base::Ref{point_id(r.point)}}}};
  }
  const bool of_product = r.point == Point::kProductQuality || r.point == Point::kPermeateQuality;
  if (of_product && r.condition.since_start && !product_flows.empty()) {
    const auto typical =
        units::VolumeFlow(numerics::quantile(numerics::sorted(product_flows), 0.5));
    const auto settled = machine::settled_after(entry, typical);
    if (*r.condition.since_start < settled) {
      const auto minutes = [](double value) {
        return base::Number{value, "min", messages::digits_of(value)};
      };
      return base::Message{"reading.too_early",
                           {{"point", base::Ref{point_id(r.point)}},
                            {"taken", minutes(*r.condition.since_start / units::Time(60))},
                            {"settled", minutes(std::ceil(settled / units::Time(60)))}}};
    }
  }
  return std::nullopt;
}

// What the instrument would show of these true values, in order.
std::vector<double> likely_readings(std::span<const double> draws, const ReadingEntry& r) {
  std::vector<double> shown;
  for (const double d : draws) shown.push_back(as_shown(d, r));
  return numerics::sorted(shown);
}

// The instrument's error where the reading is expected, in its unit: a wild reading may not widen
// its own band.
double expected_sigma(std::span<const double> likely, ReadingEntry r) {
  r.value = numerics::quantile(likely, 0.5);
  const Measured m = measured(r);
  return std::fabs(as_shown(m.value + m.sigma, r) - as_shown(m.value, r));
}

// Flows and strengths are never below nothing.
inference::Interval bounded(inference::Interval expected, Point point) {
  if (kind_of(point) == PointKind::kFlow || kind_of(point) == PointKind::kQuality) {
    expected.low = std::fmax(0.0, expected.low);
  }
  return expected;
}

void forecast_readings(std::span<const ReadingEntry> asked,
                       const Condition& built,
                       Predictions& predictions,
                       StartUp& out) {
  for (const ReadingEntry& like : asked) {
    const auto draws = without_nan(predictions.at(key_of(like.condition, built), like.point));
    if (draws.size() < kLeastDraws) continue;
    Forecast f{.like = like, .likely = likely_readings(draws, like)};
    f.expected = bounded(inference::predicted_interval(
                             f.likely, expected_sigma(f.likely, like), inference::kExpectedLevel),
                         like.point);
    out.forecasts.push_back(std::move(f));
  }
}

void judge_readings(std::span<const ReadingEntry> readings,
                    const machine::MachineEntry& entry,
                    Predictions& predictions,
                    StartUp& out) {
  for (std::size_t i = 0; i < readings.size(); ++i) {
    JudgedReading judged{.index = i, .reading = readings[i]};
    const ReadingEntry& r = readings[i];
    const Condition condition = key_of(r.condition, as_built(entry));
    const auto draws = without_nan(predictions.at(condition, r.point));
    if (sets_the_water(r.point)) {
      judged.set_aside = base::Message{"reading.sets_the_water"};
    } else if (draws.size() < kLeastDraws) {
      judged.set_aside = no_prediction(r);
    } else {
      judged.set_aside = reason_to_set_aside(
          r, entry, without_nan(predictions.at(condition, Point::kProductFlow)));
    }
    // Of two readings in one state the later one counts: the first is how it was found.
    const bool again = std::any_of(readings.begin() + static_cast<std::ptrdiff_t>(i) + 1,
                                   readings.end(),
                                   [&](const ReadingEntry& later) {
                                     return later.point == r.point &&
                                            key_of(later.condition, as_built(entry)) == condition;
                                   });
    if (!judged.set_aside && again) judged.set_aside = base::Message{"reading.read_again"};
    if (!judged.set_aside) judged.judgement = judge_reading(likely_readings(draws, r), r);
    out.readings.push_back(std::move(judged));
  }
}

// Remarks are due where so many readings outside their 90 % interval would come from a sound
// machine less often than this.
constexpr double kByChance = 0.1;

// P(at least k of n sound readings outside their 90 % interval), independent ones.
double probability_of_outside(int k, int n) {
  constexpr double kOutside = 1 - inference::kExpectedLevel;
  double term = std::pow(1 - kOutside, n);  // of exactly 0
  double below = 0;
  for (int i = 0; i < k; ++i) {
    below += term;
    term *= kOutside / (1 - kOutside) * (n - i) / (i + 1);
  }
  return 1 - below;
}

// One visit holds many readings, and one of many strays farther than one alone: of n, the farthest
// counts for n times its own probability. Readings that each could be may still not go together.
// The two looks, at the farthest and at all together, are two chances of a false alarm: the rarer
// of them counts twice.
double probability_of_visit(const StartUp& s) {
  double rarest = 1;
  int judged = 0;
  for (const JudgedReading& r : s.readings) {
    if (!r.judgement) continue;
    ++judged;
    const double below = r.judgement->probability_below;
    rarest = std::fmin(rarest, 2 * std::fmin(below, 1 - below));
  }
  if (judged == 0) return 1;
  return std::fmin(1.0, 2 * std::fmin(judged * rarest, s.causes.together));
}

std::vector<Point> unread_judged(const StartUp& s) {
  std::vector<ReadingEntry> judged;
  for (const JudgedReading& r : s.readings) {
    if (r.judgement) judged.push_back(r.reading);
  }
  return unread_of(judged);
}

StartUpStanding standing_of(const StartUp& s) {
  if (s.outcome != Outcome::kRuns) return StartUpStanding::kCannotRun;
  int judged = 0;
  int outside = 0;
  bool far = false;
  for (const JudgedReading& r : s.readings) {
    if (!r.judgement) continue;
    ++judged;
    if (r.judgement->fit != inference::Fit::kAsExpected) ++outside;
    far |= inference::is_far(r.judgement->fit);
  }
  if (judged == 0) return StartUpStanding::kNoReadings;
  if (s.probability < kFalseAlarms) return StartUpStanding::kNotYet;
  const bool remarks =
      s.raw_differs || far || (outside > 0 && probability_of_outside(outside, judged) < kByChance);
  return remarks ? StartUpStanding::kRemarks : StartUpStanding::kAsExpected;
}

// One row of the evidence: where and in which state.
struct Row {
  Point point;
  Condition condition;
};

void rank(const machine::Specimen& median,
          const machine::Feed& feed,
          const Condition& built,
          bool raw_is_measured,
          Predictions& predictions,
          StartUp& out) {
  std::vector<Row> rows;
  std::vector<Measured> taken;
  inference::Evidence evidence;
  for (const JudgedReading& r : out.readings) {
    if (!r.judgement) continue;
    rows.push_back({r.reading.point, key_of(r.reading.condition, built)});
    taken.push_back(measured(r.reading));
  }
  if (rows.empty()) return;
  std::vector<double> still_possible;
  // Where nothing ran there is nothing to hold a meter in.
  const auto dry = [&](Point flow) {
    for (std::size_t i = 0; i < taken.size(); ++i) {
      if (rows[i].point == flow && !(taken[i].value > 0)) return true;
    }
    return false;
  };
  const bool no_product = dry(Point::kProductFlow);
  const bool no_reject = dry(Point::kRejectFlow);
  for (const PossibleReading& p : kPossible) {
    const bool of_product = p.point == Point::kProductQuality || p.point == Point::kPermeateQuality;
    if ((of_product && no_product) || (p.point == Point::kRejectQuality && no_reject)) continue;
    const bool was_taken =
        std::any_of(rows.begin(), rows.end(), [&](const Row& row) { return row.point == p.point; });
    const bool same_as_product = p.point == Point::kPermeateQuality && !median.machine.blend;
    const bool no_pump = p.point == Point::kMembranePressure && !median.machine.pump;
    if (was_taken || same_as_product || no_pump) continue;
    rows.push_back({p.point, built});
    still_possible.push_back(p.sigma);
    evidence.minutes.push_back(p.minutes);
  }

  auto values_of = [&](const machine::Specimen& s) {
    std::vector<std::pair<Condition, PointValues>> known;
    std::vector<double> values;
    for (const Row& row : rows) {
      auto found = std::find_if(
          known.begin(), known.end(), [&](const auto& k) { return k.first == row.condition; });
      if (found == known.end()) {
        known.emplace_back(row.condition, values_at(s, feed, row.condition));
        found = known.end() - 1;
      }
      values.push_back(found->second[index_of(row.point)]);
    }
    return values;
  };
  const std::vector<double> sound = values_of(median);
  for (const double v : sound) {
    if (std::isnan(v)) return;  // the machine as described does not run
  }
  auto observables = [&](const std::vector<double>& values) {
    std::vector<double> result;
    for (std::size_t i = 0; i < values.size(); ++i) {
      result.push_back(observable(rows[i].point, values[i], sound[i]));
    }
    return result;
  };
  for (std::size_t i = 0; i < taken.size(); ++i) {
    const Measured m = observed(rows[i].point, taken[i], sound[i]);
    evidence.readings.push_back(m.value);
    evidence.sigma.push_back(m.sigma);
  }
  evidence.sigma.insert(evidence.sigma.end(), still_possible.begin(), still_possible.end());
  const std::vector<double> sound_observables = observables(sound);

  std::vector<std::vector<double>> columns;
  for (const Row& row : rows) columns.push_back(predictions.at(row.condition, row.point));
  for (std::size_t k = 0; k < columns.front().size(); ++k) {
    std::vector<double> draw;
    for (const auto& column : columns) draw.push_back(column[k]);
    const bool whole =
        std::none_of(draw.begin(), draw.end(), [](double x) { return std::isnan(x); });
    if (whole) evidence.draws.push_back(observables(draw));
  }
  if (evidence.draws.size() < kLeastDraws) return;

  std::vector<inference::Cause> causes;
  for (const CauseRow& row : cause_rows()) {
    if (row.parameter == Parameter::kFeedSalt && raw_is_measured) continue;
    inference::Cause cause{.id = row.id, .prior = row.prior};
    double moved = 0;
    for (const double degree : row.degrees) {
      const auto values = observables(values_of(with_fault(median, row, degree)));
      std::vector<double> shift;
      for (std::size_t i = 0; i < values.size(); ++i) {
        shift.push_back(values[i] - sound_observables[i]);
        moved = std::fmax(moved, std::fabs(shift.back()));
      }
      cause.shifts.push_back(std::move(shift));
    }
    // A part that this machine does not have moves nothing.
    if (moved > 1e-9) causes.push_back(std::move(cause));
  }
  out.causes = inference::rank_causes(evidence, causes);
  if (out.causes.next.observable >= 0) {
    out.next_point = rows[static_cast<std::size_t>(out.causes.next.observable)].point;
  }
}

// The feed as each of the survey's waters would have it, at the strength of the day. The osmotic
// curve stays that of their mean: proportions hardly move it at one strength.
std::vector<machine::Feed> likely_feeds(const SurveyedWater& surveyed,
                                        const DaysWater& day,
                                        const machine::MachineEntry& entry,
                                        const machine::Feed& feed) {
  if (surveyed.members.size() == 1) return {feed};
  const double strength =
      water::total_molar(day.raw.composition).si() / water::total_molar(surveyed.composition).si();
  std::vector<machine::Feed> feeds;
  for (const water::Composition& member : surveyed.members) {
    machine::RawWater raw = day.raw;
    raw.composition = water::scaled(member, strength);
    feeds.push_back(machine::feed_of(raw, entry));
    feeds.back().water = feed.water;
  }
  return feeds;
}

// The same machines, on the water of the day.
std::vector<machine::Specimen> on_another_day(std::span<const machine::Specimen> own,
                                              const machine::MachineEntry& entry,
                                              const machine::RawWater& raw,
                                              const machine::Feed& feed,
                                              std::uint64_t seed) {
  std::vector<std::vector<double>> chances;
  for (const machine::Specimen& s : own) {
    numerics::Random random(numerics::splitmix64(seed), chances.size());
    std::vector<double> chance = s.chance;
    for (std::size_t i = 0; i < machine::kDayNumbers; ++i) chance[s.days + i] = random.normal();
    chances.push_back(std::move(chance));
  }
  std::vector<machine::Specimen> out;
  for (auto& specimen : machine::specimens_of(entry, raw, feed, chances)) {
    if (specimen) out.push_back(*std::move(specimen));
  }
  return out;
}

}  // namespace

std::optional<inference::Interval> expected_of(std::vector<double> draws) {
  draws = without_nan(std::move(draws));
  if (draws.size() < kLeastDraws) return std::nullopt;
  return inference::predicted_interval(draws, 0, inference::kExpectedLevel);
}

std::string_view part_of_cause(std::string_view cause) {
  for (const CauseRow& row : cause_rows()) {
    if (row.id == cause) return row.part;
  }
  return {};
}

inference::Judgement judge_reading(std::span<const double> likely, const ReadingEntry& reading) {
  auto judgement = inference::judge(likely, expected_sigma(likely, reading), reading.value);
  judgement.expected = bounded(judgement.expected, reading.point);
  return judgement;
}

std::vector<Point> unread_of(std::span<const ReadingEntry> readings) {
  const auto read = [&](Point point) {
    return std::any_of(readings.begin(), readings.end(), [point](const ReadingEntry& r) {
      return r.point == point;
    });
  };
  std::vector<Point> out;
  if (!read(Point::kProductFlow)) out.push_back(Point::kProductFlow);
  if (!read(Point::kProductQuality) && !read(Point::kPermeateQuality)) {
    out.push_back(Point::kProductQuality);
  }
  return out;
}

base::Result<StartUp> judge_start_up(const SurveyEntry& survey,
                                     const machine::MachineEntry& entry,
                                     std::span<const ReadingEntry> readings,
                                     const Sampling& sampling,
                                     std::span<const ReadingEntry> asked,
                                     std::span<const machine::Specimen> own) {
  TRY(const SurveyedWater surveyed, surveyed_water(survey));
  const auto day = water_of_the_day(surveyed, readings);
  const auto& raw = day.raw;
  const auto feed = machine::feed_of(raw, entry);
  const auto median = machine::nominal(entry, feed);
  if (median.status != membrane::RatingStatus::kFound) {
    return base::Error{base::ErrorKind::kData, {"error.rating.contradicts"}};
  }

  StartUp out;
  out.raw = raw;
  out.raw_differs = day.differs;
  out.surveyed = surveyed_conductivity(surveyed);
  out.assumed = machine::assumed(entry);
  const Condition built = as_built(entry);
  const auto built_median = in_condition(median.specimen.machine, built);
  out.median = machine::operating_point(built_median, feed.water, median.specimen.parameters);
  out.median_machine = built_median;
  out.median_temperature = raw.temperature;
  out.outcome = out.median.outcome;

  const auto specimens = own.empty()
                             ? machine::specimens(entry, raw, feed, sampling.seed, sampling.draws)
                             : on_another_day(own, entry, raw, feed, sampling.seed);
  const auto feeds = likely_feeds(surveyed, day, entry, feed);
  std::vector<double> recovery, by_ppm, by_mass, permeate_by_mass;
  int over_pressure = 0, holds = 0, hunts = 0;
  std::vector<machine::Specimen> running;
  for (const auto& s : specimens) {
    const auto p =
        machine::operating_point(in_condition(s.machine, built), feed.water, s.parameters);
    switch (low_switch_of(entry, s, feed, p).state) {
      case transients::LowSwitch::kFine:
        break;
      case transients::LowSwitch::kHolds:
        ++holds;
        break;
      case transients::LowSwitch::kHunts:
        ++hunts;
        break;
    }
    if (!machine::makes_product(p.outcome)) continue;
    if (p.outcome == Outcome::kOverPressure) ++over_pressure;
    running.push_back(s);
    const auto streams = machine::streams_at(
        s, in_condition(s.machine, built), feeds[out.streams.size() % feeds.size()], p);
    recovery.push_back(p.recovery);
    by_ppm.push_back(1 -
                     water::conductivity_25(streams.product) / water::conductivity_25(streams.raw));
    by_mass.push_back(1 - water::total_dissolved(streams.product) /
                              water::total_dissolved(streams.raw));
    permeate_by_mass.push_back(1 - water::total_dissolved(streams.permeate) /
                                       water::total_dissolved(streams.raw));
    out.streams.push_back(streams);
  }
  const auto share = [](auto part, auto whole) {
    return whole == 0 ? 0.0 : static_cast<double>(part) / static_cast<double>(whole);
  };
  // A drawn plate that contradicts itself is no machine that runs.
  const auto drawn = own.empty() ? static_cast<std::size_t>(sampling.draws) : own.size();
  out.runs_share = share(running.size(), drawn);
  out.over_pressure_share = share(over_pressure, running.size());
  out.low_switch = {.holds = share(holds, drawn),
                    .hunts = share(hunts, drawn),
                    .cycle = low_switch_of(entry, median.specimen, feed, out.median).cycle};
  if (out.streams.size() < kLeastDraws) {
    out.standing = StartUpStanding::kCannotRun;
    for (std::size_t i = 0; i < readings.size(); ++i) {
      out.readings.push_back({.index = i,
                              .reading = readings[i],
                              .set_aside = sets_the_water(readings[i].point)
                                               ? base::Message{"reading.sets_the_water"}
                                               : no_prediction(readings[i])});
    }
    return out;
  }
  out.recovery = inference::predicted_interval(recovery, 0, inference::kExpectedLevel);
  out.reduction_ppm = inference::predicted_interval(by_ppm, 0, inference::kExpectedLevel);
  out.reduction_mass = inference::predicted_interval(by_mass, 0, inference::kExpectedLevel);
  out.permeate_reduction_mass =
      inference::predicted_interval(permeate_by_mass, 0, inference::kExpectedLevel);

  Predictions predictions(feed, std::move(running));
  for (int i = 0; i < machine::kPointCount; ++i) {
    const auto point = static_cast<Point>(i);
    if (auto band = expected_of(predictions.at(built, point))) {
      // Water that runs is not ice.
      if (point == Point::kTemperature) {
        band->low = std::fmax(band->low, units::celsius(0).si());
      }
      out.expected.push_back({point, *band});
    }
  }
  forecast_readings(asked, built, predictions, out);
  judge_readings(readings, entry, predictions, out);
  const bool raw_is_measured =
      std::any_of(readings.begin(), readings.end(), [](const ReadingEntry& r) {
        return r.point == Point::kRawQuality;
      });
  rank(median.specimen, feed, built, raw_is_measured, predictions, out);
  out.probability = probability_of_visit(out);
  out.standing = standing_of(out);
  out.unread = unread_judged(out);
  return out;
}

std::optional<plumbing::GapStanding> blend_gap(const StartUp& start_up) {
  const auto& blend = start_up.median_machine.blend;
  const auto& p = start_up.median;
  if (!blend || !(p.blend_flow > 0)) return std::nullopt;
  const double source = blend->pressurised ? p.membrane_pressure : p.filtered_pressure;
  return plumbing::GapStanding{
      .gap = plumbing::gap_for(
          {.flow = units::VolumeFlow(p.blend_flow),
           .difference = units::Pressure(source - p.tee_pressure - blend->check_valve.si()),
           .temperature = start_up.median_temperature})};
}

std::optional<base::Message> blend_caution(const StartUp& start_up) {
  const auto standing = blend_gap(start_up);
  if (!standing || !plumbing::too_fine_to_hold(*standing)) return std::nullopt;
  return base::Message{"caution.blend_too_fine",
                       {{"gap", base::Number{standing->gap.si() * 1e6, "µm", 2}}}};
}

std::optional<base::Message> voltage_caution(const machine::MachineEntry& entry) {
  constexpr double kMostLost = 0.1;
  if (!entry.pump || !entry.pump->voltage || !entry.pump->plate_voltage) return std::nullopt;
  const units::Voltage read = *entry.pump->voltage;
  const units::Voltage plate = *entry.pump->plate_voltage;
  // As typed: 21.6 V of 24 V is a tenth, whatever the last bit says.
  constexpr double kRounding = 1e-9;
  if (read / plate > 1 - kMostLost - kRounding) return std::nullopt;
  const auto shown = [](units::Voltage v) {
    return base::Number{v / units::volt(1), "V", messages::digits_of(v / units::volt(1))};
  };
  return base::Message{"caution.pump_voltage", {{"read", shown(read)}, {"plate", shown(plate)}}};
}

JudgedWater judged_water(const SurveyedWater& surveyed,
                         const machine::MachineEntry& entry,
                         const StartUp& start_up) {
  std::vector<Made> made;
  made.reserve(start_up.streams.size());
  for (const machine::Streams& s : start_up.streams) made.push_back({s.raw, s.product});
  const bool runs = !made.empty() && start_up.recovery.middle > 0;
  JudgedWater out = judged_water(surveyed, start_up.raw.composition, std::move(made));
  if (runs) out.recovery = start_up.recovery.middle;
  for (const Expectation& e : start_up.expected) {
    if (!runs || e.point != Point::kProductFlow) continue;
    out.unit = UnitFlow{.low = units::VolumeFlow(e.expected.low),
                        .high = units::VolumeFlow(e.expected.high),
                        .electric = entry.pump || entry.solenoid};
  }
  return out;
}

}  // namespace drawoff::visit
