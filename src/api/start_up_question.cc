#include "api/start_up_question.h"

#include <fmt/format.h>

#include "api/transient_draws.h"
#include "transients/flush.h"

namespace drawoff::api {
namespace {

using transients::Residue;
using visit::Step;

// What a step flushes out, if it flushes.
std::optional<Residue> flushes(Step step) {
  switch (step) {
    case Step::kSanitiserRinse:
      return Residue::kSanitiser;
    case Step::kFirstRun:
      return Residue::kPreservative;
    case Step::kPolishFlush:
      return Residue::kCarbonFines;
    case Step::kBlend:
      return Residue::kBlendChange;
    default:
      return std::nullopt;
  }
}

// So much of it may be left: of a change that is to be read, less than the meter sees.
double left_of(Residue residue) { return residue == Residue::kBlendChange ? 0.05 : 0.001; }

struct Times {
  std::vector<double> volume, time;
};
Times times_of(const StartUpInput& in,
               const machine::Condition& condition,
               const TransientDraws& draws,
               Residue residue) {
  Times out;
  for (const TransientDraw& draw : draws.draws) {
    const auto paths = transients::flush_paths(in.machine, condition, draw.plant, residue);
    double volume = 0;
    double time = 0;
    for (const auto& path : {paths.feed, paths.product}) {
      if (!path) continue;
      const auto flushed = transients::flushed(*path, left_of(residue));
      volume += flushed.volume;
      time = std::max(time, flushed.time);
    }
    if (time <= 0) continue;
    out.volume.push_back(volume);
    out.time.push_back(time);
  }
  return out;
}

const visit::Expectation* expectation_of(machine::Point point, const visit::StartUp& start_up) {
  for (const visit::Expectation& e : start_up.expected) {
    if (e.point == point) return &e;
  }
  return nullptr;
}

}  // namespace

base::Result<StartUpOutput> ask_start_up(const StartUpInput& in,
                                         Working& working,
                                         const messages::Catalogue& words) {
  const machine::Condition condition{.product_to = machine::ProductVessel::kJug};
  TRY(const visit::StartUp start_up,
      visit::judge_start_up(
          in.survey,
          in.machine,
          {},
          {.draws = std::max(in.draws, 100), .seed = static_cast<std::uint64_t>(in.seed)}));
  TRY(const TransientDraws draws,
      transient_draws(in.survey, {}, in.machine, condition, in.draws, in.seed));
  const bool runs = can_tell(draws);
  const auto say = [&](const std::string& id) {
    return messages::render(words, base::Message{id});
  };
  StartUpOutput out{.assumed = machine::assumed(in.machine)};
  for (const visit::CourseStep& s :
       visit::course_of(in.machine, in.survey, {in.sanitise, in.membrane_in})) {
    const std::string name(fields::name_of(s.step));
    const std::string at = fmt::format("steps[{}]", out.steps.size());
    CourseStepOutput step{
        .step = s.step, .what = say("course.what." + name), .why = say("course.why." + name)};
    if (s.filter) {
      step.part = static_cast<long long>(*s.filter);
      const std::string kind(fields::name_of(in.machine.filters[*s.filter].kind));
      step.what = messages::render(
          words,
          {"course.filter", {{"part", base::Ref{"part.filter." + kind}}, {"what", step.what}}});
      working.add({.result = at + ".part",
                   .symbol = "i",
                   .formula = "i",
                   .inputs = {},
                   .value = static_cast<double>(*step.part),
                   .unit = "",
                   .source = "definition"});
    }
    for (const char* id : s.cautions) step.cautions.push_back(say(id));
    if (s.wait) {
      const std::vector<double> same(1, s.wait->si());
      step.wait = band_of(same, "min", working, at + ".wait", {"t", "common practice, no source"});
    }
    if (const auto residue = flushes(s.step); residue && runs) {
      const Times times = times_of(in, condition, draws, *residue);
      if (times.time.size() >= kLeastTransientDraws) {
        const WorkingInput left{"c/c_0", left_of(*residue) * 100, "%"};
        step.wait = band_of(times.time,
                            "min",
                            working,
                            at + ".wait",
                            {"t = max(t_feed, t_product)", "mass balance", {left}});
        step.volume = band_of(times.volume,
                              "L",
                              working,
                              at + ".volume",
                              {"x where c/c_0 is left", "levenspiel1999", {left}});
      }
    }
    for (const machine::Point point : s.readings) {
      const visit::Expectation* e = expectation_of(point, start_up);
      if (e == nullptr) continue;
      const std::string path = fmt::format("{}.expected[{}].expected", at, step.expected.size());
      step.expected.push_back({point, band_at(point, e->expected)});
      explain_band(working, path, step.expected.back().expected, in.draws, "hyndman1996");
    }
    out.steps.push_back(std::move(step));
  }
  return out;
}

}  // namespace drawoff::api
