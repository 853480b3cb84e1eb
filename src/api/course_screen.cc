#include "api/course_screen.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <set>

#include "api/site_state.h"
#include "api/solved.h"
#include "fields/errors.h"
#include "messages/number.h"

namespace drawoff::api {
namespace {

using base::Message;
using machine::Point;
using visit::StepState;

base::Number counted(std::size_t n) {
  return fields::given_number(static_cast<double>(n), nullptr);
}

// Few names are read, many are skipped over: then the first of them and how many more.
std::string open_names(const std::vector<std::string>& names, const messages::Catalogue& words) {
  constexpr std::size_t kMost = 3;
  std::string list;
  for (std::size_t i = 0; i < std::min(names.size(), kMost); ++i) {
    list += (i == 0 ? "" : ", ") + names[i];
  }
  if (names.size() <= kMost) return list;
  return messages::render(
      words, {"course.and_more", {{"steps", list}, {"n", counted(names.size() - kMost)}}});
}

// What was found at a step: kept with it, or typed since while it is open.
std::span<const visit::FoundEntry> found_at(const std::string& key,
                                            const visit::StepStanding& standing,
                                            const std::vector<OpenFound>& open) {
  if (standing.settled()) return standing.found;
  for (const OpenFound& o : open) {
    if (o.key == key) return o.found;
  }
  if (standing.again) return {};  // what was read of another filter
  return standing.found;
}

void add_sign(CourseStepScreen& step,
              visit::Sign sign,
              std::span<const visit::FoundEntry> found,
              fields::UnitSystem units,
              const messages::Catalogue& words) {
  const std::string name(fields::name_of(sign));
  CourseSign out{.sign = sign,
                 .name = messages::render(words, Message{"sign." + name}),
                 .how = messages::render(words, Message{"sign.how." + name}),
                 .units = visit::units_of(sign, units == fields::UnitSystem::kUs)};
  for (const visit::FoundEntry& f : found) {
    if (f.sign != sign) continue;
    out.text = found_in_words(f, words);
    out.fit = visit::fit_of(f);
    if (auto look = look_at(f, words); !look.empty()) step.look.push_back(std::move(look));
  }
  step.signs.push_back(std::move(out));
}

// Readings since a moment in the order of things, one of each point: the last.
std::vector<visit::ReadingEntry> readings_since(const SiteState& state, std::size_t order) {
  std::vector<visit::ReadingEntry> out;
  for (const auto& r : state.readings) {
    if (r.order < order) continue;
    std::erase_if(out, [&](const auto& one) { return one.point == r.body.point; });
    out.push_back(r.body);
  }
  return out;
}

// What a step's readings must be younger than: the start-up; of what the blend and the end are
// judged by, the last of the steps before it that was settled, for they change the product.
std::size_t counts_from(const SiteState& state, const CourseState& course, std::size_t step) {
  if (!state.start_up) return std::numeric_limits<std::size_t>::max();
  std::size_t from = state.start_up->order;
  const visit::Step what = course.course[step].step;
  if (what != visit::Step::kBlend && what != visit::Step::kFinalReadings) return from;
  for (std::size_t i = 0; i < step; ++i) {
    if (course.standings[i].settled()) from = std::max(from, course.standings[i].order);
  }
  return from;
}

const visit::ReadingEntry* reading_at(std::span<const visit::ReadingEntry> readings, Point point) {
  const auto found = std::find_if(
      readings.begin(), readings.end(), [&](const auto& r) { return r.point == point; });
  return found == readings.end() ? nullptr : &*found;
}

void add_readings(CourseStepScreen& step,
                  std::span<const visit::ReadingEntry> readings,
                  const messages::Catalogue& words) {
  for (const Point point : step.readings) {
    const visit::ReadingEntry* reading = reading_at(readings, point);
    if (reading == nullptr) continue;
    step.taken.push_back(point);
    if (visit::outside_shown(*reading)) step.outside.push_back(point);
  }
  if (!step.outside.empty()) step.look.push_back(messages::render(words, {"course.look.causes"}));
  const auto* product = reading_at(readings, Point::kProductFlow);
  const auto* reject = reading_at(readings, Point::kRejectFlow);
  if (step.step != visit::Step::kFlows || product == nullptr || reject == nullptr) return;
  const double p = visit::measured(*product).value;
  const double whole = p + visit::measured(*reject).value;
  if (p <= 0 || whole <= p) return;
  step.notes.push_back(messages::render(
      words, {"course.note.recovery_read", {{"recovery", base::Number{100 * p / whole, "%", 2}}}}));
}

// Chlorine was found behind the carbon, and nothing said since that it is gone.
bool chlorine_found(const CourseState& course, const std::vector<OpenFound>& open) {
  for (std::size_t i = 0; i < course.course.size(); ++i) {
    if (course.course[i].step != visit::Step::kChlorineZero) continue;
    const auto& standing = course.standings[i];
    const auto found = found_at(visit::key_of(course.course[i]), standing, open);
    return standing.state == StepState::kNotGood ||
           std::any_of(found.begin(), found.end(), [](const visit::FoundEntry& f) {
             return visit::fit_of(f) == visit::SignFit::kAbove;
           });
  }
  return false;
}

std::string headline_of(const CourseScreenOutput& out, const messages::Catalogue& words) {
  const auto n = counted(out.steps.size());
  if (!out.start_up) return messages::render(words, {"course.headline.before", {{"n", n}}});
  if (out.current) {
    const auto at = static_cast<std::size_t>(*out.current) + 1;
    return messages::render(words, {"course.headline.at", {{"at", counted(at)}, {"n", n}}});
  }
  std::size_t skipped = 0;
  std::size_t unread = 0;
  std::size_t outside = 0;
  std::set<Point> points_unread, points_outside;  // a point is read at several steps
  for (const CourseStepScreen& step : out.steps) {
    skipped += step.state == StepState::kSkipped ? 1 : 0;
    for (const Point p : step.readings) {
      if (std::find(step.taken.begin(), step.taken.end(), p) == step.taken.end()) {
        points_unread.insert(p);
      }
    }
    points_outside.insert(step.outside.begin(), step.outside.end());
    for (const CourseSign& sign : step.signs) {
      unread += sign.text.empty() ? 1 : 0;
      outside += sign.fit.value_or(visit::SignFit::kFits) == visit::SignFit::kFits ? 0 : 1;
    }
  }
  unread += points_unread.size();
  outside += points_outside.size();
  std::string text = messages::render(
      words,
      skipped == 0 ? Message{"course.headline.done"}
                   : Message{"course.headline.skipped", {{"n", counted(skipped)}}});
  const auto add = [&](const char* id, std::size_t count) {
    if (count > 0) text += " " + messages::render(words, {id, {{"n", counted(count)}}});
  };
  add("course.headline.outside", outside);
  add("course.headline.unread", unread);
  return text;
}

}  // namespace

std::string step_name(const visit::CourseStep& step,
                      const machine::MachineEntry& machine,
                      const messages::Catalogue& words) {
  std::string name =
      messages::render(words, {"course.name." + std::string(fields::name_of(step.step))});
  if (!step.filter) return name;
  const std::string kind(fields::name_of(machine.filters[*step.filter].kind));
  return messages::render(
      words, {"course.filter", {{"part", base::Ref{"part.filter." + kind}}, {"what", name}}});
}

std::string found_in_words(const visit::FoundEntry& f, const messages::Catalogue& words) {
  return messages::render(words, found_in_words(f));
}

base::Message found_in_words(const visit::FoundEntry& f) {
  const std::string unit(visit::unit_of(f.unit).symbol);
  const auto end = [](double value, const std::string& of) {
    return base::Number{value, of, std::min(2, messages::digits_of(value))};
  };
  Message m{"found.alone",
            {{"sign", base::Ref{"sign." + std::string(fields::name_of(f.sign))}},
             {"value", base::Number{f.value, unit, messages::digits_of(f.value)}}}};
  if (const auto fit = visit::fit_of(f)) {
    m.id = "found." + std::string(fields::name_of(*fit));
    m.arguments.push_back({"low", end(f.expected->low, "")});
    m.arguments.push_back({"high", end(f.expected->high, unit)});
  }
  return m;
}

std::string look_at(const visit::FoundEntry& f, const messages::Catalogue& words) {
  const auto fit = visit::fit_of(f);
  if (!fit || *fit == visit::SignFit::kFits) return {};
  const std::string sign(fields::name_of(f.sign));
  const std::string side(fields::name_of(*fit));
  return messages::render(words, Message{"sign.look." + sign + "." + side});
}

std::optional<base::Message> clock_in_words(const visit::StepStanding& s) {
  if (s.clock_unused()) return Message{"checklist.clock.unused"};
  if (!s.short_of_wait()) return std::nullopt;
  // In seconds below a minute, else in its tenths; what was counted down and the wait up, so that
  // it never looks like all of it.
  const bool short_wait = s.wait->si() < 60;
  const double step = short_wait ? 1 : 6;  // [s]
  const auto shown = [&](units::Time time, const char* unit, double (*round)(double)) {
    // But for what arithmetic leaves.
    const double steps = round(std::round(time.si() / step * 1e6) / 1e6);
    const double value = short_wait ? steps : steps / 10;
    return base::Number{value, unit, messages::digits_of(value)};
  };
  return Message{"checklist.clock.short",
                 {{"counted", shown(*s.counted, "", std::floor)},
                  {"wait", shown(*s.wait, short_wait ? "s" : "min", std::ceil)}}};
}

std::string standing_in_words(visit::Step step,
                              const visit::StepStanding& s,
                              const messages::Catalogue& words) {
  if (!s.state) return {};
  const std::string state(fields::name_of(*s.state));
  // Day and minute of "2026-03-03T08:10:00.5Z".
  const auto minute = [](const std::string& at) {
    return at.substr(0, 10) + " " + at.substr(11, 5);
  };
  const auto say = [&](const std::string& id, const std::string& at) {
    return messages::render(words, {id, {{"at", minute(at)}}});
  };
  const char* early = s.early ? ".early" : "";
  std::string text;
  if (*s.state == StepState::kDone && visit::is_test(step)) {
    const base::Ref good{"course.good." + std::string(fields::name_of(step))};
    text = messages::render(
        words,
        {std::string("checklist.state.good") + early, {{"good", good}, {"at", minute(s.at)}}});
  } else {
    text = say("checklist.state." + state + early, s.at);
  }
  if (const auto clock = clock_in_words(s)) text += " " + messages::render(words, *clock);
  for (const visit::FoundEntry& f : s.found) text += " " + found_in_words(f, words);
  if (!s.note.empty()) text += " " + messages::render(words, {"job.note", {{"note", s.note}}});
  if (s.settled() && !s.not_good_at.empty()) {
    text += " " + say("checklist.state.not_good_before", s.not_good_at);
  }
  if (s.again) text += " " + messages::render(words, Message{"course.again"});
  return text;
}

base::Result<CourseScreenOutput> ask_course(const CourseScreenInput& in,
                                            Working& /*working*/,
                                            const messages::Catalogue& words) {
  fields::ReadContext context;
  TRY(const book::SiteFile file, book::read_site_json(in.site_file.json, context));
  TRY(const SiteState state, site_state(file, context));
  if (auto error = lacks(state)) return *std::move(error);

  CourseScreenOutput out;
  if (state.start_up) {
    out.start_up = state.start_up->id;
    out.sanitise = state.start_up->body.sanitise;
    out.membrane_in = state.start_up->body.membrane_in;
  }
  const CourseState course = course_state(state, {out.sanitise, out.membrane_in});
  const auto say = [&](const std::string& id) { return messages::render(words, Message{id}); };
  std::vector<std::string> open;
  for (std::size_t i = 0; i < course.course.size(); ++i) {
    const visit::CourseStep& s = course.course[i];
    const visit::StepStanding& standing = course.standings[i];
    const std::string name(fields::name_of(s.step));
    CourseStepScreen step{.key = visit::key_of(s),
                          .step = s.step,
                          .name = step_name(s, state.machine->body, words),
                          .what = say("course.what." + visit::words_of(s)),
                          .why = say("course.why." + visit::words_of(s)),
                          .readings = s.readings,
                          .test = visit::is_test(s.step),
                          .state = standing.again ? std::nullopt : standing.state,
                          .note = standing.note,
                          .at = standing.at,
                          .early = standing.early,
                          .open_before = open_names(open, words)};
    if (s.filter) step.part = static_cast<int>(*s.filter);
    step.filter = s.kind;
    if (s.step == visit::Step::kMembraneIn && chlorine_found(course, in.open)) {
      step.cautions.push_back(say("course.caution.chlorine_found"));
    }
    for (const char* id : s.cautions) step.cautions.push_back(say(id));
    for (const char* id : s.notes) step.notes.push_back(say(id));
    if (standing.again) step.notes.push_back(say("course.again"));
    add_readings(step, readings_since(state, counts_from(state, course, i)), words);
    const auto found = found_at(step.key, standing, in.open);
    for (const visit::Sign sign : visit::signs_of(s, state.machine->body, state.survey->body)) {
      add_sign(step, sign, found, in.units, words);
    }
    step.good = say(step.test ? "course.good." + name : "course.done");
    if (step.test) {
      step.not_good = say("course.not_good." + name);
      step.next = say("course.next." + name);
    }
    if (const auto clock = clock_in_words(standing)) step.clock = messages::render(words, *clock);
    if (standing.state == StepState::kBegun) step.begun_at = standing.begun_at;
    if (!standing.settled()) {
      open.push_back(step.name);
      if (!out.current) out.current = static_cast<int>(i);
    }
    out.steps.push_back(std::move(step));
  }
  out.headline = headline_of(out, words);
  return out;
}

}  // namespace drawoff::api
