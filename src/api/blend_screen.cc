#include "api/blend_screen.h"

#include <algorithm>
#include <cmath>

#include "api/blend_question.h"
#include "api/blend_words.h"
#include "api/say.h"
#include "api/solved.h"
#include "api/transient_draws.h"
#include "fields/errors.h"
#include "fields/write.h"
#include "messages/number.h"
#include "numerics/sample.h"
#include "transients/flush.h"
#include "visit/day.h"
#include "visit/questioned.h"

namespace drawoff::api {
namespace {

using base::Message;
using base::Number;
using machine::Point;
using machine::ProductVessel;
using visit::BlendStanding;

// Enough for a bound of two digits, and soon there on a phone.
constexpr int kDraws = 100;
constexpr int kLagDraws = 60;
constexpr std::uint64_t kSeed = 1;
// Of a step that may still be to come when it counts as shown.
constexpr double kLeftOfStep = 0.05;
// Longer than this a tap is no place to set a blend by (common practice, no source).
constexpr units::Time kSlowTap = units::Time(15.0 * 60);
constexpr units::Time kShortestLag = units::Time(0.2 * 60);
constexpr units::Time kLongestLag = units::Time(600.0 * 60);
constexpr std::size_t kMostTurns = 20;
constexpr int kNoNoise = 6;  // digits of what was converted

// Until a turn shows where the product is read.
struct Lags {
  units::Time tee = visit::BlendSetting().lag;
  std::optional<units::Time> tap;  // of a cooler's; none where it is the tee's, or past telling
};

base::Result<std::optional<units::Time>> lag_at(const SiteState& state, ProductVessel product_to) {
  const machine::MachineEntry& entry = state.machine->body;
  const machine::Condition condition{.product_to = product_to};
  TRY(const TransientDraws d,
      transient_draws(state.survey->body,
                      bodies_of(state.readings),
                      entry,
                      condition,
                      kLagDraws,
                      static_cast<long long>(kSeed),
                      transients::Reach::kOpenOutlet));
  std::vector<double> times;
  for (const TransientDraw& draw : d.draws) {
    const auto paths =
        transients::flush_paths(entry, condition, draw.plant, transients::Residue::kBlendChange);
    if (paths.product) times.push_back(transients::flushed(*paths.product, kLeftOfStep).time);
  }
  if (!can_tell(d) || times.size() < kLeastTransientDraws) return std::optional<units::Time>();
  const units::Time lag(numerics::quantile(numerics::sorted(times), 0.95));
  return std::optional(std::clamp(lag, kShortestLag, kLongestLag));
}

base::Result<Lags> lags_of(const SiteState& state) {
  Lags lags;
  TRY(const auto tee, lag_at(state, ProductVessel::kJug));
  if (tee) lags.tee = *tee;
  if (state.machine->body.product.vessel == ProductVessel::kCooler) {
    TRY(lags.tap, lag_at(state, ProductVessel::kCooler));
  }
  return lags;
}

// The last of this visit that tells of the raw water, and of the product with the blend shut.
const visit::ReadingEntry* last_of(const SiteState& state, auto fits) {
  const auto found = std::find_if(
      state.readings.rbegin(), state.readings.rend(), [&](const auto& r) { return fits(r.body); });
  return found == state.readings.rend() ? nullptr : &found->body;
}
bool is_raw(const visit::ReadingEntry& r) { return r.point == Point::kRawQuality; }
bool is_permeate(const visit::ReadingEntry& r) {
  return r.point == Point::kPermeateQuality ||
         (r.point == Point::kProductQuality && r.condition.blend == machine::BlendState::kShut);
}

// When a setting was begun or last turned at [s].
long long last_at_the_blend(const SiteState& state) {
  long long last = book::seconds_of({state.blend->at});
  for (const auto& turn : state.blend_turns) last = std::max(last, book::seconds_of({turn.at}));
  return last;
}

// A quality in the words of the meter that it is read with.
Number quality(double si, const visit::ReadingEntry& like) {
  const double value = messages::rounded(visit::as_shown(si, like), 2);
  return {value, std::string(visit::unit_of(like.unit).symbol), messages::digits_of(value)};
}

class Screen {
 public:
  Screen(SiteState state, const BlendGuideInput& in, const messages::Catalogue& words)
      : state_(std::move(state)), in_(in), words_(words) {}

  base::Result<BlendGuideOutput> answer() {
    const auto& entry = state_.machine->body;
    if (auto left = left_in_words(state_)) out_.left = say(*left);
    if (!entry.blend) {
      out_.stage = BlendStage::kNoBlend;
      out_.headline = say({"blend.screen.no_blend"});
      return std::move(out_);
    }
    // Of the last visit too, as the site's verdict: until it is read again nobody knows better.
    const auto readings = bodies_of(state_.readings);
    forget_other_visits();
    TRY(lags_, lags_of(state_));
    const visit::UntilEntry until = state_.blend ? state_.blend->body.until : visit::UntilEntry{};
    TRY(limit_,
        blend_limit(state_.survey->body, entry, readings, until, {.draws = kDraws, .seed = kSeed}));
    out_.shut = {.left = {.turns = 0, .permitted = limit_.today}, .advised = true};
    out_.shut.with = {machine_left(0)};
    say_limit();
    add_aims();
    add_places();
    for (const Message& m : tank_cautions(entry)) out_.cautions.push_back(say(m));
    for (const char* id : kWhileSetting) out_.cautions.push_back(say({id}));
    raw_ = last_of(state_, is_raw);
    permeate_ = last_of(state_, is_permeate);
    if (raw_ != nullptr) out_.raw = units::Conductivity(visit::measured(*raw_).value);
    if (permeate_ != nullptr)
      out_.permeate = units::Conductivity(visit::measured(*permeate_).value);
    out_.like = like();
    TRY([[maybe_unused]] const auto done, next());
    return std::move(out_);
  }

 private:
  std::string say(const Message& message) const { return messages::render(words_, message); }

  // What was read on another visit is not of this one, nor is a setting that was begun then.
  void forget_other_visits() {
    if (!in_.at) return;
    const long long now = book::seconds_of(*in_.at);
    if (visit_is_over(state_, now)) state_.readings.clear();
    if (state_.blend && !left() && now - last_at_the_blend(state_) > kVisitGap) {
      state_.blend.reset();
      state_.blend_turns.clear();
    }
  }

  // The latest setting has been left, and not been turned at since.
  bool left() const { return state_.blend_left && !blend_is_unfinished(state_); }

  // The product was read with the blend shut since then.
  bool shut_since(std::size_t order) const {
    return std::any_of(state_.readings.begin(), state_.readings.end(), [order](const auto& r) {
      return r.order > order && is_permeate(r.body);
    });
  }

  // Before the first turn of a setting: how an earlier one left the valve, also one that was never
  // finished, or how the machine is entered. Counted from there, the next turn would end elsewhere.
  bool stands_open() const {
    if (state_.blend_turns.empty() && state_.blend && shut_since(state_.blend->order)) return false;
    if (const auto turns = blend_turns_now(state_)) return *turns > 0;
    return state_.machine->body.blend->opening > 0;
  }
  // "Shut it first", where it stands open before the first turn; how far, where that is known.
  std::optional<Message> shut_first() const {
    if (!state_.blend_turns.empty() || !stands_open()) return std::nullopt;
    const auto turns = blend_turns_now(state_);
    if (!turns) return Message{"blend.screen.shut_first"};
    const std::string left = turns_in_words(own_turns(*turns), words_);
    return Message{"blend.screen.shut_first_left", {{"left", left}}};
  }

  void say_limit() {
    if (const auto m = binds(limit_)) {
      out_.limit.push_back(say(*m));
    } else {
      out_.limit.push_back(say({"blend.screen.no_limit"}));
    }
  }

  // Before anything is set: what would serve where nothing may be let back.
  void add_instead() {
    if (limit_.today > 0) return;
    for (const char* id : instead_of(BlendStanding::kNotPermitted)) out_.limit.push_back(say({id}));
  }

  void add_aims() {
    const auto add = [&](visit::Taste taste, double low, double high) {
      const std::string name(fields::name_of(taste));
      out_.aims.push_back({.taste = taste,
                           .label = say({"choice.taste." + name}),
                           .band = say(band_of(low, high, "ppm")),
                           .low = low,
                           .high = high});
    };
    const auto& local = state_.survey->body.local;
    if (local && local->blend_low) {
      add(visit::Taste::kLocal, *local->blend_low, *local->blend_high);
    }
    for (const auto& w : visit::kTasteWindows) add(w.taste, w.low, w.high);
  }

  void add_places() {
    const ProductVessel vessel = state_.machine->body.product.vessel;
    const auto add = [&](visit::SampledAt place, const char* label, units::Time lag) {
      BlendPlace p{.place = place,
                   .label = say({label}),
                   .takes = say({"blend.screen.takes", {{"wait", minutes_of(lag)}}})};
      if (lag > kSlowTap) p.slow = say({"blend.screen.slow", {{"wait", minutes_of(lag)}}});
      out_.places.push_back(std::move(p));
    };
    if (vessel == ProductVessel::kJug) {
      add(visit::SampledAt::kTee, "blend.screen.outlet", lags_.tee);
      return;
    }
    add(visit::SampledAt::kTee, "choice.sampled_at.tee", lags_.tee);
    if (lags_.tap) {
      add(visit::SampledAt::kTap, "choice.sampled_at.tap", *lags_.tap);
    } else {
      out_.places.back().slow = say({"blend.screen.only_tee"});
    }
  }

  units::Time lag() const {
    const bool tap = state_.blend && state_.blend->body.sampled_at == visit::SampledAt::kTap;
    return tap ? lags_.tap.value_or(lags_.tee) : lags_.tee;
  }

  // The meter that the person goes on with.
  visit::ReadingEntry like() const {
    visit::ReadingEntry like{.point = Point::kProductQuality};
    if (!state_.blend_turns.empty())
      like = visit::reading_of(state_.blend_turns.back().body);
    else if (permeate_ != nullptr)
      like = *permeate_;
    else if (raw_ != nullptr)
      like = *raw_;
    return {.point = Point::kProductQuality, .unit = like.unit, .instrument = like.instrument};
  }

  base::Result<base::Done> next() {
    const auto stage = [&](BlendStage at, const Message& headline) {
      out_.stage = at;
      out_.headline = say(headline);
      return base::Done{};
    };
    if (left() || !state_.blend) add_instead();
    out_.open = stands_open();
    if (left()) {
      if (const auto m = left_with_too_much(state_.blend_left->body)) out_.said.push_back(say(*m));
      return stage(BlendStage::kLeft,
                   {"blend.screen.left", {{"date", state_.blend_left->at.substr(0, 10)}}});
    }
    if (!state_.blend) {
      return stage(BlendStage::kBegin,
                   {limit_.today > 0 ? "blend.screen.begin" : "blend.screen.leave_shut"});
    }
    out_.entry = state_.blend->id;
    if (raw_ == nullptr) {
      out_.point = Point::kRawQuality;
      return stage(BlendStage::kRaw, {"blend.screen.raw"});
    }
    const bool stronger = permeate_ != nullptr && out_.raw->si() > out_.permeate->si();
    if (permeate_ == nullptr || !stronger) {
      out_.point = Point::kPermeateQuality;
      if (permeate_ != nullptr) {
        out_.said.push_back(say({"blend.screen.not_stronger",
                                 {{"raw", quality(out_.raw->si(), out_.like)},
                                  {"permeate", quality(out_.permeate->si(), out_.like)}}}));
      }
      if (const auto first = shut_first()) out_.said.push_back(say(*first));
      return stage(BlendStage::kPermeate, {"blend.screen.permeate", {{"wait", minutes_of(lag())}}});
    }
    return guide();
  }

  visit::BlendSetting setting() const {
    std::vector<visit::BlendTurnEntry> turns;
    for (const auto& turn : state_.blend_turns) turns.push_back(turn.body);
    if (turns.size() > kMostTurns) turns.erase(turns.begin(), turns.end() - kMostTurns);
    visit::BlendSetting s = visit::blend_setting(state_.blend->body, *raw_, *permeate_, turns);
    // Who turned further knows better how far it opens.
    for (const auto& turn : turns) s.turns_open = std::fmax(s.turns_open, turn.turns);
    s.lag = lag();
    s.highest_share = limit_.today;
    if (state_.machine->body.basis == machine::PlatesBasis::kPlates) s.capacity = capacity_;
    return s;
  }

  base::Result<base::Done> guide() {
    out_.stage = BlendStage::kGuide;
    TRY(const visit::SurveyedWater surveyed, visit::surveyed_water(state_.survey->body));
    const auto day = visit::water_of_the_day(surveyed, bodies_of(state_.readings));
    capacity_ = visit::capacity_by_plates(state_.machine->body, day.raw);
    const BlendInput asked{.setting = setting()};
    Working unasked(false);
    TRY(const BlendOutput told, ask_blend(asked, unasked, words_));
    const bool acts =
        told.standing == BlendStanding::kTurn || told.standing == BlendStanding::kWait;
    out_.shut.left.standing = told.standing;
    for (const auto& turn : state_.blend_turns) say_turn(turn.body);
    if (!state_.blend_turns.empty()) {
      out_.turned_at = state_.blend_turns.back().at;
      add_leave(told);
    }
    if (acts) {
      act(told, asked.setting);
      say_what_is_wanted(told);
    } else {
      out_.headline = told.said;
      out_.said = told.instead;
    }
    if (raw_->instrument.name != out_.like.instrument.name ||
        permeate_->instrument.name != out_.like.instrument.name) {
      out_.said.push_back(say({"blend.screen.other_meter"}));
    }
    return base::Done{};
  }

  void say_what_is_wanted(const BlendOutput& told) {
    const visit::BlendWorkEntry& work = state_.blend->body;
    out_.said.push_back(say({"blend.screen.wanted",
                             {{"low", Number{work.low, "", messages::digits_of(work.low)}},
                              {"high", Number{work.high, "ppm", messages::digits_of(work.high)}},
                              {"least", Number{told.wanted_share.low, "", 2}},
                              {"most", Number{told.wanted_share.high, "%", 2}}}}));
  }

  void say_turn(const visit::BlendTurnEntry& turn) {
    const visit::ReadingEntry reading = visit::reading_of(turn);
    Message m{
        "blend.screen.turn",
        {{"turns", turns_in_words(own_turns(turn.turns), words_)}, {"value", number_of(reading)}}};
    if (turn.shown) {
      m.id =
          visit::outside_shown(reading) ? "blend.screen.turn_outside" : "blend.screen.turn_inside";
    }
    out_.turns.push_back(say(m));
  }

  void act(const BlendOutput& told, const visit::BlendSetting& setting) {
    BlendAct a{.wait = whole_minutes(told.wait.value_or(lag()))};
    const auto in_words = [&](double turns) {
      return turns_in_words(advised_turns(turns), words_);
    };
    const Message then{"blend.screen.then", {{"wait", minutes_of(a.wait)}}};
    if (told.standing == BlendStanding::kWait) {
      a.turns = state_.blend_turns.back().body.turns;
      a.stays = true;
      a.what = say({"blend.screen.wait"});
    } else {
      a.turns = *told.to;
      const bool back = told.back_to.has_value();
      const bool from_shut = back ? *told.back_to == 0 : state_.blend_turns.empty();
      Message m{from_shut ? (back ? "blend.screen.shut_then_open" : "blend.screen.open_from_shut")
                : back    ? "blend.screen.back_then_open"
                          : "blend.screen.open",
                {{"turn", in_words(*told.turn)}, {"to", in_words(*told.to)}}};
      if (back) m.arguments.emplace_back("back", in_words(*told.back_to));
      a.what = say(m);
      if (const auto first = shut_first()) a.what = say(*first) + " " + a.what;
    }
    a.then = say(then);
    if (told.expected) {
      // As the display counts, so that nothing is outside of what was said.
      const double digit = visit::accuracy_of(setting, told.expected->middle).last_digit;
      const double low = digit * std::floor(told.expected->low / digit);
      const double high = digit * std::ceil(told.expected->high / digit);
      a.band = visit::ShownBand{
          .low = low, .high = high, .unit = out_.like.unit, .engine = std::string(kEngineVersion)};
      a.expected = say({"blend.screen.expected",
                        {{"low", Number{low, "", messages::digits_of(low)}},
                         {"high",
                          Number{high,
                                 std::string(visit::unit_of(out_.like.unit).symbol),
                                 messages::digits_of(high)}}}});
    }
    out_.headline = a.what;
    out_.act = std::move(a);
  }

  void add_leave(const BlendOutput& told) {
    const visit::BlendTurnEntry& last = state_.blend_turns.back().body;
    const double now = visit::measured(visit::reading_of(last)).value;
    const double share =
        std::clamp((now - out_.permeate->si()) / (out_.raw->si() - out_.permeate->si()), 0.0, 1.0);
    BlendLeave leave{.left = {.turns = last.turns,
                              .value = last.value,
                              .unit = last.unit,
                              .instrument = last.instrument,
                              .standing = told.standing,
                              .share = share,
                              .permitted = limit_.today}};
    leave.advised = visit::left_as_advised(leave.left);
    if (const auto opening = opening_of(last.turns > 0 ? share : 0)) {
      leave.with.push_back(machine_left(*opening));
    }
    if (last.turns > 0) leave.with.push_back(reading_left(last));
    out_.leave = std::move(leave);
  }

  // At which the plates give that share, no further than full open; none where they say nothing.
  std::optional<double> opening_of(double share) const {
    if (share <= 0) return 0;
    if (!capacity_) return std::nullopt;
    return share < 1 ? std::min(1.0, share / (1 - share) / *capacity_) : 1;
  }

  // The machine stands as set from then on, and its product was read so.
  BlendEntry machine_left(double opening) const {
    fields::Json body = state_.machine->written;
    body["blend"]["opening_pct"] = 100 * opening;
    return {.kind = "machine", .body = {std::move(body)}, .supersedes = state_.machine->id};
  }
  static BlendEntry reading_left(const visit::BlendTurnEntry& last) {
    visit::ReadingEntry reading = visit::reading_of(last);
    reading.condition.blend = machine::BlendState::kAsSet;
    reading.shown.reset();
    return {.kind = "reading", .body = {fields::write(reading)}};
  }

  SiteState state_;
  const BlendGuideInput& in_;
  const messages::Catalogue& words_;
  Lags lags_;
  BlendLimitOutput limit_;
  std::optional<double> capacity_;
  const visit::ReadingEntry* raw_ = nullptr;
  const visit::ReadingEntry* permeate_ = nullptr;
  BlendGuideOutput out_;
};

// The band as the meter of a reading would show it, from what `instrument` would.
visit::ShownBand on_meter(const visit::ShownBand& band,
                          const visit::InstrumentEntry& instrument,
                          const visit::ReadingEntry& reading) {
  const visit::InstrumentEntry& own = reading.instrument;
  const bool same_scale =
      band.unit == visit::ReadingUnit::kMicrosiemens ||
      (instrument.scale == own.scale && instrument.calibrated_factor == own.calibrated_factor);
  if (band.unit == reading.unit && same_scale) return band;
  visit::ReadingEntry at = reading;
  at.unit = band.unit;
  at.instrument = instrument;
  const auto shown = [&](double end) {
    at.value = end;
    return messages::rounded(visit::as_shown(visit::measured(at).value, reading), kNoNoise);
  };
  return {.low = shown(band.low),
          .high = shown(band.high),
          .unit = reading.unit,
          .engine = band.engine};
}

}  // namespace

base::Result<BlendGuideOutput> ask_blend_guide(const BlendGuideInput& in,
                                               Working& /*working*/,
                                               const messages::Catalogue& words) {
  fields::ReadContext context;
  TRY(const book::SiteFile file, book::read_site_json(in.site_file.json, context));
  TRY(SiteState state, site_state(file, context));
  if (auto lacking = lacks(state)) return *std::move(lacking);
  return Screen(std::move(state), in, words).answer();
}

base::Result<BlendReadingOutput> ask_blend_reading(const BlendReadingInput& in,
                                                   Working& /*working*/,
                                                   const messages::Catalogue& words) {
  const visit::ReadingEntry reading = visit::reading_of(in.turn);
  BlendReadingOutput out;
  std::optional<inference::Interval> expected;
  if (in.band) {
    out.band = on_meter(*in.band, in.instrument.value_or(reading.instrument), reading);
    expected = {out.band->low, 0.5 * (out.band->low + out.band->high), out.band->high};
    const char* fit = reading.value < out.band->low    ? "blend.reading.below"
                      : reading.value > out.band->high ? "blend.reading.above"
                                                       : "blend.reading.inside";
    out.outside = reading.value < out.band->low || reading.value > out.band->high;
    out.fit = messages::render(words, {fit});
  }
  const auto raw = in.raw ? std::optional(in.raw->si()) : std::nullopt;
  if (const auto m = visit::questioned(reading, expected, raw)) {
    out.question = messages::render(words, *m);
  } else if (in.permeate && visit::measured(reading).value < 0.9 * in.permeate->si()) {
    // A tenth less than without any raw water: sooner another meter or another cup.
    out.question = messages::render(
        words,
        {"blend.reading.below_permeate", {{"permeate", quality(in.permeate->si(), reading)}}});
  }
  return out;
}

}  // namespace drawoff::api
