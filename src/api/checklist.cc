#include "api/blend_words.h"
#include "api/course_screen.h"
#include "api/job_output.h"
#include "api/solved.h"
#include "api/start_up_question.h"
#include "book/site_file.h"
#include "fields/errors.h"

namespace drawoff::api {
namespace {

using base::Message;
using Kind = JobLine::Kind;

// A sentence that has its words already.
Message said(const std::string& text) { return {"job.note", {{"note", text}}}; }

}  // namespace

base::Result<Job> checklist(std::string_view site_file,
                            const ChecklistOptions& options,
                            const messages::Catalogue& words) {
  fields::ReadContext context;
  TRY(const book::SiteFile file, book::read_site_file(site_file, context));
  TRY(SiteState state, site_state(file, context));
  if (auto error = lacks(state)) return *std::move(error);
  const visit::StartUpEntry begun =
      state.start_up ? state.start_up->body
                     : visit::StartUpEntry{options.sanitise, options.membrane_in, {}};
  const CourseState stands = course_state(state, {begun.sanitise, begun.membrane_in});
  Working working(false);
  TRY(const StartUpOutput course,
      ask_start_up({.survey = state.survey->body,
                    .machine = state.machine->body,
                    .sanitise = begun.sanitise,
                    .membrane_in = begun.membrane_in},
                   working,
                   words));
  Job out{.output = fields::write(course), .warnings = state.warnings};
  const auto add = [&](Kind kind, Message m) { out.lines.push_back({kind, {std::move(m)}}); };
  add(Kind::kTitle, {"checklist.title", {{"site", state.site->body.name}}});
  if (!course.will_not_run.empty()) add(Kind::kCaution, said(course.will_not_run));
  for (std::size_t i = 0; i < course.steps.size(); ++i) {
    const CourseStepOutput& step = course.steps[i];
    const auto n = static_cast<double>(i + 1);
    add(Kind::kHeading,
        {"checklist.step", {{"n", fields::given_number(n, nullptr)}, {"what", step.what}}});
    const std::string stands_so =
        standing_in_words(course.steps[i].step, stands.standings[i], words);
    if (!stands_so.empty()) add(Kind::kText, said(stands_so));
    if (const auto left = step.step == visit::Step::kBlend ? left_in_words(state) : std::nullopt) {
      add(Kind::kText, *left);
    }
    for (const std::string& caution : step.cautions) add(Kind::kCaution, said(caution));
    add(Kind::kText, said(step.why));
    for (const std::string& note : step.notes) add(Kind::kText, said(note));
    if (!step.takes.empty()) add(Kind::kText, said(step.takes));
    for (const CourseNumber& number : step.numbers) {
      add(Kind::kText, said(number.says));
    }
    for (const PointBand& p : step.expected) {
      add(Kind::kText,
          expected_in_words(
              base::Ref{visit::point_id(p.point)}, p.expected, fields::UnitSystem::kMetric));
    }
  }
  return out;
}

}  // namespace drawoff::api
