#include "api/job_output.h"
#include "api/solved.h"
#include "book/site_file.h"

namespace drawoff::api {

namespace {

// Before a machine is chosen: the verdict on the water.
base::Result<Job> source_job(const SiteState& state, bool explain) {
  TRY(const JudgedSource source, judge_source(state, {}));
  Working working(explain);
  JobOutput out{.site = state.site->body.name};
  out.verdict = verdict_output(source.verdict, working, "verdict.");
  Job job{.output = fields::write(out),
          .lines = source_in_words(state, source.verdict),
          .warnings = state.warnings};
  if (explain) job.output["working"] = written(working);
  return job;
}

// Of the start-up that was begun, if one was.
std::vector<JobStep> steps_of(const SiteState& state) {
  const auto course = begun_course(state);
  if (!course) return {};
  std::vector<JobStep> out;
  for (std::size_t i = 0; i < course->course.size(); ++i) {
    const visit::StepStanding& s = course->standings[i];
    out.push_back({.key = visit::key_of(course->course[i]),
                   .state = s.state,
                   .settled = s.settled(),
                   .early = s.early,
                   .wait = s.wait,
                   .counted = s.counted,
                   .note = s.note,
                   .at = s.at});
  }
  return out;
}

}  // namespace

base::Result<Job> job(std::string_view site_file, bool explain) {
  fields::ReadContext context;
  TRY(const book::SiteFile file, book::read_site_file(site_file, context));
  TRY(SiteState state, site_state(file, context));
  if (state.site && state.survey && !state.machine) return source_job(state, explain);
  if (auto error = lacks(state)) return *std::move(error);
  TRY(const Solved solved, solve(std::move(state), {}));
  Working working(explain);
  JobOutput out{.site = solved.state.site->body.name};
  out.verdict = verdict_output(solved.verdict, working, "verdict.");
  out.start_up = accept_output(solved.start_up, working, "start_up.");
  TRY(const visit::FirstDay own, first_day_of(solved, {}));
  out.first_day = first_day_output(own, working, "first_day.");
  out.steps = steps_of(solved.state);
  out.handed_over = handed_over_output(solved.state);
  Job job{.output = fields::write(out),
          .lines = in_words(solved, fields::UnitSystem::kMetric, &own),
          .warnings = solved.state.warnings};
  if (explain) job.output["working"] = written(working);
  return job;
}

}  // namespace drawoff::api
