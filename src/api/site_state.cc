#include "api/site_state.h"

#include <algorithm>

#include "base/message.h"
#include "machine/plates_fields.h"

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
                 .body = std::move(body)};
}

template <class T>
base::Result<std::optional<Said<T>>> said(const std::optional<book::Current>& current,
                                          fields::ReadContext& context) {
  if (!current) return std::optional<Said<T>>();
  TRY(Said<T> one, said<T>(*current, context));
  return std::optional(std::move(one));
}

// When the latest visit began: the first moment after the last gap.
long long latest_visit(std::vector<long long> moments) {
  std::sort(moments.begin(), moments.end());
  for (std::size_t i = moments.size(); i-- > 1;) {
    if (moments[i] - moments[i - 1] > kVisitGap) return moments[i];
  }
  return moments.empty() ? 0 : moments.front();
}

}  // namespace

std::vector<visit::ReadingEntry> SiteState::judged() const {
  std::vector<visit::ReadingEntry> bodies;
  for (const auto& r : readings) bodies.push_back(r.body);
  return bodies;
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
  const long long begin = latest_visit(std::move(moments));
  for (const book::Current& c : now.readings) {
    TRY(auto reading, said<visit::ReadingEntry>(c, context));
    const bool latest = book::seconds_of(c.at) >= begin;
    (latest ? state.readings : state.earlier).push_back(std::move(reading));
  }
  for (const book::Current& c : now.not_possible) {
    if (book::seconds_of(c.at) < begin) continue;
    TRY(auto one, said<visit::NotPossibleEntry>(c, context));
    state.not_possible.push_back(std::move(one));
  }
  for (const book::Current& c : now.photos) {
    TRY(auto photo, said<book::PhotoEntry>(c, context));
    state.photos.push_back(std::move(photo));
  }
  if (std::ssize(state.readings) > kMostReadings) {
    context.warnings.push_back(
        {"warning.job.readings", {{"n", base::Number{static_cast<double>(kMostReadings), "", 3}}}});
    state.readings.erase(state.readings.begin(), state.readings.end() - kMostReadings);
  }
  state.warnings = context.warnings;
  return state;
}

}  // namespace drawoff::api
