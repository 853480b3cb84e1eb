#include "api/api.h"

#include <array>

#include "api/blend_question.h"
#include "api/blend_screen.h"
#include "api/course_screen.h"
#include "api/element_question.h"
#include "api/fill_question.h"
#include "api/first_day_question.h"
#include "api/first_glass_screen.h"
#include "api/flush_question.h"
#include "api/form_screen.h"
#include "api/found_screen.h"
#include "api/hold_question.h"
#include "api/leaf_screen.h"
#include "api/machine_question_fields.h"
#include "api/meter_question.h"
#include "api/own_screen.h"
#include "api/paper_screen.h"
#include "api/points_question.h"
#include "api/pours_question.h"
#include "api/quick_question.h"
#include "api/rating_question.h"
#include "api/report_question.h"
#include "api/rest_question.h"
#include "api/sanitise_question.h"
#include "api/say_screen.h"
#include "api/start_up_question.h"
#include "api/survey_water_question.h"
#include "api/tube_question.h"
#include "api/view_screen_fields.h"
#include "api/water_question.h"
#include "base/check.h"

namespace drawoff::api {

namespace {

// In the order of the work.
constexpr std::array kQuestions{
    question<visit::QuickCheck, QuickOutput, &ask_quick>("quick"),
    question<visit::CheckedMeter, MeterOutput, &ask_meter>("meter"),
    question<water::AnalysisEntry, WaterOutput, &ask_water>("water"),
    question<ReportInput, ReportOutput, &ask_report>("report"),
    question<SurveyWaterInput, SurveyWaterOutput, &ask_survey_water>("survey-water"),
    question<VerdictInput, VerdictOutput, &ask_verdict>("verdict"),
    question<ElementInput, ElementOutput, &ask_element>("element"),
    question<RatingInput, RatingOutput, &ask_rating>("rating"),
    question<MachineInput, MachineOutput, &ask_machine>("machine"),
    question<PointsInput, PointsOutput, &ask_points>("points"),
    question<FillInput, FillOutput, &ask_fill>("fill"),
    question<FlushInput, FlushOutput, &ask_flush>("flush"),
    question<SanitiseInput, SanitiseOutput, &ask_sanitise>("sanitise"),
    question<StartUpInput, StartUpOutput, &ask_start_up>("start-up"),
    question<HoldInput, HoldOutput, &ask_hold>("hold"),
    question<BlendInput, BlendOutput, &ask_blend>("blend"),
    question<PoursInput, PoursOutput, &ask_pours>("pours"),
    question<RestInput, RestOutput, &ask_rest>("rest"),
    question<TubeInput, TubeOutput, &ask_tube>("tube"),
    question<AcceptInput, AcceptOutput, &ask_accept>("accept"),
    question<FirstDayInput, FirstDayOutput, &ask_first_day>("first-day"),
};

constexpr std::array kScreens{
    question<ViewInput, ViewOutput, &ask_view>("view"),
    question<JudgeInput, JudgeOutput, &ask_judge>("judge"),
    question<CourseScreenInput, CourseScreenOutput, &ask_course>("course"),
    question<FoundInput, FoundOutput, &ask_found>("found"),
    question<BlendGuideInput, BlendGuideOutput, &ask_blend_guide>("blend_guide"),
    question<BlendReadingInput, BlendReadingOutput, &ask_blend_reading>("blend_reading"),
    question<FirstGlassInput, FirstGlassOutput, &ask_first_glass>("first_glass"),
    question<LeafInput, LeafOutput, &ask_leaf>("leaf"),
    question<OwnValuesInput, OwnValuesOutput, &ask_own_values>("own_values"),
    question<PaperInput, PaperOutput, &ask_paper>("paper"),
    question<FormInput, fields::Form, &ask_form>("form"),
    question<EnterInput, EnterOutput, &ask_enter>("enter"),
    question<SayInput, SayOutput, &ask_say>("say"),
    question<WordsInput, WordsOutput, &ask_words>("words"),
};

const Question* find(std::string_view name) {
  for (const Question& q : kQuestions) {
    if (q.name == name) return &q;
  }
  for (const Question& q : kScreens) {
    if (q.name == name) return &q;
  }
  return nullptr;
}

template <std::size_t kCount>
constexpr auto names_of(const std::array<Question, kCount>& questions) {
  std::array<std::string_view, kCount> result{};
  for (std::size_t i = 0; i < kCount; ++i) result[i] = questions[i].name;
  return result;
}

std::string failed(const base::Error& error, const messages::Catalogue& words) {
  constexpr auto kind = [](base::ErrorKind k) {
    switch (k) {
      case base::ErrorKind::kUsage:
        return "usage";
      case base::ErrorKind::kData:
        return "data";
      case base::ErrorKind::kVersion:
        return "version";
    }
    return "data";
  };
  return fields::dump(
      fields::Json{{"error", messages::render(words, error.message)}, {"kind", kind(error.kind)}});
}

}  // namespace

fields::Json written(const Working& working) {
  fields::Json lines = fields::Json::array();
  for (const WorkingLine& line : working.lines()) lines.push_back(fields::write(line));
  return lines;
}

void add_working(fields::Json& output_schema) {
  auto line = fields::schema<WorkingLine>(messages::catalogue("en"));
  for (const auto& [name, definition] : line["$defs"].items()) {
    output_schema["$defs"][name] = definition;
  }
  line.erase("$defs");
  line.erase("$schema");
  output_schema["properties"]["working"] = {{"type", "array"}, {"items", std::move(line)}};
}

base::Result<Answer> ask(const Request& request) {
  const Question* q = find(request.name);
  if (q == nullptr) {
    return base::Error{base::ErrorKind::kUsage, {"error.question", {{"name", request.name}}}};
  }
  return q->ask(request.input, request.explain, messages::catalogue(request.language));
}

std::span<const std::string_view> question_names() {
  static constexpr auto names = names_of(kQuestions);
  return names;
}

std::span<const std::string_view> screen_names() {
  static constexpr auto names = names_of(kScreens);
  return names;
}

fields::Json question_schema(std::string_view name) {
  const Question* q = find(name);
  CHECK(q != nullptr);
  return q->schema();
}

std::vector<fields::HelpLine> question_help(std::string_view name) {
  const Question* q = find(name);
  CHECK(q != nullptr);
  return q->help();
}

std::vector<std::string> message_ids() {
  std::vector<std::string> ids;
  for (const Question& q : kQuestions) {
    for (auto& id : q.message_ids()) ids.push_back(std::move(id));
    ids.push_back("question." + std::string(q.name));
  }
  for (const Question& q : kScreens) {
    for (auto& id : q.message_ids()) ids.push_back(std::move(id));
  }
  return ids;
}

std::string answer(std::string_view request) {
  auto parsed = fields::parse_json(request);
  const messages::Catalogue* words = &messages::catalogue("en");
  if (!parsed) return failed(parsed.error(), *words);
  const fields::Json& json = *parsed;
  const auto text = [&](const char* key) -> const std::string* {
    if (!json.is_object()) return nullptr;
    const auto found = json.find(key);
    return found == json.end() ? nullptr : found->get_ptr<const std::string*>();
  };
  const auto flag = [&](const char* key) {
    if (!json.is_object()) return false;
    const auto found = json.find(key);
    const bool* value = found == json.end() ? nullptr : found->get_ptr<const bool*>();
    return value != nullptr && *value;
  };
  const std::string* language = text("language");
  if (const std::string* catalogue = text("catalogue");
      catalogue != nullptr && language != nullptr) {
    return fields::dump(fields::Json{{"learned", messages::learn(*language, *catalogue)}});
  }
  if (language != nullptr) words = &messages::catalogue(*language);
  if (flag("schemas")) {
    fields::Json all = fields::Json::object();
    for (const auto names : {question_names(), screen_names()}) {
      for (const auto name : names) all[std::string(name)] = question_schema(name);
    }
    return fields::dump(all);
  }
  if (const std::string* site = text("job")) {
    const auto done = job(*site, flag("explain"));
    return done ? fields::dump(done->output) : failed(done.error(), *words);
  }
  if (const std::string* name = text("name")) {
    const auto input = json.find("input");
    const auto result = ask({.name = *name,
                             .input = input == json.end() ? fields::Json::object() : *input,
                             .explain = flag("explain"),
                             .language = words->language()});
    return result ? fields::dump(result->output) : failed(result.error(), *words);
  }
  return failed({base::ErrorKind::kUsage, {"error.request"}}, *words);
}

}  // namespace drawoff::api
