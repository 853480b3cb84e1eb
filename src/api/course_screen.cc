#include "api/course_screen.h"

#include "api/site_state.h"
#include "api/solved.h"
#include "fields/errors.h"
#include "messages/number.h"

namespace drawoff::api {
namespace {

using base::Message;
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
  return messages::render(words, m);
}

std::string look_at(const visit::FoundEntry& f, const messages::Catalogue& words) {
  const auto fit = visit::fit_of(f);
  if (!fit || *fit == visit::SignFit::kFits) return {};
  const std::string sign(fields::name_of(f.sign));
  const std::string side(fields::name_of(*fit));
  return messages::render(words, Message{"sign.look." + sign + "." + side});
}

std::string standing_in_words(const visit::StepStanding& s, const messages::Catalogue& words) {
  if (!s.state) return {};
  const std::string state(fields::name_of(*s.state));
  // Day and minute of "2026-03-03T08:10:00.5Z".
  const std::string at = s.at.substr(0, 10) + " " + s.at.substr(11, 5);
  std::string text = messages::render(
      words, {"checklist.state." + state + (s.early ? ".early" : ""), {{"at", at}}});
  for (const visit::FoundEntry& f : s.found) text += " " + found_in_words(f, words);
  if (!s.note.empty()) text += " " + messages::render(words, {"job.note", {{"note", s.note}}});
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
  std::size_t skipped = 0;
  for (std::size_t i = 0; i < course.course.size(); ++i) {
    const visit::CourseStep& s = course.course[i];
    const visit::StepStanding& standing = course.standings[i];
    const std::string name(fields::name_of(s.step));
    CourseStepScreen step{.key = visit::key_of(s),
                          .step = s.step,
                          .name = step_name(s, state.machine->body, words),
                          .what = say("course.what." + name),
                          .why = say("course.why." + name),
                          .readings = s.readings,
                          .test = visit::is_test(s.step),
                          .state = standing.state,
                          .note = standing.note,
                          .at = standing.at,
                          .early = standing.early,
                          .open_before = open_names(open, words)};
    if (s.filter) step.part = static_cast<int>(*s.filter);
    step.filter = s.kind;
    for (const char* id : s.cautions) step.cautions.push_back(say(id));
    const auto found = found_at(step.key, standing, in.open);
    for (const visit::Sign sign : visit::signs_of(s, state.machine->body, state.survey->body)) {
      add_sign(step, sign, found, in.units, words);
    }
    step.good = say(step.test ? "course.good." + name : "course.done");
    if (step.test) {
      step.not_good = say("course.not_good." + name);
      step.next = say("course.next." + name);
    }
    if (standing.state == StepState::kBegun) step.begun_at = standing.begun_at;
    if (!standing.settled()) {
      open.push_back(step.name);
      if (!out.current) out.current = static_cast<int>(i);
    }
    skipped += standing.state == StepState::kSkipped ? 1 : 0;
    out.steps.push_back(std::move(step));
  }
  const auto n = counted(out.steps.size());
  if (!out.start_up) {
    out.headline = messages::render(words, {"course.headline.before", {{"n", n}}});
  } else if (out.current) {
    const auto at = static_cast<std::size_t>(*out.current) + 1;
    out.headline = messages::render(words, {"course.headline.at", {{"at", counted(at)}, {"n", n}}});
  } else if (skipped > 0) {
    out.headline = messages::render(words, {"course.headline.skipped", {{"n", counted(skipped)}}});
  } else {
    out.headline = say("course.headline.done");
  }
  return out;
}

}  // namespace drawoff::api
