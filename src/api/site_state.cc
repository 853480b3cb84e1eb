#include "api/site_state.h"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <limits>

#include "base/check.h"
#include "base/message.h"
#include "machine/plates_fields.h"
#include "messages/number.h"
#include "visit/day.h"
#include "visit/first_day.h"

namespace drawoff::api {

namespace {

// The latest readings that are judged together.
constexpr std::ptrdiff_t kMostReadings = 60;

template <class T>
base::Result<Said<T>> said(const book::Current& current, fields::ReadContext& context) {
  TRY(T body, fields::read_at<T>(current.body, current.path, context));
  return Said<T>{.id = current.id.text,
                 .first = current.first.text,
                 .at = current.at.text,
                 .author = current.author,
                 .order = current.order,
                 .body = std::move(body),
                 .written = current.body};
}

template <class T>
base::Result<std::optional<Said<T>>> said(const std::optional<book::Current>& current,
                                          fields::ReadContext& context) {
  if (!current) return std::optional<Said<T>>();
  TRY(Said<T> one, said<T>(*current, context));
  return std::optional(std::move(one));
}

// When visits begin [s], in order.
std::vector<long long> visits_of(std::vector<long long> moments) {
  std::sort(moments.begin(), moments.end());
  std::vector<long long> begins;
  for (std::size_t i = 0; i < moments.size(); ++i) {
    if (i == 0 || moments[i] - moments[i - 1] > kVisitGap) begins.push_back(moments[i]);
  }
  return begins;
}

// The visit of that moment, by number.
std::ptrdiff_t visit_at(const std::vector<long long>& begins, long long moment) {
  return std::upper_bound(begins.begin(), begins.end(), moment) - begins.begin();
}

// What the entry says of its element, and how long that has run.
struct ElementSaid {
  fields::Json plate;
  double run_time = 0;
};
ElementSaid element_of(const book::Current& machine) {
  const auto element = machine.body.find("element");
  if (element == machine.body.end() || !element->is_object()) return {};
  ElementSaid said{.plate = *element};
  if (const auto hours = element->find("run_time_h"); hours != element->end()) {
    if (hours->is_number()) said.run_time = hours->get<double>();
    said.plate.erase("run_time_h");
  }
  return said;
}

constexpr long long kAlways = std::numeric_limits<long long>::min();

// Since when the membrane of the machine as it was entered last is in [s].
long long entered_since(const std::vector<book::Current>& machines) {
  for (std::size_t i = machines.size(); i-- > 1;) {
    const ElementSaid now = element_of(machines[i]);
    const ElementSaid before = element_of(machines[i - 1]);
    if (now.plate != before.plate || now.run_time < before.run_time) {
      return book::seconds_of(machines[i].at);
    }
  }
  return kAlways;
}

// When a start-up put a new membrane in last [s].
base::Result<long long> put_in_at(const std::vector<book::Current>& start_ups,
                                  fields::ReadContext& context) {
  for (std::size_t i = start_ups.size(); i-- > 0;) {
    TRY(const auto begun, said<visit::StartUpEntry>(start_ups[i], context));
    if (begun.body.new_membrane) return book::seconds_of({begun.at});
  }
  return kAlways;
}

// Of a membrane that has left; a reading of the water tells of the day.
bool is_of_old_membrane(const Said<visit::ReadingEntry>& r, long long since) {
  const long long at = book::seconds_of({r.at});
  return at < since && (!visit::sets_the_water(r.body.point) || since - at > kVisitGap);
}

using Readings = std::vector<Said<visit::ReadingEntry>>;

// The readings of its first visit, and those of each visit that is a day or more after that.
struct FirstDays {
  Readings first;
  std::vector<Readings> later;
};
FirstDays first_days(const Readings& readings,
                     const std::vector<long long>& begins,
                     long long since) {
  FirstDays out;
  // The machine itself begins a first visit; what was read of the water just before belongs to it.
  const auto machine = std::find_if(readings.begin(), readings.end(), [&](const auto& r) {
    return !is_of_old_membrane(r, since) && !visit::sets_the_water(r.body.point);
  });
  std::optional<long long> begun;
  if (machine != readings.end()) begun = book::seconds_of({machine->at});
  std::ptrdiff_t visit_before = 0;
  for (const auto& r : readings) {
    const long long at = book::seconds_of({r.at});
    if (is_of_old_membrane(r, since)) continue;
    if (!begun) begun = at;
    const std::ptrdiff_t visit = visit_at(begins, at);
    if (visit == visit_at(begins, *begun) || (at < *begun && *begun - at <= kVisitGap)) {
      out.first.push_back(r);
    } else if (at - *begun >= static_cast<long long>(visit::kSettledAfter.si())) {
      if (visit != visit_before) out.later.emplace_back();
      visit_before = visit;
      out.later.back().push_back(r);
    }
  }
  return out;
}

// The first of them that reads the membranes in full, or the first that reads anything.
Readings read_again(const std::vector<Readings>& later) {
  const auto in_full = std::find_if(later.begin(), later.end(), [](const Readings& visit) {
    return visit::unread_of(bodies_of(visit)).empty();
  });
  if (in_full != later.end()) return *in_full;
  const auto any =
      std::find_if(later.begin(), later.end(), [](const Readings& v) { return !v.empty(); });
  return any == later.end() ? Readings{} : *any;
}

bool same_state(const visit::ReadingEntry& a, const visit::ReadingEntry& b) {
  machine::Condition one = a.condition;
  machine::Condition other = b.condition;
  for (machine::Condition* c : {&one, &other}) {
    c->since_start.reset();
    c->rest_before.reset();
  }
  return a.point == b.point && one == other;
}

// Of too many readings, those go first that were read again later in the same state.
void thin(std::vector<Said<visit::ReadingEntry>>& readings) {
  for (auto r = readings.begin(); r != readings.end() && std::ssize(readings) > kMostReadings;) {
    const bool again = std::any_of(
        r + 1, readings.end(), [&](const auto& later) { return same_state(r->body, later.body); });
    r = again ? readings.erase(r) : r + 1;
  }
  if (std::ssize(readings) > kMostReadings) {
    readings.erase(readings.begin(), readings.end() - kMostReadings);
  }
}

// When a setting of the blend that was finished began.
struct Setting {
  std::size_t order = 0;
  long long at = 0;  // [s]
};
std::vector<Setting> settings_of(const book::Folded& now) {
  std::vector<Setting> out;
  for (const book::Current& left : now.blends_left) {
    const auto begun = std::find_if(now.blends.rbegin(), now.blends.rend(), [&](const auto& b) {
      return b.order < left.order;
    });
    if (begun == now.blends.rend()) continue;
    if (!out.empty() && out.back().order == begun->order) continue;  // left, and left otherwise
    out.push_back({begun->order, book::seconds_of(begun->at)});
  }
  return out;
}

// What the product was with the blend as another setting left it tells nothing of how it stands
// after `setting` of them.
void keep_one_setting(const std::vector<Setting>& settings,
                      std::size_t setting,
                      Readings& readings) {
  std::erase_if(readings, [&](const Said<visit::ReadingEntry>& r) {
    const bool product = r.body.point == machine::Point::kProductQuality ||
                         r.body.point == machine::Point::kProductFlow;
    if (!product || r.body.condition.blend != machine::BlendState::kAsSet) return false;
    const auto after = std::count_if(
        settings.begin(), settings.end(), [&](const Setting& s) { return s.order < r.order; });
    return after != static_cast<std::ptrdiff_t>(setting);
  });
}

// The readings of the first days belong to the blend as it was left then; the others to how it
// stands now.
void part_by_blend(const book::Folded& now, FirstDays days, SiteState& state) {
  const std::vector<Setting> settings = settings_of(now);
  keep_one_setting(settings, settings.size(), state.readings);
  if (days.first.empty()) return;
  const long long end = book::seconds_of({days.first.back().at}) + kVisitGap;
  const auto then = std::count_if(
      settings.begin(), settings.end(), [&](const Setting& s) { return s.at <= end; });
  const auto n = static_cast<std::size_t>(then);
  keep_one_setting(settings, n, days.first);
  for (Readings& visit : days.later) keep_one_setting(settings, n, visit);
  state.first = std::move(days.first);
  state.again = read_again(days.later);
  if (n == settings.size()) return;
  for (const book::Current& machine : now.machines_said) {
    if (machine.order > settings[n].order) break;
    // What was corrected since may have been wrong in any way.
    fields::ReadContext aside;
    const auto before = said<machine::MachineEntry>(machine, aside);
    if (!before) continue;
    // A machine that had none then lets nothing in.
    const auto& blend = before->body.blend;
    state.first_opening = blend ? blend->opening : 0;
  }
}

// Whether the machine was entered with another opening after its valve was left; the entry that is
// written with how it was left is none of those.
bool entered_since_left(const book::Folded& now, const SiteState& state) {
  constexpr long long kTogether = 5;  // [s]
  if (!state.blend_left || !state.machine || !state.machine->body.blend) return false;
  if (state.machine->order < state.blend_left->order) return false;
  const long long left = book::seconds_of({state.blend_left->at});
  std::optional<double> as_left;
  for (const book::Current& machine : now.machines_said) {
    if (machine.order > state.blend_left->order && book::seconds_of(machine.at) > left + kTogether)
      break;
    fields::ReadContext aside;
    const auto entry = said<machine::MachineEntry>(machine, aside);
    if (entry && entry->body.blend) as_left = entry->body.blend->opening;
  }
  return as_left && *as_left != state.machine->body.blend->opening;
}

}  // namespace

machine::MachineEntry on_first_day(const SiteState& state) {
  machine::MachineEntry entry = state.machine->body;
  if (entry.blend && state.first_opening) entry.blend->opening = *state.first_opening;
  auto& run_time = entry.element.run_time;
  if (!run_time || state.first.empty()) return entry;
  const long long since =
      book::seconds_of({state.machine->at}) - book::seconds_of({state.first.front().at});
  if (since > 0) {
    *run_time = units::Time(std::fmax(0.0, run_time->si() - static_cast<double>(since)));
  }
  return entry;
}

bool first_day_is_provisional(const SiteState& state) {
  const auto run_time = on_first_day(state).element.run_time;
  return state.again.empty() && !(run_time && *run_time >= visit::kSettledAfter);
}

units::Time read_again_after(const SiteState& state) {
  CHECK(!state.first.empty() && !state.again.empty());
  return units::Time(static_cast<double>(book::seconds_of({state.again.front().at}) -
                                         book::seconds_of({state.first.front().at})));
}

std::string read_again_from(const SiteState& state) {
  CHECK(!state.first.empty());
  // Up to the next whole minute, so that it is not told to come too early.
  const long long from = book::seconds_of({state.first.front().at}) +
                         static_cast<long long>(visit::kSettledAfter.si()) + 59;
  const std::chrono::sys_seconds at{std::chrono::seconds(from)};
  const auto day = std::chrono::floor<std::chrono::days>(at);
  const std::chrono::year_month_day date{day};
  const std::chrono::hh_mm_ss time{at - day};
  return fmt::format("{:04}-{:02}-{:02} {:02}:{:02} UTC",
                     static_cast<int>(date.year()),
                     static_cast<unsigned>(date.month()),
                     static_cast<unsigned>(date.day()),
                     time.hours().count(),
                     time.minutes().count());
}

std::vector<visit::ReadingEntry> bodies_of(std::span<const Said<visit::ReadingEntry>> readings) {
  std::vector<visit::ReadingEntry> bodies;
  for (const auto& r : readings) bodies.push_back(r.body);
  return bodies;
}

CourseState course_state(const SiteState& state, const visit::CourseChoices& choices) {
  CourseState out{.course = visit::course_of(state.machine->body, state.survey->body, choices)};
  std::vector<visit::LoggedStep> log;
  for (const auto& s : state.steps) log.push_back({s.body, s.at, s.order});
  out.standings = visit::standings(out.course, log);
  return out;
}

std::optional<CourseState> begun_course(const SiteState& state) {
  if (!state.start_up) return std::nullopt;
  const visit::StartUpEntry& begun = state.start_up->body;
  return course_state(state, {begun.sanitise, begun.membrane_in});
}

std::span<const Said<visit::ReadingEntry>> visit_before(const SiteState& state) {
  const Readings& all = state.earlier;
  std::size_t begins = all.size();
  while (begins > 0 && (begins == all.size() || book::seconds_of({all[begins].at}) -
                                                        book::seconds_of({all[begins - 1].at}) <=
                                                    kVisitGap)) {
    --begins;
  }
  return std::span(all).subspan(begins);
}

bool visit_is_over(const SiteState& state, long long now) {
  long long last = 0;
  for (const auto& r : state.readings) last = std::max(last, book::seconds_of({r.at}));
  for (const auto& n : state.not_possible) last = std::max(last, book::seconds_of({n.at}));
  return now - last > kVisitGap;
}

bool blend_is_unfinished(const SiteState& state) {
  const auto since = [&](std::size_t order) {
    return !state.blend_left || state.blend_left->order < order;
  };
  return (state.blend && since(state.blend->order)) ||
         (!state.blend_turns.empty() && since(state.blend_turns.back().order));
}

std::optional<double> blend_turns_now(const SiteState& state) {
  const auto& turned = state.turned_last;
  const auto& left = state.blend_left;
  if (turned && (!left || left->order < turned->order)) return turned->body.turns;
  if (left && !state.blend_entered_since) return left->body.turns;
  return std::nullopt;
}

base::Result<SiteState> site_state(const book::SiteFile& file, fields::ReadContext& context) {
  const book::Folded now = book::fold(file, context.path);
  SiteState state;
  TRY(state.site, said<book::SiteName>(now.site, context));
  TRY(state.survey, said<visit::SurveyEntry>(now.survey, context));
  if (!now.machines.empty()) {
    TRY(state.machine, said<machine::MachineEntry>(now.machines.back(), context));
  }

  std::vector<long long> moments;
  for (const auto* list : {&now.readings, &now.not_possible}) {
    for (const book::Current& c : *list) moments.push_back(book::seconds_of(c.at));
  }
  const std::vector<long long> begins = visits_of(std::move(moments));
  const auto is_of_latest = [&](const book::Current& c) {
    return book::seconds_of(c.at) >= begins.back();
  };
  std::vector<Said<visit::ReadingEntry>> readings;
  for (const book::Current& c : now.readings) {
    TRY(auto reading, said<visit::ReadingEntry>(c, context));
    (is_of_latest(c) ? state.readings : state.earlier).push_back(reading);
    readings.push_back(std::move(reading));
  }
  TRY(const long long put_in, put_in_at(now.start_ups, context));
  if (state.machine && state.machine->body.element.run_time &&
      book::seconds_of({state.machine->at}) <= put_in) {
    state.machine->body.element.run_time = units::Time(0);
    state.machine->written["element"]["run_time_h"] = 0;
  }
  std::erase_if(state.readings, [&](const auto& r) { return is_of_old_membrane(r, put_in); });
  const auto left_with_it =
      std::stable_partition(state.earlier.begin(), state.earlier.end(), [&](const auto& r) {
        return !is_of_old_membrane(r, put_in);
      });
  state.of_membrane_before.assign(left_with_it, state.earlier.end());
  state.earlier.erase(left_with_it, state.earlier.end());
  for (const book::Current& c : now.not_possible) {
    if (!is_of_latest(c)) continue;
    TRY(auto one, said<visit::NotPossibleEntry>(c, context));
    // It became possible later.
    const bool read = std::any_of(state.readings.begin(), state.readings.end(), [&](const auto& r) {
      return r.body.point == one.body.point && r.at >= one.at;
    });
    if (!read) state.not_possible.push_back(std::move(one));
  }
  for (const book::Current& c : now.photos) {
    TRY(auto photo, said<book::PhotoEntry>(c, context));
    state.photos.push_back(std::move(photo));
  }
  if (!now.start_ups.empty()) {
    TRY(state.start_up, said<visit::StartUpEntry>(now.start_ups.back(), context));
  }
  for (const book::Current& c : now.steps) {
    TRY(auto step, said<visit::StepEntry>(c, context));
    state.steps.push_back(std::move(step));
  }
  if (!now.blends.empty()) {
    TRY(state.blend, said<visit::BlendWorkEntry>(now.blends.back(), context));
  }
  for (const book::Current& c : now.blend_turns) {
    TRY(auto turn, said<visit::BlendTurnEntry>(c, context));
    state.blend_turns.push_back(std::move(turn));
  }
  TRY(state.turned_last, said<visit::BlendTurnEntry>(now.turned_last, context));
  if (!now.blends_left.empty()) {
    TRY(state.blend_left, said<visit::BlendLeftEntry>(now.blends_left.back(), context));
  }
  part_by_blend(
      now, first_days(readings, begins, std::max(put_in, entered_since(now.machines))), state);
  state.blend_entered_since = entered_since_left(now, state);
  TRY(state.handed_over, said<book::HandedOverEntry>(now.handed_over, context));
  if (const auto& over = state.handed_over) {
    const auto before =
        static_cast<std::size_t>(over->body.covers.value_or(static_cast<int>(over->order)));
    state.changed_since = before != over->order || over->order + 1 < file.entries.size();
  }
  if (std::ssize(state.readings) > kMostReadings) {
    const auto most = static_cast<double>(kMostReadings);
    context.warnings.push_back(
        {"warning.job.readings", {{"n", base::Number{most, "", messages::digits_of(most)}}}});
    thin(state.readings);
  }
  state.warnings = context.warnings;
  return state;
}

}  // namespace drawoff::api
