#include "visit/blend_valve.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "fields/errors.h"
#include "numerics/random.h"

namespace drawoff {
namespace visit {
namespace {

// All common practice, no source.
constexpr double kLeastCapacity = 0.08;
constexpr double kMostCapacity = 22;
// Beyond those a capacity is the less likely, the further out: by this power of it.
constexpr double kUnusual = 2;
constexpr double kPlateSpread = 0.7;  // ln, of the capacity about what the plates have
constexpr double kMostPlay = 0.03;
constexpr double kSlowSpread = 0.2;      // ln, of the lag
constexpr double kWobble = 0.015;        // of what the blend adds: the supply breathes
constexpr double kBreath = 0.02;         // of the permeate itself, the same
constexpr double kUsuallyRunning = 10;   // [min], when the permeate is read
constexpr double kShortestSettling = 3;  // [min]
constexpr double kLongestSettling = 15;
// A reading tells the capacity where the raw water in it is so many times what blurs it.
constexpr double kTelling = 4;
// So many more draws are made until enough of them count.
constexpr int kDraws = 4000;
constexpr int kMostDraws = 64000;
constexpr double kEnough = 150;
constexpr std::size_t kMembers = 1000;

double minutes(units::Time t) { return t.si() / 60; }

// An equal percentage, a linear, a quick opening one, or anything between.
void draw_shape(LikelyValve& v, numerics::Random& random) {
  v.lift = std::exp(0.05 * random.normal());
  v.cracks_by = random.uniform(0.002, 0.02);
  switch (random.below(5)) {
    case 0:
      v.bend = 0.3 * random.normal();
      break;
    case 1:
      v.bend = random.uniform(2.8, 4.1);
      v.crack = random.chance(0.5) ? 1 : random.uniform();
      break;
    case 2:
      v.bend = random.uniform(-4, -1);
      break;
    case 3:
      v.lift = random.uniform(0.45, 0.7);
      break;
    default:
      v.bend = random.uniform(-3, 4);
      v.lift = random.uniform(0.6, 1.2);
      v.crack = v.bend > 0 ? random.uniform() : 0;
  }
}

LikelyValve drawn(const BlendSetting& s, double ratio, numerics::Random& random) {
  LikelyValve v;
  draw_shape(v, random);
  v.capacity = s.capacity
                   ? *s.capacity * std::exp(kPlateSpread * random.normal())
                   : kLeastCapacity * std::pow(kMostCapacity / kLeastCapacity, random.uniform());
  v.play = random.uniform(0, kMostPlay);
  const inference::Accuracy a = accuracy_of(s, s.permeate);
  v.gain = 1 + a.share_of_reading * random.uniform(-1, 1);
  v.offset = ratio * random.uniform(-1, 1) *
             (a.share_of_full_scale * a.full_scale + a.digits * a.last_digit);
  const double half = 0.5 * a.last_digit * ratio;
  const auto truth = [&](double shown) {
    return (shown * ratio + half * random.uniform(-1, 1) - v.offset) / v.gain;
  };
  v.raw = truth(s.raw);
  v.settling = std::pow(random.uniform(), 2);
  v.settles_in =
      kShortestSettling * std::pow(kLongestSettling / kShortestSettling, random.uniform());
  const double since = s.running ? minutes(*s.running) : kUsuallyRunning;
  v.settling *= std::exp(-since / v.settles_in);  // from here on: at the reading of the permeate
  v.permeate = truth(s.permeate) / (1 + v.settling);
  v.slowness = std::exp(kSlowSpread * random.normal());
  return v;
}

// Of the step, still to come.
double left_after(const LikelyValve& v, const BlendSetting& s, double wait) {
  return std::exp(-3 * wait / (minutes(s.lag) * v.slowness));
}

double permeate_at(const LikelyValve& v, double since) {
  return v.permeate * (1 + v.settling * std::exp(-since / v.settles_in));
}

// One reading as it weighs: what it showed, the minute, and what the display held before the turn.
struct Weighed {
  double handle = 0;
  double shown = 0;  // [ppm, half scale]
  double before = 0;
  std::optional<double> waited = std::nullopt;  // [min]
  double since = 0;
  double sigma = 0;
  TurnedBy turned = TurnedBy::kOpening;
  bool follows = false;  // turned on from where the reading before left it
};

std::vector<Weighed> weighed(const BlendSetting& s, double ratio) {
  std::vector<Weighed> out;
  double since = 0;
  double before = s.permeate * ratio;
  double handle = 0;
  for (const BlendReading& r : s.readings) {
    since += minutes(r.waited.value_or(s.lag));
    const double digit = accuracy_of(s, r.product).last_digit * ratio;
    Weighed w{.handle = r.turns / s.turns_open,
              .shown = r.product * ratio,
              .before = before,
              .since = since,
              .turned = r.turned};
    w.sigma = std::hypot(std::hypot(digit / std::sqrt(12.0), kBreath * s.permeate * ratio),
                         kWobble * (w.shown - s.permeate * ratio));
    w.follows = r.turned == TurnedBy::kOpening ? w.handle >= handle : w.handle <= handle;
    // What stood before a first turn that closed is not known: as if it stood still.
    if (r.waited && !(out.empty() && r.turned == TurnedBy::kClosing)) w.waited = minutes(*r.waited);
    before = w.shown;
    handle = w.handle;
    out.push_back(w);
  }
  return out;
}

void move(LikelyValve& v, const Weighed& w) {
  if (w.turned == TurnedBy::kOpening) {
    const double pushed = std::fmax(0, w.handle - v.play);
    v.needle = w.follows ? std::fmax(v.needle, pushed) : pushed;
  } else {
    v.needle = w.follows && v.needle > 0 ? std::fmin(v.needle, w.handle) : w.handle;
  }
}

// What the display would say is true of the product at that reading, if it errs by `error`.
struct Step {
  double rest = 0;   // of the step still to come
  double truth = 0;  // [ppm, half scale]
};
Step step_of(const LikelyValve& v, const BlendSetting& s, const Weighed& w, double error) {
  Step step{.rest = w.waited ? left_after(v, s, *w.waited) : 0};
  const double whole = (w.shown - error - step.rest * w.before) / (1 - step.rest);
  step.truth = (whole - v.offset) / v.gain;
  return step;
}

// The last reading that tells the capacity.
std::optional<std::size_t> telling(const std::vector<Weighed>& readings,
                                   const BlendSetting& s,
                                   double ratio) {
  for (std::size_t i = readings.size(); i-- > 0;) {
    const Weighed& w = readings[i];
    const double added = w.shown - s.permeate * ratio;
    if (added > kTelling * std::fmax(w.sigma, accuracy_of(s, s.permeate).last_digit * ratio) &&
        added < 0.9 * (s.raw - s.permeate) * ratio) {
      return i;
    }
  }
  return std::nullopt;
}

// Of a capacity that was solved, against others.
double log_prior(double capacity, const BlendSetting& s) {
  if (s.capacity) {
    const double off = std::log(capacity / *s.capacity) / kPlateSpread;
    return -0.5 * off * off;
  }
  const double usual = std::clamp(capacity, kLeastCapacity, kMostCapacity);
  return -kUnusual * std::fabs(std::log(capacity / usual));
}

struct Weight {
  double log = 0;
  double misfit = 0;
};

// Solves the capacity and weighs; nothing where no capacity reads like that.
std::optional<Weight> weigh(LikelyValve& v,
                            const BlendSetting& s,
                            const std::vector<Weighed>& readings,
                            std::optional<std::size_t> teller,
                            numerics::Random& random) {
  if (!(v.permeate > 0) || !(v.raw > v.permeate)) return std::nullopt;
  Weight weight;
  std::vector<double> needles;
  for (const Weighed& w : readings) {
    move(v, w);
    needles.push_back(v.needle);
  }
  if (teller) {
    const Weighed& w = readings[*teller];
    const Step step = step_of(v, s, w, w.sigma * random.normal());
    const double permeate = permeate_at(v, w.since);
    const double share = (step.truth - permeate) / (v.raw - permeate);
    const double open = characteristic(v, needles[*teller]);
    if (!(share > 0 && share < 1 && open > 0)) return std::nullopt;
    v.capacity = share / (1 - share) / open;
    weight.log = -std::log(v.gain * (v.raw - permeate) * share * (1 - share) * (1 - step.rest));
    weight.log += log_prior(v.capacity, s);
  }
  for (std::size_t i = 0; i < readings.size(); ++i) {
    if (teller && i == *teller) continue;
    const Weighed& w = readings[i];
    const double permeate = permeate_at(v, w.since);
    const double truth = permeate + share_at(v, needles[i]) * (v.raw - permeate);
    const double rest = w.waited ? left_after(v, s, *w.waited) : 0;
    const double shown = (v.gain * truth + v.offset) * (1 - rest) + rest * w.before;
    const double z = (w.shown - shown) / std::hypot(w.sigma, kWobble * (truth - permeate));
    weight.misfit += z * z;
    weight.log -= 0.5 * z * z + std::log(std::hypot(w.sigma, kWobble * (truth - permeate)));
  }
  return weight;
}

}  // namespace

double half_scale(const BlendSetting& s) {
  const water::Meter own{
      s.unit == MeterUnit::kMicrosiemens ? water::MeterScale::kMicrosiemens : s.meter.scale,
      s.meter.calibrated_factor};
  return water::meter_factor({water::MeterScale::kHalf, 0.5}) / water::meter_factor(own);
}

inference::Accuracy accuracy_of(const BlendSetting& s, double reading) {
  inference::Accuracy a = as_bought(s.meter, reading).value_or(kUsualPen);
  if (!(a.last_digit > 0)) a.last_digit = kUsualPen.last_digit;
  return a;
}

double characteristic(const LikelyValve& v, double needle) {
  if (!(needle > 0)) return 0;
  const double lifted = std::pow(std::fmin(needle, 1.0), v.lift);
  const double whole = std::expm1(v.bend) + v.crack;
  return std::fabs(v.bend) < 1e-6 && v.crack == 0
             ? lifted
             : (std::expm1(v.bend * lifted) + v.crack * std::fmin(1.0, needle / v.cracks_by)) /
                   whole;
}

double share_at(const LikelyValve& v, double needle) {
  const double k = v.capacity * characteristic(v, needle);
  return k / (1 + k);
}

double product_at(const LikelyValve& v, double needle) {
  return v.permeate + share_at(v, needle) * (v.raw - v.permeate);
}

double needle_after(const LikelyValve& v, double handle) {
  return std::fmax(std::fmin(v.needle, handle), std::fmax(0, handle - v.play));
}

LikelyValves likely_valves(const BlendSetting& s, std::uint64_t seed) {
  const double ratio = half_scale(s);
  const auto readings = weighed(s, ratio);
  const auto teller = telling(readings, s, ratio);
  std::vector<LikelyValve> draws;
  std::vector<double> logs;
  LikelyValves out;
  out.least_misfit = std::numeric_limits<double>::infinity();
  double most = -std::numeric_limits<double>::infinity();
  std::vector<double> sums;
  numerics::Random random(seed);
  for (int wanted = kDraws; wanted <= kMostDraws; wanted *= 4) {
    for (int i = wanted == kDraws ? 0 : wanted / 4; i < wanted; ++i) {
      LikelyValve v = drawn(s, ratio, random);
      const auto weight = weigh(v, s, readings, teller, random);
      if (!weight) continue;
      out.least_misfit = std::min(out.least_misfit, weight->misfit);
      most = std::max(most, weight->log);
      draws.push_back(v);
      logs.push_back(weight->log);
    }
    double sum = 0;
    double squares = 0;
    sums.clear();
    for (const double log : logs) {
      const double weight = std::exp(log - most);
      sum += weight;
      squares += weight * weight;
      sums.push_back(sum);
    }
    if (squares > 0 && sum * sum / squares >= kEnough) break;
  }
  if (draws.empty()) return out;
  for (std::size_t i = 0; i < kMembers; ++i) {
    const double at = (static_cast<double>(i) + 0.5) / kMembers * sums.back();
    const auto found = std::lower_bound(sums.begin(), sums.end(), at) - sums.begin();
    out.members.push_back(draws[static_cast<std::size_t>(found)]);
  }
  return out;
}

double minutes_since_permeate(const BlendSetting& s) {
  double since = 0;
  for (const BlendReading& r : s.readings) since += minutes(r.waited.value_or(s.lag));
  return since;
}

double shown_after(const LikelyValve& v, const BlendSetting& s, double needle, double wait) {
  const double ratio = half_scale(s);
  const double before = (s.readings.empty() ? s.permeate : s.readings.back().product) * ratio;
  const double permeate = permeate_at(v, minutes_since_permeate(s) + wait);
  const double truth = permeate + share_at(v, needle) * (v.raw - permeate);
  const double rest = left_after(v, s, wait);
  return ((v.gain * truth + v.offset) * (1 - rest) + rest * before) / ratio;
}

}  // namespace visit

namespace fields {

base::Result<base::Done> check_blend_window(double low,
                                            double high,
                                            const Path& low_path,
                                            const Path& high_path) {
  if (high >= low + visit::kLeastWindow) return base::Done{};
  return base::Error{base::ErrorKind::kData,
                     {"error.blend.window",
                      {{"path", path_argument(high_path)},
                       {"value", given_number(high, nullptr)},
                       {"other", path_argument(low_path)},
                       {"bound", given_number(low + visit::kLeastWindow, nullptr)}}}};
}

base::Result<base::Done> Table<visit::BlendSetting>::check(const T& s, const Path& path) {
  const auto refused =
      [&](const char* id, const Path& at, double value, const Path& other, double bound) {
        return base::Error{base::ErrorKind::kData,
                           {id,
                            {{"path", path_argument(at)},
                             {"value", given_number(value, nullptr)},
                             {"other", path_argument(other)},
                             {"bound", given_number(bound, nullptr)}}}};
      };
  if (s.permeate >= s.raw) {
    return refused("error.blend.permeate", path / "permeate", s.permeate, path / "raw", s.raw);
  }
  TRY([[maybe_unused]] const auto window,
      check_blend_window(s.low, s.high, path / "low_ppm", path / "high_ppm"));
  for (std::size_t i = 0; i < s.readings.size(); ++i) {
    const double turns = s.readings[i].turns;
    if (turns <= s.turns_open) continue;
    return refused("error.blend.turns",
                   (path / "readings")[i] / "turns",
                   turns,
                   path / "turns_open",
                   s.turns_open);
  }
  return base::Done{};
}

}  // namespace fields
}  // namespace drawoff
