#include <algorithm>
#include <cmath>
#include <iterator>

#include <fmt/format.h>

#include "api/blend_words.h"
#include "api/course_screen.h"
#include "api/handing_over.h"
#include "api/machine_question_fields.h"
#include "api/path_view.h"
#include "api/say.h"
#include "api/solved.h"
#include "fields/errors.h"
#include "messages/number.h"
#include "visit/questioned.h"
#include "visit/shares_read.h"
#include "water/conductivity.h"

namespace drawoff::api {

namespace {

using base::Message;
using base::Number;
using base::Ref;
using Kind = JobLine::Kind;

Ref point_name(machine::Point p) { return {visit::point_id(p)}; }

template <class E>
std::string key_of(E value) {
  return std::string(fields::name_of(value));
}

class Lines {
 public:
  void title(Message m) { add(Kind::kTitle, {std::move(m)}); }
  void heading(const char* id) { add(Kind::kHeading, {Message{id}}); }
  void text(Message m) { add(Kind::kText, {std::move(m)}); }
  void caution(Message m) { add(Kind::kCaution, {std::move(m)}); }
  void row(std::vector<Message> cells) { add(Kind::kRow, std::move(cells)); }
  void add(const std::vector<JobLine>& more) {
    lines_.insert(lines_.end(), more.begin(), more.end());
  }
  std::vector<JobLine> take() { return std::move(lines_); }

 private:
  void add(Kind kind, std::vector<Message> cells) { lines_.push_back({kind, std::move(cells)}); }
  std::vector<JobLine> lines_;
};

void say_verdict(const visit::SourceVerdict& v, fields::UnitSystem units, Lines& lines) {
  lines.heading("job.heading.verdict");
  lines.text({"job.verdict." + key_of(v.warranted)});
  for (const Message& m : v.reasons) lines.text(m);
  lines.heading("job.heading.front");
  for (const Message& m : v.pre_treatment) lines.text(m);
  if (!v.behind.empty()) lines.heading("job.heading.behind");
  for (const Message& m : v.behind) lines.text(in_units(m, units));
  if (!v.reject) return;
  lines.heading("job.heading.reject");
  for (const Message& m : v.reject->words) lines.text(m);
}

// Of causes that readings cannot tell apart, this many are named: the likeliest.
constexpr std::size_t kMostNamed = 4;

// What is less likely than this is not worth a technician's time.
constexpr double kWorthSaying = 0.05;

// Beyond this the model follows the water along the membrane less and less well
// (docs/models/machine.md), and scale forms fast (common practice, no source).
constexpr double kMostRecovery = 0.6;

// Below this nearly all of the water is wasted (common practice, no source).
constexpr double kLeastRecovery = 0.05;

// Most membranes may not be fed with warmer water (common practice, no source).
constexpr units::Temperature kWarmest = units::celsius(45);

// A share of machines above this is said as all of them.
constexpr double kAllRun = 0.99;

void say_low_switch(const visit::LowSwitchForecast& s, Lines& lines) {
  if (s.holds > kWorthSaying) {
    lines.caution({"job.low_switch_holds", {{"share", percent(s.holds)}}});
  }
  if (s.hunts > kWorthSaying) {
    lines.caution({"job.low_switch_hunts", {{"share", percent(s.hunts)}}});
    if (s.cycle) {
      lines.text({"job.low_switch_period", {{"period", Number{s.cycle->period, "s", 1}}}});
    }
  }
}

void say_outcome(const Solved& job, fields::UnitSystem units, Lines& lines) {
  const visit::StartUp& s = job.start_up;
  if (!s.expected.empty()) {
    const auto water = [&](machine::Point p) -> Number {
      const auto at = std::find_if(s.expected.begin(),
                                   s.expected.end(),
                                   [&](const visit::Expectation& x) { return x.point == p; });
      const auto like = shown_like(p, s, units);
      return {visit::as_shown(at->expected.middle, like),
              std::string(visit::unit_of(like.unit).symbol),
              3};
    };
    lines.text({"job.on_water",
                {{"raw", water(machine::Point::kRawQuality)},
                 {"temperature", water(machine::Point::kTemperature)}}});
  }
  if (s.median_temperature > kWarmest) {
    const auto like = shown_like(machine::Point::kTemperature, s, units);
    lines.caution({"job.hot_water",
                   {{"temperature",
                     Number{visit::as_shown(s.median_temperature.si(), like),
                            std::string(visit::unit_of(like.unit).symbol),
                            3}}}});
  }
  if (s.raw_differs) lines.caution(raw_differs_in_words(job.state));
  const bool all_run = s.runs_share >= kAllRun;
  if (s.outcome == machine::Outcome::kRuns && !all_run) {
    lines.text({"job.outcome.may_run", {{"share", percent(s.runs_share)}}});
  } else {
    lines.text({"job.outcome." + key_of(s.outcome)});
  }
  say_low_switch(s.low_switch, lines);
  if (s.expected.empty()) return;
  if (s.outcome != machine::Outcome::kRuns && !all_run) {
    lines.text({"job.runs_share", {{"share", percent(s.runs_share)}}});
  }
  if (s.outcome == machine::Outcome::kRuns && s.over_pressure_share > kWorthSaying) {
    lines.caution({"job.over_pressure_share", {{"share", percent(s.over_pressure_share)}}});
  }
  if (s.recovery.high > kMostRecovery) {
    lines.caution({"job.high_recovery", {{"recovery", percent(s.recovery.middle)}}});
  }
  if (s.recovery.high < kLeastRecovery) {
    lines.caution({"job.low_recovery", {{"recovery", Number{100 * s.recovery.middle, "%", 2}}}});
  }
}

// One table: what each point should show, what was read there, and how that fits.
void say_points(const Solved& job, fields::UnitSystem units, Lines& lines) {
  const visit::StartUp& s = job.start_up;
  const bool any = !s.readings.empty();
  const auto row = [&](Message where, Message expected, Message read, Message result) {
    std::vector<Message> cells{std::move(where), std::move(expected)};
    if (any) {
      cells.push_back(std::move(read));
      cells.push_back(std::move(result));
    }
    lines.row(std::move(cells));
  };
  const Message blank{"job.no_band"};
  row({"job.column.point"}, {"job.column.expected"}, {"job.column.read"}, {"job.column.fit"});
  for (const visit::Expectation& e : s.expected) {
    const bool was_read =
        std::any_of(s.readings.begin(), s.readings.end(), [&](const visit::JudgedReading& r) {
          return r.reading.point == e.point && r.judgement;
        });
    if (was_read || !worth_a_row(e.point, job.state.machine->body)) continue;
    const auto like = shown_like(e.point, s, units);
    row({visit::point_id(e.point)},
        band_of({.low = visit::as_shown(e.expected.low, like),
                 .high = visit::as_shown(e.expected.high, like)},
                like),
        blank,
        blank);
  }
  for (const visit::JudgedReading& r : s.readings) {
    const Message read{"job.reading", {{"value", number_of(r.reading)}}};
    if (r.judgement) {
      row(state_of(r.reading),
          band_of(r.judgement->expected, r.reading),
          read,
          {"fit." + key_of(r.judgement->fit)});
    } else {
      row(state_of(r.reading),
          blank,
          read,
          {r.set_aside->arguments.empty() ? r.set_aside->id : "fit.set_aside"});
    }
  }
  if (!s.expected.empty()) {
    const ShareRows shares = share_rows(s);
    for (const ShareRow& share : {shares.recovery, shares.by_meter, shares.by_mass}) {
      row({share.name}, share.expected, share.read.value_or(blank), blank);
    }
  }
}

void say_start_up(const Solved& job, fields::UnitSystem units, Lines& lines) {
  const visit::StartUp& s = job.start_up;
  lines.heading("job.heading.expected");
  say_outcome(job, units, lines);
  if (!s.expected.empty() || !s.readings.empty()) say_points(job, units, lines);
  const double raw = water::conductivity_25(s.raw.composition).si();
  for (const visit::JudgedReading& r : s.readings) {
    if (r.set_aside && !r.set_aside->arguments.empty()) lines.text(*r.set_aside);
    std::optional<inference::Interval> expected;
    if (r.judgement) expected = r.judgement->expected;
    if (r.reading.point == machine::Point::kRawQuality)
      expected = visit::as_shown(s.surveyed, r.reading);
    if (const auto m = visit::questioned(r.reading, expected, raw)) lines.caution(*m);
  }
  if (!s.assumed.empty()) {
    lines.text({"job.assumed"});
    for (const auto& path : s.assumed) lines.text(field_of_machine(path));
  }
  if (!s.expected.empty()) lines.text({"job.two_reductions"});
  if (!s.readings.empty()) lines.text(standing_of(job));
  if (auto before = standing_before(job)) lines.caution(*std::move(before));
}

// Values of which the readings took away less than this of the spread are still the plate's.
constexpr double kTold = 0.1;
// Of values known better together, this many pairs are named: the closest.
constexpr std::size_t kMostPairs = 3;

// How far the start-up has come, and what it showed beside the running machine: how long it filled,
// where it stopped, the first glass after a rest.
void say_steps(const SiteState& state, Lines& lines) {
  const auto course = begun_course(state);
  if (!course) return;
  const auto& stands = course->standings;
  const auto settled = std::count_if(
      stands.begin(), stands.end(), [](const visit::StepStanding& s) { return s.settled(); });
  lines.heading("paper.start_up");
  lines.text({"job.steps",
              {{"settled", fields::given_number(static_cast<double>(settled), nullptr)},
               {"n", fields::given_number(static_cast<double>(stands.size()), nullptr)}}});
  for (std::size_t i = 0; i < stands.size(); ++i) {
    const visit::StepStanding& step = stands[i];
    if (auto clock = clock_in_words(step)) {
      Message said{step.short_of_wait() ? "job.clock.short" : "job.clock.unused",
                   std::move(clock->arguments)};
      said.arguments.push_back({"n", fields::given_number(static_cast<double>(i + 1), nullptr)});
      said.arguments.push_back({"step", Ref{"course.name." + key_of(course->course[i].step)}});
      if (step.short_of_wait()) {
        lines.caution(std::move(said));
      } else {
        lines.text(std::move(said));
      }
    }
    for (const visit::FoundEntry& f : step.found) {
      if (visit::fit_of(f).value_or(visit::SignFit::kFits) == visit::SignFit::kFits) {
        lines.text(found_in_words(f));
      } else {
        lines.caution(found_in_words(f));
      }
    }
  }
}

void say_causes(const Solved& job, Lines& lines) {
  const visit::StartUp& s = job.start_up;
  auto causes = causes_in_words(s);
  if (causes.empty()) return;
  lines.heading("job.heading.first");
  for (Message& m : causes) lines.text(std::move(m));
  if (auto next = next_in_words(s)) lines.text(*std::move(next));
}

}  // namespace

// How a point is shown where nobody has measured it yet: a quality on the scale of the pen that
// read the raw water, all else in the usual unit.
visit::ReadingEntry shown_like(machine::Point point,
                               const visit::StartUp& s,
                               fields::UnitSystem units) {
  for (const auto& r : s.readings) {
    if (r.reading.point == point) return r.reading;
  }
  const auto kind = machine::kind_of(point);
  visit::ReadingEntry like{.point = point, .unit = usual_unit(kind, units)};
  if (kind != machine::PointKind::kQuality) return like;
  like.unit = visit::ReadingUnit::kMicrosiemens;
  for (const auto& r : s.readings) {
    if (machine::kind_of(r.reading.point) == kind) {
      like.unit = r.reading.unit;
      like.instrument = r.reading.instrument;
      break;
    }
  }
  return like;
}

// The point, with the state in which it was read where that changes it.
Message state_of(const visit::ReadingEntry& r) {
  std::vector<const char*> states;
  if (r.condition.pump == machine::PumpState::kOff) states.push_back("job.state.pump_off");
  if (r.condition.flush_valve == machine::FlushState::kOpen) {
    states.push_back("job.state.flush_open");
  }
  if (r.condition.blend == machine::BlendState::kShut) states.push_back("job.state.blend_shut");
  if (r.point == machine::Point::kProductFlow &&
      r.condition.product_to == machine::ProductVessel::kJug) {
    states.push_back("job.state.into_jug");
  }
  const std::string point = visit::point_id(r.point);
  if (states.empty()) return {point};
  Message message{fmt::format("job.in_states.{}", states.size()), {{"point", Ref{point}}}};
  constexpr const char* kNames[] = {"first", "second", "third", "fourth"};
  for (std::size_t i = 0; i < states.size(); ++i) {
    message.arguments.emplace_back(kNames[i], Ref{states[i]});
  }
  return message;
}

// Rows that say something: not the day's water, which stands above them; no membrane pressure of
// its own without a pump, no permeate of its own without a blend.
bool worth_a_row(machine::Point point, const machine::MachineEntry& machine) {
  using machine::Point;
  if (point == Point::kTemperature || point == Point::kRawQuality) return false;
  if (point == Point::kMembranePressure) return machine.pump.has_value();
  if (point == Point::kPermeateQuality) return machine.blend && machine.blend->opening > 0;
  return point != Point::kRejectPressure;
}

Message raw_differs_in_words(const SiteState& state) {
  const bool analysed = state.survey->body.basis == visit::SurveyBasis::kAnalysis;
  return {analysed ? "job.raw_differs" : "job.raw_differs_from_meter"};
}

bool something_is_wrong(const visit::StartUp& s) {
  return s.standing == visit::StartUpStanding::kNotYet ||
         s.standing == visit::StartUpStanding::kRemarks;
}

std::vector<Message> causes_in_words(const visit::StartUp& s) {
  std::vector<Message> out;
  if (!something_is_wrong(s)) return out;
  for (const auto& c : s.causes.causes) {
    const bool first = out.empty();
    if (!first && c.probability < kWorthSaying) break;
    const std::string id = c.id.empty() ? "none" : c.id;
    if (first && c.id.empty()) {
      // Beside readings that do not fit, "nothing is wrong" would read as an answer.
      out.push_back({"job.may_be_sound", {{"share", percent(c.probability)}}});
      continue;
    }
    if (c.alike.empty()) {
      out.push_back({first ? "job.most_likely" : "job.or_else",
                     {{"cause", Ref{"cause." + id}}, {"share", percent(c.probability)}}});
      continue;
    }
    out.push_back(
        {first ? "job.most_likely_one_of" : "job.or_one_of", {{"share", percent(c.probability)}}});
    out.push_back({"job.one_of", {{"cause", Ref{"cause." + id}}}});
    std::size_t said = 1;
    for (const auto& alike : c.alike) {
      if (said == kMostNamed) break;
      out.push_back({"job.one_of", {{"cause", Ref{"cause." + alike}}}});
      ++said;
    }
    if (const std::size_t more = c.alike.size() + 1 - said; more > 0) {
      const auto n = static_cast<double>(more);
      out.push_back({"job.one_of_more", {{"n", Number{n, "", messages::digits_of(n)}}}});
    }
  }
  return out;
}

std::optional<Message> next_in_words(const visit::StartUp& s) {
  if (!s.next_point) return std::nullopt;
  const double minutes = s.causes.next.minutes;
  return Message{"job.next",
                 {{"point", point_name(*s.next_point)},
                  {"how", Ref{"how." + key_of(*s.next_point)}},
                  {"minutes", Number{minutes, "", messages::digits_of(minutes)}}}};
}

Message title_of(const Solved& solved) {
  const auto& site = solved.state.site->body;
  const auto& machine = solved.state.machine->body;
  if (machine.name.empty()) return {"job.note", {{"note", site.name}}};
  return {"job.title", {{"site", site.name}, {"machine", machine.name}}};
}

ShareRows share_rows(const visit::StartUp& s) {
  const visit::SharesRead read = visit::shares_read(s);
  const auto row = [](const char* name,
                      const inference::Interval& expected,
                      const std::optional<double>& share) {
    ShareRow out{.name = name, .expected = band_of(100 * expected.low, 100 * expected.high, "%")};
    if (share) out.read = Message{"job.reading", {{"value", Number{100 * *share, "%", 2}}}};
    return out;
  };
  return {row("job.row.recovery", s.recovery, read.recovery),
          row("job.row.reduction_ppm", s.reduction_ppm, read.reduction_ppm),
          row("job.row.reduction_mass", s.reduction_mass, read.reduction_mass)};
}

Message standing_of(const Solved& solved) {
  const visit::StartUp& s = solved.start_up;
  if (s.outcome != machine::Outcome::kRuns) return {"job.outcome." + key_of(s.outcome)};
  if (s.readings.empty() && s.standing == visit::StartUpStanding::kNoReadings) {
    return {"job.standing.nothing_read"};
  }
  const bool any_far =
      std::any_of(s.readings.begin(), s.readings.end(), [](const visit::JudgedReading& r) {
        return r.judgement && inference::is_far(r.judgement->fit);
      });
  if (s.standing == visit::StartUpStanding::kNotYet && !any_far) {
    return {"job.standing.not_together"};
  }
  const bool fits = s.standing == visit::StartUpStanding::kAsExpected ||
                    s.standing == visit::StartUpStanding::kRemarks;
  if (fits && blend_trouble(solved)) return {"job.standing.blend"};
  if (fits && !s.unread.empty()) {
    const bool remarks = s.standing == visit::StartUpStanding::kRemarks;
    return {remarks ? "job.standing.so_far_remarks" : "job.standing.so_far",
            {{"unread", s.unread.size() > 1 ? "both" : key_of(s.unread.front())}}};
  }
  return {"job.standing." + key_of(s.standing)};
}

std::optional<Message> standing_before(const Solved& solved) {
  if (solved.before != visit::StartUpStanding::kNotYet) return std::nullopt;
  return Message{"job.standing.before", {{"date", solved.state.earlier.back().at.substr(0, 10)}}};
}

Message provisional_in_words(const SiteState& state) {
  return {"job.own.provisional", {{"at", read_again_from(state)}}};
}

std::vector<JobLine> own_in_words(const visit::FirstDay& own, const SiteState& state) {
  if (own.standing == visit::FirstDayStanding::kNoReadings) return {};
  Lines lines;
  lines.heading("job.heading.own");
  lines.text({"job.own." + key_of(own.standing)});
  if (own.standing != visit::FirstDayStanding::kFitted) return lines.take();
  lines.text(own.settling == visit::Settling::kProvisional
                 ? provisional_in_words(state)
                 : Message{"job.own." + key_of(own.settling)});
  const auto share = [](const inference::Interval& i) {
    return band_of(100 * i.low, 100 * i.high, "%");
  };
  const auto named = [](visit::Own what) { return Ref{"choice.own." + key_of(what)}; };
  const auto told = [&](visit::Own what) {
    return std::any_of(own.values.begin(), own.values.end(), [&](const visit::OwnValue& v) {
      return v.what == what && v.told > kTold;
    });
  };
  if (std::none_of(own.values.begin(), own.values.end(), [](const visit::OwnValue& v) {
        return v.told > kTold;
      })) {
    lines.text({"job.own.nothing_told"});
    return lines.take();
  }
  lines.row({{"job.column.own"}, {"job.column.plates"}, {"job.column.readings"}});
  for (const visit::OwnValue& v : own.values) {
    if (v.told > kTold) lines.row({{named(v.what).id}, share(v.before), share(v.after)});
  }
  std::size_t said = 0;
  for (const visit::Together& pair : own.together) {
    if (!told(pair.first) && !told(pair.second)) continue;
    if (++said > kMostPairs) break;
    lines.text(
        {"job.own.together", {{"first", named(pair.first)}, {"second", named(pair.second)}}});
  }
  return lines.take();
}

std::vector<JobLine> in_words(const Solved& solved,
                              fields::UnitSystem units,
                              const visit::FirstDay* own) {
  Lines lines;
  lines.title(title_of(solved));
  const std::string& note = solved.state.site->body.note;
  if (!note.empty()) lines.text({"job.note", {{"note", note}}});
  say_verdict(solved.verdict, units, lines);
  say_start_up(solved, units, lines);
  say_causes(solved, lines);
  if (own != nullptr) lines.add(own_in_words(*own, solved.state));
  say_steps(solved.state, lines);
  if (auto left = left_in_words(solved.state)) {
    lines.heading("label.machine.blend");
    lines.text(*std::move(left));
  }
  if (const auto said = handed_over_in_words(solved.state); !said.empty()) {
    lines.heading("job.heading.handed_over");
    for (const Message& m : said) lines.text(m);
  }
  lines.heading("job.heading.cautions");
  if (const auto m = blend_trouble(solved)) lines.caution(*m);
  if (const auto m = visit::blend_caution(solved.start_up)) lines.caution(*m);
  if (const auto m = visit::voltage_caution(solved.state.machine->body)) lines.caution(*m);
  for (const Message& m : solved.verdict.cautions) lines.caution(m);
  lines.caution({"caution.work"});
  return lines.take();
}

Message field_of_machine(const std::string& path) {
  const std::size_t dot = path.find('.');
  if (dot == std::string::npos) return {"label.machine." + path};
  return {"paper.named",
          {{"name", Ref{"label.machine." + path.substr(0, dot)}}, {"value", Ref{"label." + path}}}};
}

std::vector<JobLine> source_in_words(const SiteState& state,
                                     const visit::SourceVerdict& verdict,
                                     fields::UnitSystem units) {
  Lines lines;
  lines.title({"job.note", {{"note", state.site->body.name}}});
  const std::string& note = state.site->body.note;
  if (!note.empty()) lines.text({"job.note", {{"note", note}}});
  say_verdict(verdict, units, lines);
  lines.heading("job.heading.cautions");
  for (const Message& m : verdict.cautions) lines.caution(m);
  lines.text({"job.no_machine_yet"});
  return lines.take();
}

}  // namespace drawoff::api
