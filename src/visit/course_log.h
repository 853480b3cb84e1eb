// What was done of a start-up, and how its steps stand by that: docs/formats/site-file.md.
//
// A step is settled when it was done or skipped with a reason. One that was found not good stays
// open, and so does one that was begun again, or opened again because it was settled by mistake:
// then no clock runs, and what was noted and found is that entry's. Nothing forces the order; a
// step that was settled while one before it was open says so for good.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "machine/plates_fields.h"
#include "visit/course.h"
#include "visit/found.h"

namespace drawoff::visit {

// That a start-up begins, and what it includes. Steps before the latest of these are of another.
struct StartUpEntry {
  bool sanitise = false;
  bool membrane_in = false;
  // What was read before, of all but the water, tells of a membrane that has left.
  bool new_membrane = false;
  fields::Json unknown;
};

enum class StepState { kBegun, kDone, kNotGood, kSkipped, kOpened };

struct StepEntry {
  Step step = Step::kPowerOff;
  // Of the steps of a filter: which of the machine's it was, and of what kind. Another kind in its
  // place is another filter, which nobody flushed.
  std::optional<int> part;
  std::optional<machine::FilterKind> filter;
  StepState state = StepState::kDone;
  std::string note;               // why it was skipped, what was seen
  std::vector<FoundEntry> found;  // what it showed
  // Of a step with a wait: the least of it that was on the screen, and how much of that its clock
  // had counted. Without the latter no clock ran: a watch of one's own is as good.
  std::optional<units::Time> wait;
  std::optional<units::Time> counted;
  fields::Json unknown;
};

// An entry and when it was made, in the order of time.
struct LoggedStep {
  StepEntry entry;
  std::string at;         // UTC
  std::size_t order = 0;  // by the logical clock: at may have been set back
};

struct StepStanding {
  std::optional<StepState> state;
  std::string note;
  std::vector<FoundEntry> found;
  std::optional<units::Time> wait;  // as in its entry
  std::optional<units::Time> counted;
  std::string at;           // of the entry that holds; empty if none
  std::size_t order = 0;    // of that entry
  std::string begun_at;     // of the last begin, also when it is over
  std::string not_good_at;  // when it was last found not good, also when that is over
  bool early = false;       // settled while a step before it was open
  // Done, and to be done again: a filter before it was fitted or flushed since.
  bool again = false;
  [[nodiscard]] bool settled() const {
    return !again && (state == StepState::kDone || state == StepState::kSkipped);
  }
  // Done before its clock had counted the wait.
  [[nodiscard]] bool short_of_wait() const {
    return state == StepState::kDone && wait && counted && *counted < *wait;
  }
  // Done without its clock.
  [[nodiscard]] bool clock_unused() const { return state == StepState::kDone && wait && !counted; }
};

// One for each step of the course; what the log says of steps that the machine no longer has is
// left out.
std::vector<StepStanding> standings(std::span<const CourseStep> course,
                                    std::span<const LoggedStep> log);

// Whether a step asks for a verdict: as it should be, or not.
bool is_test(Step step);

// "filter_flush.1": a step's name in addresses.
std::string key_of(const CourseStep& step);

}  // namespace drawoff::visit

namespace drawoff::fields {

template <>
struct EnumTable<visit::StepState> {
  static constexpr std::string_view name = "step_state";
  static constexpr std::array list = {choice(visit::StepState::kBegun, "begun"),
                                      choice(visit::StepState::kDone, "done"),
                                      choice(visit::StepState::kNotGood, "not_good"),
                                      choice(visit::StepState::kSkipped, "skipped"),
                                      choice(visit::StepState::kOpened, "opened")};
};
template <>
struct Table<visit::StartUpEntry> {
  using T = visit::StartUpEntry;
  static constexpr std::string_view name = "start_up";
  static constexpr auto list = std::make_tuple(field("sanitise", &T::sanitise),
                                               field("membrane_in", &T::membrane_in),
                                               field("new_membrane", &T::new_membrane));
  static constexpr auto unknown = &T::unknown;
};
template <>
struct Table<visit::StepEntry> {
  using T = visit::StepEntry;
  static constexpr std::string_view name = "step_entry";
  static constexpr auto list =
      std::make_tuple(field("step", &T::step, kRequired),
                      field("part", &T::part, Range{0, 100}),
                      field("filter", &T::filter),
                      field("state", &T::state, kRequired),
                      field("note", &T::note, Range{0, 400}),
                      field("found", &T::found, Range{0, visit::kMostFound}),
                      field("wait_min", &T::wait, Range{0, 1e5}),
                      field("counted_min", &T::counted, Range{0, 1e5}));
  static constexpr auto unknown = &T::unknown;
  // What is skipped has a reason.
  static base::Result<base::Done> check(const T& entry, const Path& path);
};

}  // namespace drawoff::fields
