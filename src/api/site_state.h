// A site as it stands: the fold of its file, read into the structs that the rest of the engine
// takes. What is not there yet is absent; what is there and wrong is one sentence.
//
// Readings belong to visits. A visit ends where nothing was written for half a day, so a round of
// checks on one morning is one visit, and its readings are judged together; earlier visits are what
// was read last time.
//
// A machine's first day is its first visit. A start-up with a new membrane, or a machine entered
// anew with another element or with one that has run for less time, begins anew: what was read
// before tells of what has left. A correction of the entry does not.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "book/fold.h"
#include "book/handed_over.h"
#include "book/photo.h"
#include "book/site_name.h"
#include "machine/plates.h"
#include "visit/blend_work.h"
#include "visit/course_log.h"
#include "visit/reading.h"
#include "visit/survey.h"

namespace drawoff::api {

inline constexpr long long kVisitGap = 12LL * 3600;  // [s]

// What an entry says, with the entry that says it.
template <class T>
struct Said {
  std::string id;         // of the entry that holds
  std::string first;      // of the record's first entry
  std::string at;         // UTC, of the record's first entry
  std::string author;     // of the entry that holds
  std::size_t order = 0;  // of that entry, by the logical clock: right though a clock was set
  T body;
  fields::Json written;  // the body as it stands in the entry: what was given, and no defaults
};

struct SiteState {
  std::optional<Said<book::SiteName>> site;
  std::optional<Said<visit::SurveyEntry>> survey;
  std::optional<Said<machine::MachineEntry>> machine;
  std::vector<Said<visit::ReadingEntry>> readings;  // of the latest visit, in the order of time
  std::vector<Said<visit::ReadingEntry>> earlier;   // of the visits before
  std::vector<Said<visit::ReadingEntry>> of_membrane_before;  // of a machine that has another now
  std::vector<Said<visit::ReadingEntry>> first;               // of the membrane's first visit
  // Of the first visit a day or more after that which read it in full, or of the first at all.
  std::vector<Said<visit::ReadingEntry>> again;
  std::optional<double> first_opening;  // of the blend then, where it was set anew since
  std::vector<Said<visit::NotPossibleEntry>> not_possible;  // of the latest visit
  std::vector<Said<book::PhotoEntry>> photos;
  std::optional<Said<visit::StartUpEntry>> start_up;
  std::vector<Said<visit::StepEntry>> steps;               // of that start-up, in the order of time
  std::optional<Said<visit::BlendWorkEntry>> blend;        // the latest setting of the blend
  std::vector<Said<visit::BlendTurnEntry>> blend_turns;    // of that setting, in the order of time
  std::optional<Said<visit::BlendTurnEntry>> turned_last;  // of any setting
  std::optional<Said<visit::BlendLeftEntry>> blend_left;   // how the valve was left last
  bool blend_entered_since = false;  // the machine, with another opening than it was left at
  std::optional<Said<book::HandedOverEntry>> handed_over;
  bool changed_since = false;  // something was added since it was handed over
  std::vector<base::Message> warnings;
};

// The machine as it stood on its first day: its membrane had then run for less time than when it
// was entered again, by the clock, and its blend stood as it was left then. The state must have a
// machine.
machine::MachineEntry on_first_day(const SiteState& state);
// Whether nothing was read a day or more after the membrane began to run: by the clock since its
// first reading, or by the time that the entry says it has run. The state must have a machine.
bool first_day_is_provisional(const SiteState& state);
// From the first reading of the membrane's first day to the first one that was read again.
units::Time read_again_after(const SiteState& state);

// When what is read again begins to count, a day after the membrane's first reading:
// "2026-03-04 09:12 UTC". There must be one.
std::string read_again_from(const SiteState& state);

std::vector<visit::ReadingEntry> bodies_of(std::span<const Said<visit::ReadingEntry>> readings);

// The readings of the visit before the latest one.
std::span<const Said<visit::ReadingEntry>> visit_before(const SiteState& state);

// Whether nothing was written to the latest visit for so long that another one begins.
bool visit_is_over(const SiteState& state, long long now);

// Whether a setting of the blend was begun, or turned at, and not left since.
bool blend_is_unfinished(const SiteState& state);
// How far the valve stands from shut, in turns, as the last hand on it says; none where nobody
// turned at it, or where the machine was entered otherwise since.
std::optional<double> blend_turns_now(const SiteState& state);

// How the start-up that the file tells of stands: its course and, beside each step, what was done.
struct CourseState {
  std::vector<visit::CourseStep> course;
  std::vector<visit::StepStanding> standings;
};
// Needs a survey and a machine.
CourseState course_state(const SiteState& state, const visit::CourseChoices& choices);
// The same of the start-up that was begun; absent where none was.
std::optional<CourseState> begun_course(const SiteState& state);

base::Result<SiteState> site_state(const book::SiteFile& file, fields::ReadContext& context);

}  // namespace drawoff::api
