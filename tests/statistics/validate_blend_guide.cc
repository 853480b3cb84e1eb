// Simulated metering valves, set by the guide and by hand: how many waits it takes, whether valves
// that cannot be set are told, whether advice ever exceeds what is permitted, whether "done" is
// true.
//
// The simulator knows nothing of the guide's family of valves: three characteristics, a supply that
// gives way to what the blend takes, a permeate that yields to it, play, tube and mixed volume, a
// permeate that settles, a meter that errs within what it was bought for and rounds.
#include <algorithm>
#include <array>
#include <boost/math/distributions/binomial.hpp>
#include <cmath>
#include <string>
#include <vector>

#include "numerics/random.h"
#include "support/section.h"
#include "visit/blend_guide.h"

namespace drawoff {
namespace {

using visit::BlendGuide;
using visit::BlendSetting;
using visit::BlendStanding;

constexpr std::uint64_t kSeed = 20261130;
constexpr int kMostTries = 8;
constexpr int kKnownAfter = 3;  // waits
constexpr int kMostByHand = 60;
constexpr double kBreath = 0.01;     // of the blend's flow, from reading to reading
constexpr double kMostStick = 0.01;  // of travel
constexpr double kEighth = 1.0 / 8;

enum class Kind { kLinear, kEqualPercentage, kQuickOpening };
constexpr std::array kKindNames{"linear", "equal percentage", "quick opening"};

// What is true of one unit. Flows are shares of the permeate's with the blend shut, qualities ppm
// of the half scale, times minutes.
struct Unit {
  Kind kind = Kind::kLinear;
  double power = 0.5;  // of a quick opening valve; 0: 1 − (1 − n)²
  double range = 30;   // of an equal percentage valve: flow open over flow cracked
  double capacity = 1;
  double play = 0;
  double stick = 0;  // share of travel by which the needle stops short or slips past
  double turns = 5;
  double yields = 0;     // of the pressure, to the flow that the blend takes
  double gives_way = 0;  // of the permeate, to the same
  double raw = 600;
  double permeate = 20;
  double settling = 0;
  double settles_in = 5;
  double running = 10;
  double lag = 4;
  double dead = 0.2;  // share of the lag that is plain tube
  double gain = 1;
  double offset = 0;
  double digit = 1;
  double bound_share = 0.02;
  double bound_fixed = 2;
};

double area(const Unit& u, double needle) {
  if (needle < 1e-9) return 0;
  switch (u.kind) {
    case Kind::kLinear:
      return needle;
    case Kind::kEqualPercentage:
      // Below a hundredth of its travel the needle closes in proportion.
      return needle < 0.01 ? needle / 0.01 * std::pow(u.range, 0.01 - 1)
                           : std::pow(u.range, needle - 1);
    case Kind::kQuickOpening:
      return u.power > 0 ? std::pow(needle, u.power) : 1 - (1 - needle) * (1 - needle);
  }
  return 0;
}

double share(const Unit& u, double needle, double wobble = 0) {
  const double open = u.capacity * area(u, needle) * (1 + wobble);
  double low = 0;
  double high = open;
  for (int i = 0; i < 60; ++i) {
    const double q = 0.5 * (low + high);
    const double pressure = 1 - u.yields * q;
    const double passes = pressure > 0 ? open * std::sqrt(pressure) : 0;
    (passes > q ? low : high) = q;
  }
  const double permeate = std::fmax(0.05, 1 - u.gives_way * low);
  return low / (low + permeate);
}

double product(const Unit& u, double needle, double permeate, double wobble = 0) {
  return permeate + share(u, needle, wobble) * (u.raw - permeate);
}

// The unit as it is worked on: where the needle is, what is in the mixed volume, the minute.
class Site {
 public:
  Site(const Unit& unit, numerics::Random& random) : u_(unit), random_(random) {
    minute_ = u_.running;
    mixed_ = permeate();
  }
  double read_raw() { return shown(u_.raw); }
  double read_product() { return shown(mixed_); }
  void turn_to(double turns) {
    const double handle = turns / u_.turns;
    needle_ = std::fmin(needle_, handle);
    needle_ = std::fmax(needle_, handle - u_.play);
    if (u_.stick > 0) needle_ += u_.stick * random_.uniform(-1, 1);
    needle_ = std::fmax(needle_, 0.0);
  }
  void wait(double minutes) {
    minute_ += minutes;
    const double through = std::fmax(0, minutes - u_.dead * u_.lag);
    const double mixing = (1 - u_.dead) * u_.lag / 3;
    const double now = product(u_, needle_, permeate(), kBreath * random_.normal());
    mixed_ = now + (mixed_ - now) * std::exp(-through / mixing);
  }
  double settled() const { return product(u_, needle_, u_.permeate); }
  double raw_share() const { return share(u_, needle_); }

 private:
  double permeate() const {
    return u_.permeate * (1 + u_.settling * std::exp(-minute_ / u_.settles_in));
  }
  double shown(double truth) const {
    return std::fmax(0, std::round((u_.gain * truth + u_.offset) / u_.digit) * u_.digit);
  }
  const Unit& u_;
  numerics::Random& random_;
  double needle_ = 0;
  double mixed_ = 0;
  double minute_ = 0;
};

Unit any_unit(numerics::Random& random) {
  Unit u;
  u.kind = static_cast<Kind>(random.below(3));
  u.power = random.chance(0.5) ? 0.5 : 0;
  u.range = random.uniform(20, 50);
  u.capacity = 0.1 * std::pow(200, random.uniform());
  u.play = random.uniform(0, 0.03);
  u.turns = std::round(random.uniform(3, 10));
  u.yields = random.uniform(0, 0.05);
  u.gives_way = random.uniform(0, 0.05);
  u.raw = 150 * std::pow(8, random.uniform());
  u.permeate = std::fmin(40, u.raw * random.uniform(0.02, 0.1));
  u.settling = random.chance(0.5) ? random.uniform(0, 0.8) : 0;
  u.settles_in = random.uniform(2, 12);
  u.running = random.uniform(3, 20);
  u.lag = random.uniform(2, 12);
  u.dead = random.uniform(0, 0.4);
  // Pens as bought: ±1 % and 1 digit, ±2 % and 2 digits, and by tens of µS/cm: ±2 % of 999.
  switch (random.below(4)) {
    case 0:
      u.bound_share = 0.01;
      u.bound_fixed = 1;
      break;
    case 1:
      u.bound_share = 0;
      u.bound_fixed = 0.01 * 999;
      break;
    default:
      break;
  }
  u.gain = 1 + u.bound_share * random.uniform(-1, 1);
  u.offset = u.bound_fixed * random.uniform(-1, 1);
  return u;
}

// What the technician knows of it.
BlendSetting setting_of(const Unit& u, numerics::Random& random) {
  BlendSetting s;
  s.meter = {.share_of_reading = u.bound_share, .last_digit = u.digit};
  if (u.bound_share > 0) {
    s.meter.digits = u.bound_fixed / u.digit;
  } else {
    s.meter.full_scale = 999;
    s.meter.share_of_full_scale = u.bound_fixed / 999;
  }
  s.turns_open = u.turns;
  if (random.chance(0.5)) s.running = units::Time(60 * u.running);
  s.lag = units::Time(60 * u.lag * random.uniform(0.8, 1.25));
  if (random.chance(1.0 / 3)) {
    const double top = (s.high - u.permeate) / (u.raw - u.permeate);
    s.highest_share = std::fmin(1.0, 0.9 * top * std::pow(1 / (0.9 * top), random.uniform()));
  }
  return s;
}

// Some position on the grid, approached by opening from shut, puts the product inside.
bool settable(const Unit& u, const BlendSetting& s) {
  for (int p = 1; p <= std::lround(u.turns / visit::kFinestTurn); ++p) {
    const double needle = std::fmax(0, p * visit::kFinestTurn / u.turns - u.play);
    const double c = product(u, needle, u.permeate);
    if (c >= s.low && c <= s.high && share(u, needle) <= s.highest_share) return true;
  }
  return false;
}

struct Run {
  BlendStanding end = BlendStanding::kTurn;
  int waits = 0;
  int advices = 0;  // positions
  int beyond = 0;   // of those, with more raw water than is permitted
  int least = 0;    // the same of least turns that are made though they may exceed it
  int least_beyond = 0;
  double product = 0;
  double share = 0;
};

Run guided(const Unit& u, BlendSetting s, std::uint64_t seed, numerics::Random random) {
  Site site(u, random);
  s.raw = site.read_raw();
  s.permeate = site.read_product();
  Run run;
  for (; run.waits <= kMostTries; ++run.waits) {
    const BlendGuide g = visit::blend_guide(s, seed);
    run.end = g.standing;
    run.product = site.settled();
    run.share = site.raw_share();
    if (g.standing != BlendStanding::kTurn && g.standing != BlendStanding::kWait) break;
    if (g.standing == BlendStanding::kTurn) {
      if (g.back_to) site.turn_to(*g.back_to);
      site.turn_to(g.to);
      ++(g.trial ? run.least : run.advices);
      (g.trial ? run.least_beyond : run.beyond) += site.raw_share() > s.highest_share ? 1 : 0;
    }
    site.wait(g.wait.si() / 60);
    const double handle = g.standing == BlendStanding::kTurn ? g.to : s.readings.back().turns;
    s.readings.push_back({.turns = handle, .product = site.read_product(), .waited = g.wait});
  }
  return run;
}

// Turn an eighth, wait, repeat; back by a sixteenth when it is too much.
Run by_hand(const Unit& u, const BlendSetting& s, numerics::Random random) {
  Site site(u, random);
  Run run;
  double turns = 0;
  for (; run.waits < kMostByHand; ++run.waits) {
    const double shown = site.read_product();
    run.product = site.settled();
    run.share = site.raw_share();
    if (shown >= s.low && shown <= s.high) {
      run.end = BlendStanding::kDone;
      break;
    }
    turns += shown < s.low ? kEighth : -visit::kFinestTurn;
    if (turns > u.turns || turns <= 0) break;
    site.turn_to(turns);
    ++run.advices;
    run.beyond += site.raw_share() > s.highest_share ? 1 : 0;
    site.wait(s.lag.si() / 60);
  }
  return run;
}

// Whether so many of `all` are too few for a share p, at 1 % (binomial).
bool too_few(int count, int all, double p) {
  return all > 0 && boost::math::cdf(boost::math::binomial(all, p), count) < 0.01;
}
bool too_many(int count, int all, double p) {
  return count > 0 && all > 0 &&
         boost::math::cdf(boost::math::complement(boost::math::binomial(all, p), count - 1)) < 0.01;
}

bool is_set(BlendStanding end) {
  return end == BlendStanding::kDone || end == BlendStanding::kNearest;
}
bool is_set_surely(BlendStanding end) { return end == BlendStanding::kDone; }
bool told_off(BlendStanding end) {
  return !is_set(end) && end != BlendStanding::kTurn && end != BlendStanding::kWait;
}

constexpr int kNever = 1000;  // waits of what was not set

struct Tally {
  std::string name;
  int all = 0;
  std::vector<int> waits;
  std::vector<int> by_hand;

  void add(const Run& guide, const Run& hand) {
    ++all;
    waits.push_back(is_set(guide.end) ? guide.waits : kNever);
    by_hand.push_back(is_set(hand.end) ? hand.waits : kNever);
  }
};
std::string waits_of(std::vector<int> waits, double p) {
  if (waits.empty()) return "–";
  std::sort(waits.begin(), waits.end());
  const auto at = static_cast<std::size_t>(std::ceil(p * static_cast<double>(waits.size()))) - 1;
  return waits[at] == kNever ? "not set" : std::to_string(waits[at]);
}
int within(const std::vector<int>& waits, int most) {
  return static_cast<int>(
      std::count_if(waits.begin(), waits.end(), [&](int w) { return w <= most; }));
}
double per_cent(int count, int all) { return all > 0 ? 100.0 * count / all : 0; }

// Of the settings that were called done.
struct Settings {
  int all = 0;
  int outside = 0;  // the true product, of the window
  int far = 0;      // by more than the tolerance
  int beyond = 0;   // with more raw water than is permitted

  void add(const Unit& u, const BlendSetting& s, const Run& r) {
    // What the meter may err as bought, half its last digit, and twice what the supply breathes.
    const double tolerance = u.bound_share * r.product + u.bound_fixed + 0.5 * u.digit +
                             2 * kBreath * (r.product - u.permeate);
    ++all;
    outside += r.product < s.low || r.product > s.high ? 1 : 0;
    far += r.product < s.low - tolerance || r.product > s.high + tolerance ? 1 : 0;
    beyond += r.share > s.highest_share ? 1 : 0;
  }
  void write(support::Section& section, const char* name) const {
    section.line("| {} | {} | {} ({:.1f} %) | {} | {} |",
                 name,
                 all,
                 outside,
                 per_cent(outside, all),
                 far,
                 beyond);
  }
};

// The same valves where they stick and slip: the guide does not know of it, and must not be fooled.
void sticking(int units, support::Section& section) {
  int set = 0;
  int told = 0;
  Settings done;
  for (int i = 0; i < units; ++i) {
    numerics::Random random(kSeed + 1, static_cast<std::uint64_t>(i));
    Unit u = any_unit(random);
    u.stick = random.uniform(0, kMostStick);
    const BlendSetting s = setting_of(u, random);
    const Run r = guided(u, s, 7919 * (static_cast<std::uint64_t>(i) + 1), random);
    set += is_set(r.end) ? 1 : 0;
    told += told_off(r.end) ? 1 : 0;
    if (is_set(r.end)) done.add(u, s, r);
  }
  section.line(
      "Of {} valves whose needle stops up to {:.1f} % of its travel short or past {} were set and "
      "{} "
      "told to be left shut; of those set {} were further outside than the tolerance, {} beyond "
      "the "
      "permitted share.\n",
      units,
      100 * kMostStick,
      set,
      told,
      done.far,
      done.beyond);
  section.demand(done.far == 0, "sticking: never done further outside than the tolerance");
  section.demand(
      !too_many(done.beyond, done.all, visit::kOverLeft),
      "sticking: left beyond the permitted share no oftener than stated (binomial, 1 %)");
}

int run(bool full) {
  const int units = full ? 1000 : 100;
  support::Section section("The blend guide on simulated valves");
  section.line(
      "Seed {}, {} units. Valves: linear, equal percentage (range 20-50), quick opening; full "
      "capacity 0.1-20 times the permeate; play 0-3 %; 3-10 turns; raw water 150-1200 ppm; half of "
      "the permeates still settle; lag 2-12 min, stated within -20/+25 %; in a third more than a "
      "share of raw water is not permitted. Pens of ±1 % and 1 digit, of ±2 % and 2 digits, a "
      "quarter of ±1 % of 999 ppm. Settable: a sixteenth of a turn exists, approached by opening, "
      "that puts the true product between 55 and 75 ppm and is permitted. By hand: open an eighth, "
      "wait, repeat; "
      "back by a sixteenth.\n",
      kSeed,
      units);
  std::array<Tally, 3> by_kind;
  for (std::size_t i = 0; i < by_kind.size(); ++i) by_kind[i].name = kKindNames[i];
  std::array<Tally, 4> by_case{Tally{.name = "no limit, finer pens"},
                               Tally{.name = "limit, finer pens"},
                               Tally{.name = "no limit, pen of ±10 ppm"},
                               Tally{.name = "limit, pen of ±10 ppm"}};
  Tally settable_ones{.name = "all that are settable"};
  Settings surely;
  Settings nearest;
  Settings hand_set;
  int others = 0;
  int others_told = 0;
  int others_set = 0;
  int advices = 0;
  int beyond = 0;
  int least = 0;
  int least_beyond = 0;
  int hand_advices = 0;
  int hand_beyond = 0;
  for (int i = 0; i < units; ++i) {
    numerics::Random random(kSeed, static_cast<std::uint64_t>(i));
    const Unit u = any_unit(random);
    const BlendSetting s = setting_of(u, random);
    const Run r = guided(u, s, 7919 * (static_cast<std::uint64_t>(i) + 1), random);
    const Run hand = by_hand(u, s, random);
    advices += r.advices;
    beyond += r.beyond;
    least += r.least;
    least_beyond += r.least_beyond;
    hand_advices += hand.advices;
    hand_beyond += hand.beyond;
    if (is_set_surely(r.end)) surely.add(u, s, r);
    if (is_set(r.end) && !is_set_surely(r.end)) nearest.add(u, s, r);
    if (is_set(hand.end)) hand_set.add(u, s, hand);
    if (settable(u, s)) {
      const std::size_t of = (s.highest_share < 1 ? 1 : 0) + (u.bound_share > 0 ? 0 : 2);
      settable_ones.add(r, hand);
      by_kind[static_cast<std::size_t>(u.kind)].add(r, hand);
      by_case[of].add(r, hand);
    } else {
      ++others;
      others_told += told_off(r.end) && r.waits <= kKnownAfter ? 1 : 0;
      // A reading that lies just inside, of a truth just outside.
      others_set += is_set(r.end) && r.waits <= kKnownAfter ? 1 : 0;
    }
  }
  section.line(
      "| settable valves | number | median waits | 90 % within | at most 2 | at most 4 | by hand: "
      "median | 90 % within |\n| --- | ---: | ---: | ---: | ---: | ---: | ---: | ---: |");
  const auto row = [&](const Tally& t) {
    section.line("| {} | {} | {} | {} | {:.1f} % | {:.1f} % | {} | {} |",
                 t.name,
                 t.all,
                 waits_of(t.waits, 0.5),
                 waits_of(t.waits, 0.9),
                 per_cent(within(t.waits, 2), t.all),
                 per_cent(within(t.waits, 4), t.all),
                 waits_of(t.by_hand, 0.5),
                 waits_of(t.by_hand, 0.9));
  };
  row(settable_ones);
  for (const Tally& t : by_kind) row(t);
  for (const Tally& t : by_case) row(t);
  section.line(
      "\n| called done | number | true product outside 55-75 | further than the tolerance | beyond "
      "the permitted share |\n| --- | ---: | ---: | ---: | ---: |");
  surely.write(section, "done");
  nearest.write(section, "as near as this meter and valve come");
  hand_set.write(section, "by hand");
  section.line(
      "\nOf {} that are not settable {} ({:.1f} %) were told so within 3 waits; {} more read just "
      "inside "
      "and were set. Of {} advised "
      "positions {} ({:.2f} %) exceeded the permitted share while the water ran to waste; of {} "
      "least turns that the guide makes though they may, {}. By hand: {} of {}.\n",
      others,
      others_told,
      per_cent(others_told, others),
      others_set,
      advices,
      beyond,
      per_cent(beyond, advices),
      least,
      least_beyond,
      hand_beyond,
      hand_advices);
  const Tally& t = settable_ones;
  section.demand(!too_few(within(t.waits, 2), t.all, 0.5),
                 "settable: at most 2 waits in the median (binomial, 1 %)");
  section.demand(!too_few(within(t.waits, 4), t.all, 0.9),
                 "settable: 90 % within 4 waits (binomial, 1 %)");
  section.demand(within(t.waits, 4) > within(t.by_hand, 4), "more within 4 waits than by hand");
  section.demand(!too_few(others_told + others_set, others, 0.95),
                 "not settable: 95 % told so, or set just outside, within 3 waits (binomial, 1 %)");
  section.demand(!too_many(beyond, advices, visit::kOverShare),
                 "advice beyond the permitted share no oftener than stated (binomial, 1 %)");
  section.demand(surely.beyond + nearest.beyond == 0, "no setting that is left is beyond it");
  section.demand(surely.far + nearest.far == 0,
                 "never done further outside than the meter's error as bought, half a digit and "
                 "the supply's breath");
  section.demand(!too_many(surely.outside, surely.all, 1 - visit::kSure),
                 "done outside the window no oftener than stated (binomial, 1 %)");
  sticking(units / 2, section);
  return section.status();
}

}  // namespace
}  // namespace drawoff

int main(int argc, char** argv) {
  return drawoff::run(drawoff::support::asked_in_full(argc, argv));
}
