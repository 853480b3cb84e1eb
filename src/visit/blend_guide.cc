#include "visit/blend_guide.h"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "numerics/random.h"
#include "numerics/sample.h"

namespace drawoff::visit {
namespace {

using inference::Interval;

constexpr double kSureNot = 0.95;
constexpr double kLikelier = 0.5;
constexpr int kKnownAfter = 3;  // waits
constexpr double kMisfit = 16;  // χ² of a reading more: four standard deviations
// A wait may leave so much of the window's width of a step; it is at most so many lags.
constexpr double kLeft = 0.1;
constexpr double kWholeWait = 0.95;  // of a lag, from where on it counts as waited
constexpr double kMostLags = 2;
constexpr double kPlayTurns = 0.03;    // of travel: turned back past it
constexpr std::size_t kOutcomes = 25;  // readings that may come, told apart
// Positions are weighed up from each so many times the one before.
constexpr double kSpacing = 1.08;
constexpr std::size_t kNear = 5;  // and the likeliest

class Guide {
 public:
  Guide(const BlendSetting& setting, std::uint64_t seed)
      : s_(setting), ratio_(half_scale(setting)), likely_(likely_valves(setting, seed)) {
    positions_ = static_cast<std::size_t>(std::lround(s_.turns_open / kFinestTurn));
  }

  BlendGuide answer() {
    const auto waits = s_.readings.size();
    if (likely_.members.empty() ||
        likely_.least_misfit > kMisfit * std::fmax(1, static_cast<double>(waits) - 1)) {
      out_.standing = BlendStanding::kDoesNotFollow;
      return out_;
    }
    tabulate();
    if (const auto standing = without_turning()) {
      out_.standing = *standing;
      return out_;
    }
    if (waits > 0) {
      describe_now();
      if (done()) {
        out_.standing = BlendStanding::kDone;
        return out_;
      }
    }
    // What has not shown yet condemns no valve.
    if (waits > 0 && too_early(waits - 1)) {
      wait_on();
      return out_;
    }
    if (const auto cannot = cannot_be_set()) {
      out_.standing = *cannot;
      return out_;
    }
    advise();
    return out_;
  }

 private:
  const std::vector<LikelyValve>& valves() const { return likely_.members; }
  double n() const { return static_cast<double>(valves().size()); }
  double turns(std::size_t position) const { return static_cast<double>(position) * kFinestTurn; }
  double handle(std::size_t position) const { return turns(position) / s_.turns_open; }
  // Approached by opening, the play taken up.
  double needle_at(const LikelyValve& v, std::size_t position) const {
    return std::fmax(0, handle(position) - v.play);
  }
  template <class F>
  double probability(F holds) const {
    return static_cast<double>(std::count_if(valves().begin(), valves().end(), holds)) / n();
  }
  bool wanted(double product) const { return product >= s_.low && product <= s_.high; }
  bool over(double share) const { return share > s_.highest_share; }

  // Rows are positions from the least turn on, columns the valves.
  void tabulate() {
    const auto all = positions_ * valves().size();
    good_.resize(all);
    exceeds_.resize(all);
    over_.assign(positions_ + 1, 0);
    settable_.assign(valves().size(), 0);
    reaches_.assign(valves().size(), 0);
    const double middle = 0.5 * (s_.low + s_.high) / ratio_;
    const double bound = inference::error_bound(accuracy_of(s_, middle), middle) * ratio_;
    const double margin = std::fmin(0.5 * bound, 0.25 * (s_.high - s_.low));
    for (std::size_t p = 1; p <= positions_; ++p) {
      double exceeding = 0;
      for (std::size_t i = 0; i < valves().size(); ++i) {
        const LikelyValve& v = valves()[i];
        const double share = share_at(v, needle_at(v, p));
        const double product = v.permeate + share * (v.raw - v.permeate);
        const bool inside = wanted(product) && !over(share);
        const double shown = v.gain * product + v.offset;
        good_[at(p, i)] =
            inside && product >= s_.low + margin && product <= s_.high - margin && wanted(shown);
        settable_[i] |= inside ? 1 : 0;
        reaches_[i] |= product >= s_.low ? 1 : 0;
        exceeds_[at(p, i)] = over(share);
        exceeding += over(share) ? 1 : 0;
      }
      over_[p] = exceeding / n();
    }
  }
  std::size_t at(std::size_t position, std::size_t valve) const {
    return (position - 1) * valves().size() + valve;
  }

  // What the two waters alone decide.
  std::optional<BlendStanding> without_turning() const {
    const auto likelier = [&](auto holds) { return probability(holds) > kLikelier; };
    if (likelier([&](const LikelyValve& v) { return v.permeate > s_.high; })) {
      return BlendStanding::kOverWithout;
    }
    if (likelier([&](const LikelyValve& v) { return v.permeate >= s_.low; })) {
      return BlendStanding::kNoneNeeded;
    }
    if (likelier([&](const LikelyValve& v) { return v.raw < s_.low; })) {
      return BlendStanding::kRawTooWeak;
    }
    if (likelier([&](const LikelyValve& v) {
          return v.permeate + s_.highest_share * (v.raw - v.permeate) < s_.low;
        })) {
      return BlendStanding::kNotPermitted;
    }
    return std::nullopt;
  }

  void describe_now() {
    std::vector<double> products;
    std::vector<double> shares;
    for (const LikelyValve& v : valves()) {
      products.push_back(product_at(v, v.needle));
      shares.push_back(share_at(v, v.needle));
    }
    out_.product = inference::predicted_interval(products, 0, inference::kExpectedLevel);
    out_.share = inference::predicted_interval(shares, 0, inference::kExpectedLevel);
    out_.inside =
        probability([&](const LikelyValve& v) { return wanted(product_at(v, v.needle)); });
    out_.over_share =
        probability([&](const LikelyValve& v) { return over(share_at(v, v.needle)); });
  }

  bool done() const {
    const double shown = s_.readings.back().product * ratio_;
    return wanted(shown) && out_.inside >= kSure && out_.over_share <= kOverLeft;
  }

  std::optional<BlendStanding> cannot_be_set() const {
    if (s_.readings.empty()) return std::nullopt;
    const int waits = whole_waits();
    const double settable =
        static_cast<double>(std::count(settable_.begin(), settable_.end(), 1)) / n();
    const double reaches =
        static_cast<double>(std::count(reaches_.begin(), reaches_.end(), 1)) / n();
    if (settable <= 1 - kSureNot || (waits >= kKnownAfter && settable < kLikelier)) {
      return reaches < kLikelier ? BlendStanding::kTooSmall : BlendStanding::kTooCoarse;
    }
    if (waits >= kMostWaits) return BlendStanding::kNotHeld;
    return std::nullopt;
  }

  // The least turn further is allowed whatever it may bring: nothing finer can be learnt.
  bool allowed(std::size_t position) const {
    if (over_[position] <= kOverShare) return true;
    if (s_.readings.empty()) return position == 1;
    const BlendReading& last = s_.readings.back();
    return last.product * ratio_ < s_.low &&
           std::fabs(turns(position) - last.turns - kFinestTurn) < 0.5 * kFinestTurn;
  }

  std::vector<std::size_t> candidates() const {
    std::vector<std::size_t> out;
    std::vector<std::size_t> likeliest;
    for (std::size_t p = 1; p <= positions_; ++p) {
      if (!allowed(p) || stands_at(p)) continue;
      likeliest.push_back(p);
      if (out.empty() || static_cast<double>(p) >= kSpacing * static_cast<double>(out.back())) {
        out.push_back(p);
      }
    }
    const std::size_t near = std::min(kNear, likeliest.size());
    std::partial_sort(likeliest.begin(),
                      likeliest.begin() + static_cast<std::ptrdiff_t>(near),
                      likeliest.end(),
                      [&](std::size_t a, std::size_t b) {
                        const double there = chance_at_once(a);
                        const double here = chance_at_once(b);
                        return there > here || (there == here && a < b);
                      });
    out.insert(out.end(), likeliest.begin(), likeliest.begin() + static_cast<std::ptrdiff_t>(near));
    return out;
  }
  bool stands_at(std::size_t position) const {
    return !s_.readings.empty() && alike(turns(position), s_.readings.back().turns);
  }
  static bool alike(double a, double b) { return std::fabs(a - b) < 0.5 * kFinestTurn; }

  // How long the handle had stood at a reading, over all readings since it was turned; none where
  // it stood still.
  std::optional<units::Time> waited_until(std::size_t reading) const {
    const BlendReading& at = s_.readings[reading];
    units::Time sum;
    for (std::size_t i = reading + 1; i-- > 0;) {
      const BlendReading& r = s_.readings[i];
      if (!alike(r.turns, at.turns) || r.turned != at.turned) break;
      if (!r.waited) return std::nullopt;
      sum = sum + *r.waited;
    }
    return sum;
  }
  bool too_early(std::size_t reading) const {
    const auto waited = waited_until(reading);
    return waited && *waited < kWholeWait * s_.lag;
  }
  // A reading that was taken too early tells, but no wait is over with it.
  int whole_waits() const {
    int waits = 0;
    for (std::size_t i = 0; i < s_.readings.size(); ++i) waits += too_early(i) ? 0 : 1;
    return waits;
  }

  double chance_at_once(std::size_t position) const {
    const auto row = good_.begin() + static_cast<std::ptrdiff_t>(at(position, 0));
    return std::accumulate(row, row + static_cast<std::ptrdiff_t>(valves().size()), 0.0) / n();
  }

  // That the wait after next settles it: with each reading that may come, by the best turn after
  // it, or by knowing that the valve cannot be set.
  double chance_by_next(std::size_t position) const {
    std::vector<std::pair<double, std::size_t>> readings;
    numerics::Random random(position);
    const double digit = accuracy_of(s_, s_.permeate).last_digit;
    const double wait = s_.lag.si() / 60;
    for (std::size_t i = 0; i < valves().size(); ++i) {
      const double shown = shown_after(valves()[i], s_, needle_at(valves()[i], position), wait);
      readings.emplace_back(shown + digit * random.uniform(-0.5, 0.5), i);
    }
    std::sort(readings.begin(), readings.end());
    double settled = 0;
    std::vector<int> counts(positions_ + 1);
    for (std::size_t k = 0; k < kOutcomes; ++k) {
      const std::size_t first = k * readings.size() / kOutcomes;
      const std::size_t last = (k + 1) * readings.size() / kOutcomes;
      int best = 0;
      for (std::size_t p = 1; p <= positions_; ++p) {
        int count = 0;
        int exceeding = 0;
        for (std::size_t r = first; r < last; ++r) {
          count += good_[at(p, readings[r].second)];
          exceeding += exceeds_[at(p, readings[r].second)];
        }
        if (count <= best) continue;
        if (p == position + 1 || exceeding <= kOverShare * static_cast<double>(last - first))
          best = count;
      }
      int hopeless = 0;
      for (std::size_t r = first; r < last; ++r) hopeless += 1 - settable_[readings[r].second];
      settled += std::max(best, hopeless);
    }
    return settled / n();
  }

  // The rest of a wait that was not over.
  void wait_on() {
    out_.standing = BlendStanding::kWait;
    out_.wait = s_.lag - *waited_until(s_.readings.size() - 1);
  }

  void advise() {
    std::size_t chosen = 0;
    double best = -1;
    double at_once = 0;
    for (const std::size_t p : candidates()) {
      at_once = std::max(at_once, chance_at_once(p));
      const double score = 0.5 * chance_at_once(p) + chance_by_next(p);
      if (score > best) {
        best = score;
        chosen = p;
      }
    }
    const bool nearest = out_.inside > kLikelier && out_.inside >= at_once;
    if (nearest && out_.over_share <= kOverLeft) {
      stay();
      return;
    }
    if (chosen == 0) {
      out_.standing = BlendStanding::kTooCoarse;
      return;
    }
    set_turn(chosen);
  }

  // Nearer it cannot be set; a reading that says otherwise is taken once more.
  void stay() {
    if (wanted(s_.readings.back().product * ratio_)) {
      out_.standing = BlendStanding::kNearest;
      return;
    }
    out_.standing = BlendStanding::kWait;
    out_.wait = s_.lag;
  }

  // Until little is left of the step that is likely: e^(−3 t/t_95) of it.
  units::Time wait_at(std::size_t position) const {
    std::vector<double> steps;
    const double before = s_.readings.empty() ? s_.permeate : s_.readings.back().product;
    for (const LikelyValve& v : valves()) {
      steps.push_back(std::fabs(product_at(v, needle_at(v, position)) - before * ratio_));
    }
    const double step = numerics::quantile(numerics::sorted(steps), 0.5);
    const double lags = std::log(std::fmax(step, 1e-9) / (kLeft * (s_.high - s_.low))) / 3;
    return std::clamp(lags, 1.0, kMostLags) * s_.lag;
  }

  void set_turn(std::size_t chosen) {
    const double stands = s_.readings.empty() ? 0 : s_.readings.back().turns;
    const bool closed = !s_.readings.empty() && s_.readings.back().turned == TurnedBy::kClosing;
    const double allowance = std::ceil(kPlayTurns * s_.turns_open / kFinestTurn + 1) * kFinestTurn;
    const double to = turns(chosen);
    out_.to = to;
    out_.wait = wait_at(chosen);
    out_.standing = BlendStanding::kTurn;
    double from = stands;
    if (to < stands || (closed && to - stands < allowance)) {
      from = std::fmax(0, std::fmin(stands, to) - allowance);
      from = std::floor(from / kFinestTurn) * kFinestTurn;  // as a hand counts
      out_.back_to = from;
    }
    out_.turn = to - from;
    out_.over_share = over_[chosen];
    out_.trial = over_[chosen] > kOverShare;
    std::vector<double> readings;
    for (const LikelyValve& v : valves()) {
      readings.push_back(shown_after(v, s_, needle_at(v, chosen), out_.wait.si() / 60));
    }
    const double digit = accuracy_of(s_, s_.permeate).last_digit;
    out_.expected =
        inference::predicted_interval(readings, digit / std::sqrt(12.0), inference::kExpectedLevel);
  }

  const BlendSetting& s_;
  double ratio_ = 1;
  LikelyValves likely_;
  std::size_t positions_ = 1;
  std::vector<unsigned char> good_;  // done there
  std::vector<unsigned char> exceeds_;
  std::vector<unsigned char> settable_;
  std::vector<unsigned char> reaches_;
  std::vector<double> over_;
  BlendGuide out_;
};

}  // namespace

BlendGuide blend_guide(const BlendSetting& setting, std::uint64_t seed) {
  return Guide(setting, seed).answer();
}

}  // namespace drawoff::visit
