#include "api/handover.h"

#include <algorithm>

#include "api/path_view.h"
#include "water/meter.h"

namespace drawoff::api {
namespace {

using base::Message;
using base::Number;
using machine::Point;
using paper::Block;
using paper::Size;
using paper::Weight;

class Sheet {
 public:
  Sheet(const Solved& solved, const PaperOptions& options, const messages::Catalogue& words)
      : solved_(solved),
        options_(options),
        words_(words),
        call_(call_of(solved.state, options.call)) {}

  paper::Document users() const {
    paper::Document doc = page("paper.users");
    if (const auto first = before_drinking(solved_); !first.empty()) {
      doc.blocks.push_back(not_yet(first));
    }
    doc.blocks.push_back(heading("paper.users.does"));
    doc.blocks.push_back(lines(does()));
    doc.blocks.push_back(heading("paper.users.does_not"));
    doc.blocks.push_back(lines(does_not()));
    doc.blocks.push_back(heading("paper.users.look"));
    doc.blocks.push_back(lines(look()));
    doc.blocks.push_back(heading("paper.users.call"));
    doc.blocks.push_back(lines(call()));
    std::string never;
    for (const Message& m : never_do()) never += (never.empty() ? "" : "\n") + say(m);
    doc.blocks.push_back(
        paper::Caution{.word = say("paper.users.never"), .text = std::move(never)});
    std::vector<paper::Field> fields = call_fields();
    fields.push_back({.caption = say("paper.users.next_visit"), .value = call_.next_visit});
    doc.blocks.push_back(
        paper::Together{.blocks = {paper::Signatures{.fields = std::move(fields)}}});
    return doc;
  }

  paper::Document notice() const {
    paper::Document doc = page("paper.notice");
    const bool marked = taps_are_marked(solved_);
    doc.blocks = {paper::Space{.height = 30},
                  paper::Text{.text = say(marked ? "paper.notice.do_not" : "paper.notice.drink"),
                              .size = Size::kPoster,
                              .weight = Weight::kBold,
                              .align = paper::Align::kMiddle},
                  paper::Space{.height = 12}};
    const std::vector<const char*> below =
        marked ? std::vector<const char*>{"paper.notice.do_not_why", "paper.notice.ask"}
               : std::vector<const char*>{"paper.notice.this_tap", "paper.notice.if_odd"};
    for (const char* id : below) {
      doc.blocks.push_back(
          paper::Text{.text = say(id), .size = Size::kLarge, .align = paper::Align::kMiddle});
      doc.blocks.push_back(paper::Space{.height = 6});
    }
    doc.blocks.push_back(paper::Signatures{.fields = call_fields()});
    return doc;
  }

 private:
  const SiteState& state() const { return solved_.state; }
  const machine::MachineEntry& machine() const { return state().machine->body; }
  std::string say(const Message& m) const { return messages::render(words_, m); }
  std::string say(const char* id) const { return say(Message{id}); }
  Block heading(const char* id) const { return paper::Heading{say(id)}; }
  Block lines(const std::vector<Message>& messages) const {
    std::string text;
    for (const Message& m : messages) {
      Message shown = in_units(m, options_.units);
      for (auto& [key, argument] : shown.arguments) {
        auto* number = std::get_if<Number>(&argument);
        if (key == "low" && number != nullptr) number->unit.clear();  // said once, after "high"
      }
      text += (text.empty() ? "• " : "\n• ") + say(shown);
    }
    return paper::Text{.text = std::move(text)};
  }

  // That nobody drinks yet, and what comes first: all of it in bold.
  Block not_yet(const std::vector<Message>& first) const {
    std::string text = say("paper.users.not_yet");
    for (const Message& m : first) text += "\n• " + say(m);
    return paper::Caution{.word = std::move(text)};
  }

  // Lines to write on where nobody said it.
  std::vector<paper::Field> call_fields() const {
    return {{.caption = say("paper.users.whom"), .value = call_.who, .share = 1.5},
            {.caption = say("paper.users.phone"),
             .value = left_to_right(call_.telephone),
             .share = 1.2}};
  }

  paper::Document page(const char* title) const {
    paper::Document doc{.title = say(title), .language = words_.language()};
    doc.page = options_.page == PageName::kLetter ? paper::kLetter : paper::kA4;
    doc.page.margin = 13;
    doc.made = state().machine->at;
    doc.blocks.push_back(paper::Title{.text = doc.title, .below = say(title_of(solved_))});
    doc.footer =
        foot(say(title_of(solved_)) + " · " +
                 say(Message{"paper.made_with", {{"version", std::string(kEngineVersion)}}}),
             words_);
    return doc;
  }

  // Where it comes from in plain words, if from one source.
  base::Ref raw_water() const {
    const visit::SurveyEntry& survey = state().survey->body;
    const auto from = survey.further.empty() ? survey.source : visit::SourceKind::kUnknown;
    return {"paper.users.water." + std::string(fields::name_of(from))};
  }

  const inference::Interval* expected(Point point) const {
    for (const visit::Expectation& e : solved_.start_up.expected) {
      if (e.point == point) return &e.expected;
    }
    return nullptr;
  }

  std::vector<Message> does() const {
    std::vector<Message> out{{"paper.users.presses", {{"water", raw_water()}}}};
    const auto percent = [](double share) { return Number{100 * share, "%", 2}; };
    const visit::StartUp& s = solved_.start_up;
    if (s.reduction_mass.high > 0) {
      out.push_back(
          {"paper.users.takes_out",
           {{"low", percent(s.reduction_mass.low)}, {"high", percent(s.reduction_mass.high)}}});
    }
    const auto flow = [](double si) {
      return Number{units::from_si(*units::unit_of_key("L_h"), si), "L/h", 2};
    };
    if (const auto* product = expected(Point::kProductFlow)) {
      out.push_back(
          {"paper.users.makes", {{"low", flow(product->low)}, {"high", flow(product->high)}}});
    }
    if (s.recovery.low > 0) {
      // Litres to the drain for each litre of product.
      out.push_back({"paper.users.drains",
                     {{"low", Number{1 / s.recovery.high - 1, "L", 2}},
                      {"high", Number{1 / s.recovery.low - 1, "L", 2}}}});
    }
    if (const auto* quality = expected(Point::kProductQuality)) {
      const auto ppm = [](double si) {
        return Number{water::shown(units::Conductivity(si), {}), "ppm", 2};
      };
      out.push_back(
          {"paper.users.pen", {{"low", ppm(quality->low)}, {"high", ppm(quality->high)}}});
    }
    return out;
  }

  // No barrier against microbes, no cure for what stays above its limit.
  std::vector<Message> does_not() const {
    std::vector<Message> out{{"paper.users.not_germs"}};
    std::string names;
    for (const visit::SubstanceVerdict& v : solved_.verdict.substances) {
      if (v.standing != visit::Standing::kStaysAbove && v.standing != visit::Standing::kDoubtful) {
        continue;
      }
      names += (names.empty() ? "" : ", ") + say(Message{"substance." + v.limit.substance});
    }
    if (!names.empty()) out.push_back({"paper.users.not_enough", {{"names", names}}});
    out.push_back({"paper.users.not_tested"});
    if (machine().blend) out.push_back({"paper.users.blend", {{"water", raw_water()}}});
    out.push_back({"paper.users.not_when_off"});
    return out;
  }

  std::vector<Message> look() const {
    std::vector<Message> out{{"paper.users.drips"}, {"paper.users.taste"}, {"paper.users.slow"}};
    const bool stops = machine::stops_itself(machine());
    out.push_back({stops ? "paper.users.never_stops" : "paper.users.drain_runs"});
    if (has(machine::FilterKind::kUv)) out.push_back({"paper.users.lamp"});
    out.push_back({"paper.users.stood"});
    return out;
  }
  static std::vector<Message> call() {
    return {{"paper.users.call_now"}, {"paper.users.call_soon"}, {"paper.users.call_year"}};
  }
  std::vector<Message> never_do() const {
    std::vector<Message> out{{"paper.users.never_reject"},
                             {"paper.users.never_open"},
                             {"paper.users.never_hot"},
                             {"paper.users.never_dose"}};
    if (machine().blend) out.push_back({"paper.users.never_blend"});
    if (has(machine::FilterKind::kUv)) out.push_back({"course.caution.lamp"});
    out.push_back({"verdict.caution.local_rules"});
    return out;
  }
  bool has(machine::FilterKind kind) const {
    return std::any_of(machine().filters.begin(), machine().filters.end(), [&](const auto& f) {
      return f.kind == kind;
    });
  }

  const Solved& solved_;
  const PaperOptions& options_;
  const messages::Catalogue& words_;
  const Call call_;
};

}  // namespace

paper::Document users_sheet(const Solved& solved,
                            const PaperOptions& options,
                            const messages::Catalogue& words) {
  return Sheet(solved, options, words).users();
}
paper::Document tap_notice(const Solved& solved,
                           const PaperOptions& options,
                           const messages::Catalogue& words) {
  return Sheet(solved, options, words).notice();
}

namespace {

// A start-up that was begun: whether the marks have not come off since.
bool marks_are_on(const SiteState& state) {
  const visit::StartUpEntry& begun = state.start_up->body;
  const CourseState course = course_state(state, {begun.sanitise, begun.membrane_in});
  for (std::size_t i = 0; i < course.course.size(); ++i) {
    if (course.course[i].step != visit::Step::kTapsOpened) continue;
    return course.standings[i].state != visit::StepState::kDone;
  }
  return false;
}

}  // namespace

std::vector<Message> before_drinking(const Solved& solved) {
  using visit::Microbes;
  using visit::Warranted;
  const SiteState& state = solved.state;
  const Warranted verdict = solved.verdict.warranted;
  const Microbes germs = solved.verdict.microbes;
  const bool marked = state.start_up && marks_are_on(state);
  // Whoever took the marks off had the sample that was asked for.
  const bool sample =
      (!state.start_up || marked) && (verdict == Warranted::kYes || germs == Microbes::kOldSample ||
                                      germs == Microbes::kNothingSpeaks);
  std::vector<Message> out;
  const auto unless = [&out](bool done, const char* id) {
    if (!done) out.push_back({id});
  };
  unless(verdict != Warranted::kDisinfectFirst, "paper.users.first.disinfected");
  unless(verdict != Warranted::kNotEnough, "paper.users.first.enough");
  unless(verdict != Warranted::kCannotSay, "paper.users.first.known");
  unless(solved.start_up.outcome == machine::Outcome::kRuns, "paper.users.first.runs");
  unless(!blend_trouble(solved), "paper.users.first.blend");
  unless(state.start_up || !state.readings.empty(), "paper.users.first.read");
  unless(!marked, "paper.users.first.started_up");
  unless(!sample && verdict != Warranted::kPartly, "paper.users.first.analysed");
  return out;
}

bool taps_are_marked(const Solved& solved) { return !before_drinking(solved).empty(); }

}  // namespace drawoff::api
