#include "api/start_up_question.h"
#include "api/blend_limits.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "api/fill_question.h"
#include "api/path_view.h"
#include "api/rest_question.h"
#include "api/transient_draws.h"
#include "messages/number.h"
#include "numerics/random.h"
#include "transients/flush.h"
#include "visit/sanitise.h"

namespace drawoff::api {
namespace {

using base::Message;
using base::Number;
using transients::Residue;
using visit::Step;

// What a step flushes out, if it flushes.
std::optional<Residue> flushes(Step step) {
  switch (step) {
    case Step::kFirstRun:
      return Residue::kPreservative;
    case Step::kPolishFlush:
      return Residue::kCarbonFines;
    case Step::kBlend:
      return Residue::kBlendChange;
    default:
      return std::nullopt;
  }
}

// So much of it may be left: of a change that is to be read, less than the meter sees.
double left_of(Residue residue) { return residue == Residue::kBlendChange ? 0.05 : 0.001; }

struct Times {
  std::vector<double> volume, time;
  void at_least(double seconds) {
    for (std::size_t i = 0; i < time.size(); ++i) {
      const double factor = std::max(1.0, seconds / time[i]);
      time[i] *= factor;
      volume[i] *= factor;
    }
  }
};

// What comes off more slowly than water is exchanged takes at least so long (common practice, no
// source): a membrane's preservative, fines of carbon, of other cartridges.
constexpr double kLeastPreservative = 20 * 60.0;
constexpr double kLeastCarbon = 5 * 60.0;
constexpr double kLeastFines = 2 * 60.0;
// An open outlet of the supply gives this to four times as much (common practice, no source).
constexpr double kLeastOpenFlow = 1e-3 / 60;

double open_flow(const StartUpInput& in, std::size_t draw) {
  numerics::Random random(static_cast<std::uint64_t>(in.seed), draw);
  return kLeastOpenFlow * std::pow(4.0, random.uniform());
}
Times times_of(const StartUpInput& in,
               const machine::Condition& condition,
               const TransientDraws& draws,
               Residue residue) {
  Times out;
  for (const TransientDraw& draw : draws.draws) {
    const auto paths = transients::flush_paths(in.machine, condition, draw.plant, residue);
    double volume = 0;
    double time = 0;
    for (const auto& path : {paths.feed, paths.product}) {
      if (!path) continue;
      const auto flushed = transients::flushed(*path, left_of(residue));
      volume += flushed.volume;
      time = std::max(time, flushed.time);
    }
    if (time <= 0) continue;
    out.volume.push_back(volume);
    out.time.push_back(time);
  }
  return out;
}

// A cartridge rinsed into the drain with nothing behind it: until its housing's water is exchanged,
// and no shorter than fines take to come out.
Times filter_flush(const StartUpInput& in, const TransientDraws& draws, std::size_t filter) {
  const bool carbon = in.machine.filters[filter].kind == machine::FilterKind::kCarbon;
  const auto before =
      std::count_if(in.machine.filters.begin(),
                    in.machine.filters.begin() + static_cast<std::ptrdiff_t>(filter),
                    [](const auto& f) { return !machine::after_membrane(f.kind); });
  Times out;
  for (std::size_t i = 0; i < draws.draws.size(); ++i) {
    const double flow = open_flow(in, i);
    const double housing = draws.draws[i].plant.held.pre_filters[static_cast<std::size_t>(before)];
    const auto washed = transients::flushed({.chain = {.mixed = {housing}}, .flow = flow},
                                            left_of(Residue::kCarbonFines));
    out.time.push_back(washed.time);
    out.volume.push_back(washed.volume);
  }
  out.at_least(carbon ? kLeastCarbon : kLeastFines);
  return out;
}

// What was filled with sanitiser is emptied and filled again, which leaves 3 to 15 % of it each
// time (common practice, no source), until `left` is left: n = ln(1/left)/ln(1/share) fillings.
Times sanitiser_rinse(const StartUpInput& in, double left) {
  const double filling = visit::sanitised_volume(in.machine).si();
  Times out;
  for (std::size_t i = 0; i < static_cast<std::size_t>(in.draws); ++i) {
    numerics::Random random(static_cast<std::uint64_t>(in.seed) + 1, i);
    const double share = 0.03 * std::pow(5.0, random.uniform());
    const double volume = filling * std::log(left) / std::log(share);
    out.volume.push_back(volume);
    out.time.push_back(volume / open_flow(in, i));
  }
  return out;
}

const visit::Expectation* expectation_of(machine::Point point, const visit::StartUp& start_up) {
  for (const visit::Expectation& e : start_up.expected) {
    if (e.point == point) return &e;
  }
  return nullptr;
}

// What filling up and a rest of ten minutes show; nothing where nothing can be said.
struct Slow {
  std::optional<Band> fill_time, stop_pressure, first_half_litre;
  // Where nothing stops the machine: what then runs on, and the pressure that it comes to.
  std::optional<Band> runs_on, end_pressure;
  [[nodiscard]] std::optional<Band> of(visit::Sign sign) const {
    switch (sign) {
      case visit::Sign::kFillTime:
        return fill_time;
      case visit::Sign::kStopPressure:
        return stop_pressure;
      case visit::Sign::kFirstHalfLitre:
        return first_half_litre;
      default:
        return Band{0, 0, visit::kNoChlorine / units::milligram_per_litre(1), "mg_L"};
    }
  }
};

// As an ordinary instrument shows it.
Band as_read(visit::Sign sign, const Band& predicted) {
  const auto* unit = units::unit_of_key(predicted.unit);
  const auto si = [&](double value) { return units::to_si(*unit, value); };
  const auto read =
      visit::as_read(sign, {si(predicted.low), si(predicted.middle), si(predicted.high)});
  const auto back = [&](double value) { return units::from_si(*unit, value); };
  return {back(read.low), back(read.middle), back(read.high), predicted.unit};
}
Slow slow_numbers(const StartUpInput& in, bool fills, bool rests) {
  Slow out;
  Working unread(false);
  if (fills) {
    const FillInput question{.survey = in.survey,
                             .machine = in.machine,
                             .condition = {.product_to = in.machine.product.vessel},
                             .draws = in.draws,
                             .seed = in.seed};
    if (const auto fill = ask_fill(question, unread); fill) {
      out.fill_time = fill->time;
      if (fill->end == transients::FillEnd::kSwitch || fill->end == transients::FillEnd::kShutOff) {
        out.stop_pressure = fill->stop_pressure;
      } else {
        out.runs_on = fill->reject_after;
        out.end_pressure = fill->stop_pressure;
      }
    }
  }
  if (rests) {
    const RestInput question{.survey = in.survey,
                             .machine = in.machine,
                             .condition = {.rest_before = visit::kRestBeforeTest},
                             .draws = in.draws,
                             .seed = in.seed};
    if (const auto rest = ask_rest(question, unread); rest) {
      out.first_half_litre = rest->first_half_litre;
    }
  }
  return out;
}

// The two ends of a band, the unit said once.
struct Ends {
  Number low, high;
};
Ends ends_of(Band band, fields::UnitSystem units) {
  const auto* unit = units::unit_of_key(band.unit);
  // A time in the unit that a person would say it in.
  if (band.unit == "min" && (band.high < 1.5 || band.low >= 120)) {
    const char* key = band.high < 1.5 ? "s" : "h";
    const auto* other = units::unit_of_key(key);
    const auto in_other = [&](double value) {
      return units::from_si(*other, units::to_si(*unit, value));
    };
    band.low = in_other(band.low);
    band.high = in_other(band.high);
    band.unit = key;
    unit = other;
  }
  const auto end = [&](double value) {
    Number n = in_units(units::to_si(*unit, value), band.unit, units);
    n.digits = n.value < 0.1 ? std::min(2, messages::digits_of(n.value)) : 2;
    return n;
  };
  Ends ends{end(band.low), end(band.high)};
  ends.low.unit.clear();
  return ends;
}

std::optional<Message> takes(const CourseStepOutput& step, fields::UnitSystem units) {
  if (!step.wait) return std::nullopt;
  const Ends time = ends_of(*step.wait, units);
  if (step.wait->low == step.wait->high && !step.volume) {
    return Message{"checklist.wait", {{"time", time.high}}};
  }
  if (!step.volume) return Message{"checklist.between", {{"low", time.low}, {"high", time.high}}};
  const Ends volume = ends_of(*step.volume, units);
  if (step.wait->low == step.wait->high) {
    return Message{"checklist.flush_at_least",
                   {{"time", time.high}, {"from", volume.low}, {"to", volume.high}}};
  }
  return Message{
      "checklist.flush",
      {{"low", time.low}, {"high", time.high}, {"from", volume.low}, {"to", volume.high}}};
}

// The flush of a step; nothing where it has none, or where a machine that does not run tells of
// none.
struct StepFlush {
  Times times;
  double left = 0;
  const char* formula = "x where c/c_0 is left";
  const char* source = "levenspiel1999";
};
std::optional<StepFlush> flush_of(const visit::CourseStep& s,
                                  const StartUpInput& in,
                                  const machine::Condition& condition,
                                  const TransientDraws& draws) {
  if (s.step == Step::kSanitiserRinse) {
    // 200 mg/L until a strip shows none.
    const double left = visit::kNoChlorine / units::milligram_per_litre(200);
    return StepFlush{
        sanitiser_rinse(in, left), left, "V ln(c/c_0)/ln r", "common practice, no source"};
  }
  if (!can_tell(draws)) return std::nullopt;
  if (s.step == Step::kFilterFlush) {
    return StepFlush{filter_flush(in, draws, *s.filter), left_of(Residue::kCarbonFines)};
  }
  const auto residue = flushes(s.step);
  if (!residue) return std::nullopt;
  StepFlush out{times_of(in, condition, draws, *residue), left_of(*residue)};
  if (*residue == Residue::kPreservative) out.times.at_least(kLeastPreservative);
  if (*residue == Residue::kCarbonFines) {
    out.times.at_least(s.kind == machine::FilterKind::kPolish ? kLeastCarbon : kLeastFines);
  }
  return out;
}

// What nothing stops goes on, and presses on what stands behind the membrane.
std::optional<Message> goes_on(Step step, const Slow& slow, fields::UnitSystem units) {
  if (step != Step::kFirstFill || !slow.runs_on || !slow.end_pressure) return std::nullopt;
  const Ends reject = ends_of(*slow.runs_on, units);
  const Ends pressure = ends_of(*slow.end_pressure, units);
  return Message{
      "course.caution.nothing_stops",
      {{"low", reject.low}, {"high", reject.high}, {"from", pressure.low}, {"to", pressure.high}}};
}

std::optional<Message> recovery_of(Step step, const visit::StartUp& start_up) {
  if (step != Step::kFlows || start_up.recovery.high <= 0) return std::nullopt;
  return Message{"course.note.recovery",
                 {{"low", Number{start_up.recovery.low * 100, "", 2}},
                  {"high", Number{start_up.recovery.high * 100, "%", 2}}}};
}

}  // namespace

Message expected_in_words(base::Argument what, const Band& band, fields::UnitSystem units) {
  const Ends ends = ends_of(band, units);
  if (band.unit == "uS_cm") {  // and as most pens show it
    const auto ppm = [](double value) { return Number{value * 0.5, "", 2}; };
    return {"checklist.expected_quality",
            {{"point", std::move(what)},
             {"low", ends.low},
             {"high", ends.high},
             {"low_ppm", ppm(band.low)},
             {"high_ppm", ppm(band.high)}}};
  }
  return {"checklist.expected",
          {{"point", std::move(what)}, {"low", ends.low}, {"high", ends.high}}};
}

base::Result<StartUpOutput> ask_start_up(const StartUpInput& in,
                                         Working& working,
                                         const messages::Catalogue& words) {
  const machine::Condition condition{.product_to = machine::ProductVessel::kJug};
  TRY(const visit::StartUp start_up,
      visit::judge_start_up(
          in.survey,
          in.machine,
          {},
          {.draws = std::max(in.draws, 100), .seed = static_cast<std::uint64_t>(in.seed)}));
  TRY(const TransientDraws draws,
      transient_draws(
          in.survey, {}, in.machine, condition, in.draws, in.seed, transients::Reach::kOpenOutlet));
  const auto words_of = [&](const Message& m) { return messages::render(words, m); };
  const auto say = [&](const std::string& id) { return words_of({id}); };
  const auto course = visit::course_of(in.machine, in.survey, {in.sanitise, in.membrane_in});
  const auto any = [&](auto of) {
    return can_tell(draws) &&
           std::any_of(course.begin(), course.end(), [&](const auto& s) { return of(s.step); });
  };
  const Slow slow = slow_numbers(in,
                                 any([](Step s) { return s == Step::kFirstFill; }),
                                 any([](Step s) { return s == Step::kRestTest; }));
  StartUpOutput out{.assumed = machine::assumed(in.machine)};
  if (start_up.outcome != machine::Outcome::kRuns) {
    out.will_not_run = words_of(why_not(start_up.outcome));
  }
  std::optional<Message> let_back;  // what the blend may let back, where that is not all
  std::optional<Message> trouble;   // the valve is entered as open further than that
  if (in.machine.blend) {
    TRY(const visit::HighestShare most, share_now(in.survey, start_up, {}));
    let_back = binds({.bound = most.bound,
                      .substance = most.substance,
                      .unknown = most.unknown,
                      .ever = most.ever,
                      .today = visit::today_of(most.ever, visit::kUsualDrift)});
    trouble = lets_in_too_much(in.machine, start_up, most);
  }
  for (const visit::CourseStep& s : course) {
    const std::string name = visit::words_of(s);
    const std::string at = fmt::format("steps[{}]", out.steps.size());
    CourseStepOutput step{.key = visit::key_of(s),
                          .step = s.step,
                          .what = say("course.what." + name),
                          .why = say("course.why." + name)};
    if (s.filter) {
      step.part = static_cast<long long>(*s.filter);
      const std::string kind(fields::name_of(in.machine.filters[*s.filter].kind));
      step.what = messages::render(
          words,
          {"course.filter", {{"part", base::Ref{"part.filter." + kind}}, {"what", step.what}}});
      working.add({.result = at + ".part",
                   .symbol = "i",
                   .formula = "i",
                   .inputs = {},
                   .value = static_cast<double>(*step.part),
                   .unit = "",
                   .source = "definition"});
    }
    for (const char* id : s.cautions) step.cautions.push_back(say(id));
    for (const char* id : s.notes) step.notes.push_back(say(id));
    if (let_back && s.step == Step::kBlend) step.cautions.push_back(words_of(*let_back));
    if (trouble && s.step == Step::kTapsOpened) {
      step.cautions.push_back(messages::render(words, *trouble));
    }
    if (const auto m = goes_on(s.step, slow, in.units)) step.cautions.push_back(words_of(*m));
    if (const auto m = recovery_of(s.step, start_up)) step.notes.push_back(words_of(*m));
    if (s.wait) {
      const std::vector<double> same(1, s.wait->si());
      step.wait = band_of(same, "min", working, at + ".wait", {"t", "common practice, no source"});
    }
    const auto flush = flush_of(s, in, condition, draws);
    if (flush && flush->times.time.size() >= kLeastTransientDraws) {
      const WorkingInput left{"c/c_0", flush->left * 100, "%"};
      step.wait = band_of(flush->times.time,
                          "min",
                          working,
                          at + ".wait",
                          {"t = V/Q, no less than the least", flush->source, {left}});
      step.volume = band_of(flush->times.volume,
                            "L",
                            working,
                            at + ".volume",
                            {flush->formula, flush->source, {left}});
    }
    for (const machine::Point point : s.readings) {
      const visit::Expectation* e = expectation_of(point, start_up);
      if (e == nullptr) continue;
      const std::string path = fmt::format("{}.expected[{}].expected", at, step.expected.size());
      step.expected.push_back({point, band_at(point, e->expected)});
      explain_band(working, path, step.expected.back().expected, in.draws, "hyndman1996");
    }
    if (s.step == Step::kFirstFill && slow.fill_time) {
      step.wait = *slow.fill_time;
      explain_band(working, at + ".wait", *step.wait, in.draws, "hyndman1996");
    }
    for (const visit::Sign sign : visit::signs_of(s, in.machine, in.survey)) {
      const auto predicted = slow.of(sign);
      if (!predicted) continue;
      const Band band = as_read(sign, *predicted);
      const bool drawn = predicted->unit != "mg_L";
      explain_band(working,
                   fmt::format("{}.numbers[{}].expected", at, step.numbers.size()),
                   band,
                   in.draws,
                   drawn ? "hyndman1996" : "common practice, no source");
      const std::string id = "sign." + std::string(fields::name_of(sign));
      step.numbers.push_back(
          {sign, say(id), band, words_of(expected_in_words(base::Ref{id}, band, in.units))});
    }
    const bool timed = std::any_of(step.numbers.begin(), step.numbers.end(), [](const auto& n) {
      return n.sign == visit::Sign::kFillTime;  // its band says it
    });
    const auto m = takes(step, in.units);
    if (m && !timed) step.takes = words_of(*m);
    out.steps.push_back(std::move(step));
  }
  return out;
}

}  // namespace drawoff::api
