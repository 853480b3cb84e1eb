#include "visit/course_log.h"

#include <algorithm>

#include "fields/errors.h"

namespace drawoff {

namespace visit {

namespace {

bool is_of_filter(Step step) { return step == Step::kFilterIn || step == Step::kFilterFlush; }

// What a cartridge may undo: carbon that was not read, joints that were opened.
bool hangs_on_filters(Step step) {
  return step == Step::kChlorineZero || step == Step::kJointsDry || step == Step::kJointsAgain ||
         step == Step::kJointsEnd;
}

// A test is to be done again where a filter that stands before it in the course was settled since,
// or is open though it was settled then: another one was put in.
void reopen_behind_new_filters(std::span<const CourseStep> course,
                               std::vector<StepStanding>& standings) {
  for (std::size_t i = 0; i < course.size(); ++i) {
    StepStanding& test = standings[i];
    if (!hangs_on_filters(course[i].step) || test.state != StepState::kDone) continue;
    for (std::size_t f = 0; f < i; ++f) {
      if (!is_of_filter(course[f].step)) continue;
      const StepStanding& filter = standings[f];
      test.again |= filter.settled() ? filter.order > test.order : !test.early;
    }
  }
}

}  // namespace

std::vector<StepStanding> standings(std::span<const CourseStep> course,
                                    std::span<const LoggedStep> log) {
  std::vector<StepStanding> out(course.size());
  // Whether a step's place in the course was settled, also by a filter that is no more: what stood
  // before a step at that time.
  std::vector<bool> settled(course.size());
  for (const LoggedStep& logged : log) {
    const StepEntry& e = logged.entry;
    const auto same = std::find_if(course.begin(), course.end(), [&](const CourseStep& s) {
      return s.step == e.step && (!s.filter || (e.part && *e.part == static_cast<int>(*s.filter)));
    });
    if (same == course.end()) continue;
    const auto i = same - course.begin();
    const auto at_i = settled.begin() + i;
    *at_i = e.state == StepState::kDone || e.state == StepState::kSkipped;
    if (same->filter && e.filter != same->kind) continue;
    StepStanding& at = out[static_cast<std::size_t>(i)];
    at.state = e.state;
    at.note = e.note;
    at.found = e.found;
    at.wait = e.wait;
    at.counted = e.counted;
    at.at = logged.at;
    at.order = logged.order;
    if (e.state == StepState::kBegun) at.begun_at = logged.at;
    if (e.state == StepState::kNotGood) at.not_good_at = logged.at;
    at.early = at.settled() && std::find(settled.begin(), at_i, false) != at_i;
  }
  reopen_behind_new_filters(course, out);
  return out;
}

bool is_test(Step step) {
  switch (step) {
    case Step::kChlorineZero:
    case Step::kJointsDry:
    case Step::kJointsAgain:
    case Step::kFlows:
    case Step::kShutOff:
    case Step::kRestart:
    case Step::kRestTest:
    case Step::kFinalReadings:
    case Step::kJointsEnd:
      return true;
    default:
      return false;
  }
}

std::string key_of(const CourseStep& step) {
  std::string key(fields::name_of(step.step));
  if (step.filter) key += "." + std::to_string(*step.filter);
  return key;
}

}  // namespace visit

namespace fields {

base::Result<base::Done> Table<visit::StepEntry>::check(const T& entry, const Path& path) {
  if (entry.state != visit::StepState::kSkipped || !entry.note.empty()) return base::Done{};
  return base::Error{base::ErrorKind::kData,
                     {"error.step.no_reason", {{"path", path_argument(path / "note")}}}};
}

}  // namespace fields

}  // namespace drawoff
