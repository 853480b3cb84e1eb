#include "visit/course_log.h"

#include <algorithm>

#include "fields/errors.h"

namespace drawoff {

namespace visit {

std::vector<StepStanding> standings(std::span<const CourseStep> course,
                                    std::span<const LoggedStep> log) {
  std::vector<StepStanding> out(course.size());
  for (const LoggedStep& logged : log) {
    const StepEntry& e = logged.entry;
    const auto same = std::find_if(course.begin(), course.end(), [&](const CourseStep& s) {
      const bool part =
          !s.filter || (e.part && *e.part == static_cast<int>(*s.filter) && e.filter == s.kind);
      return s.step == e.step && part;
    });
    if (same == course.end()) continue;
    const auto at = out.begin() + (same - course.begin());
    at->state = e.state;
    at->note = e.note;
    at->found = e.found;
    at->at = logged.at;
    if (e.state == StepState::kBegun) at->begun_at = logged.at;
    at->early = at->settled() && std::any_of(out.begin(), at, [](const StepStanding& before) {
                  return !before.settled();
                });
  }
  return out;
}

bool is_test(Step step) {
  switch (step) {
    case Step::kChlorineZero:
    case Step::kJointsDry:
    case Step::kJointsAgain:
    case Step::kShutOff:
    case Step::kRestart:
    case Step::kRestTest:
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
