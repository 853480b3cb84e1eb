#include "api/job_output.h"
#include "api/solved.h"
#include "api/start_up_question.h"
#include "book/site_file.h"
#include "fields/errors.h"

namespace drawoff::api {
namespace {

using base::Message;
using base::Number;
using Kind = JobLine::Kind;

// A sentence that has its words already.
Message said(const std::string& text) { return {"job.note", {{"note", text}}}; }

std::optional<Message> how_long(const CourseStepOutput& step) {
  if (!step.wait) return std::nullopt;
  const bool sure = step.wait->low == step.wait->high;
  const auto number = [](double value, const char* unit) { return Number{value, unit, 2}; };
  if (sure) return Message{"checklist.wait", {{"time", number(step.wait->middle, "min")}}};
  if (!step.volume) {
    return Message{"checklist.between",
                   {{"low", number(step.wait->low, "")}, {"high", number(step.wait->high, "min")}}};
  }
  return Message{"checklist.flush",
                 {{"low", number(step.wait->low, "")},
                  {"high", number(step.wait->high, "min")},
                  {"from", number(step.volume->low, "")},
                  {"to", number(step.volume->high, "L")}}};
}

}  // namespace

base::Result<Job> checklist(std::string_view site_file,
                            const ChecklistOptions& options,
                            const messages::Catalogue& words) {
  fields::ReadContext context;
  TRY(const book::SiteFile file, book::read_site_file(site_file, context));
  TRY(SiteState state, site_state(file, context));
  if (auto error = lacks(state)) return *std::move(error);
  Working working(false);
  TRY(const StartUpOutput course,
      ask_start_up({.survey = state.survey->body,
                    .machine = state.machine->body,
                    .sanitise = options.sanitise,
                    .membrane_in = options.membrane_in},
                   working,
                   words));
  Job out{.output = fields::write(course), .warnings = state.warnings};
  const auto add = [&](Kind kind, Message m) { out.lines.push_back({kind, {std::move(m)}}); };
  add(Kind::kTitle, {"checklist.title", {{"site", state.site->body.name}}});
  for (std::size_t i = 0; i < course.steps.size(); ++i) {
    const CourseStepOutput& step = course.steps[i];
    const auto n = static_cast<double>(i + 1);
    add(Kind::kHeading,
        {"checklist.step", {{"n", fields::given_number(n, nullptr)}, {"what", step.what}}});
    for (const std::string& caution : step.cautions) add(Kind::kCaution, said(caution));
    add(Kind::kText, said(step.why));
    if (const auto m = how_long(step)) add(Kind::kText, *m);
    for (const PointBand& p : step.expected) {
      const auto* unit = units::unit_of_key(p.expected.unit);
      add(Kind::kText,
          {"checklist.expected",
           {{"point", base::Ref{visit::point_id(p.point)}},
            {"low", Number{p.expected.low, "", 2}},
            {"high",
             Number{p.expected.high, unit == nullptr ? "" : std::string(unit->symbol), 2}}}});
    }
  }
  return out;
}

}  // namespace drawoff::api
