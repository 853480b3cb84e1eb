#include "api/site_state.h"

#include <algorithm>

#include "base/message.h"
#include "machine/plates_fields.h"
#include "messages/number.h"

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

// When the latest visit began, and when the first one ended [s].
struct Visits {
  long long latest_begins = 0;
  long long first_ends = 0;
};
Visits visits_of(std::vector<long long> moments) {
  std::sort(moments.begin(), moments.end());
  Visits visits;
  if (moments.empty()) return visits;
  visits = {.latest_begins = moments.front(), .first_ends = moments.back()};
  for (std::size_t i = moments.size(); i-- > 1;) {
    if (moments[i] - moments[i - 1] <= kVisitGap) continue;
    if (visits.latest_begins == moments.front()) visits.latest_begins = moments[i];
    visits.first_ends = moments[i - 1];
  }
  return visits;
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

}  // namespace

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

bool visit_is_over(const SiteState& state, long long now) {
  long long last = 0;
  for (const auto& r : state.readings) last = std::max(last, book::seconds_of({r.at}));
  for (const auto& n : state.not_possible) last = std::max(last, book::seconds_of({n.at}));
  return now - last > kVisitGap;
}

base::Result<SiteState> site_state(const book::SiteFile& file, fields::ReadContext& context) {
  const book::Folded now = book::fold(file, context.path);
  SiteState state;
  TRY(state.site, said<book::SiteName>(now.site, context));
  TRY(state.survey, said<visit::SurveyEntry>(now.survey, context));
  TRY(state.machine, said<machine::MachineEntry>(now.machine, context));

  std::vector<long long> moments;
  for (const auto* list : {&now.readings, &now.not_possible}) {
    for (const book::Current& c : *list) moments.push_back(book::seconds_of(c.at));
  }
  const Visits visits = visits_of(std::move(moments));
  for (const book::Current& c : now.readings) {
    TRY(auto reading, said<visit::ReadingEntry>(c, context));
    if (book::seconds_of(c.at) <= visits.first_ends) state.first.push_back(reading);
    const bool latest = book::seconds_of(c.at) >= visits.latest_begins;
    (latest ? state.readings : state.earlier).push_back(std::move(reading));
  }
  for (const book::Current& c : now.not_possible) {
    if (book::seconds_of(c.at) < visits.latest_begins) continue;
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
  TRY(state.start_up, said<visit::StartUpEntry>(now.start_up, context));
  for (const book::Current& c : now.steps) {
    TRY(auto step, said<visit::StepEntry>(c, context));
    state.steps.push_back(std::move(step));
  }
  TRY(state.blend, said<visit::BlendWorkEntry>(now.blend, context));
  for (const book::Current& c : now.blend_turns) {
    TRY(auto turn, said<visit::BlendTurnEntry>(c, context));
    state.blend_turns.push_back(std::move(turn));
  }
  TRY(state.blend_left, said<visit::BlendLeftEntry>(now.blend_left, context));
  TRY(state.handed_over, said<book::HandedOverEntry>(now.handed_over, context));
  state.changed_since = state.handed_over && state.handed_over->order + 1 < file.entries.size();
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
