#include "api/papers.h"

#include <algorithm>
#include <cmath>

#include "api/blend_words.h"
#include "api/course_screen.h"
#include "api/handing_over.h"
#include "api/handover.h"
#include "api/machine_question_fields.h"
#include "api/path_view.h"
#include "api/say.h"
#include "api/source_report.h"
#include "messages/number.h"
#include "paper/svg.h"

namespace drawoff::api {

namespace {

using base::Message;
using base::Number;
using base::Ref;
using machine::Point;
using paper::Block;
using paper::Weight;

// Everything a paper is made of, and the words of its language.
struct Desk {
  const Solved& solved;
  const PaperOptions& options;
  const messages::Catalogue& words;
  const paper::Fonts& fonts;

  std::string say(const Message& message) const { return messages::render(words, message); }
  std::string say(std::string id) const { return say(Message{std::move(id)}); }
  std::string say(double si, const char* unit_key) const {
    return messages::format_quantity(in_units(si, unit_key, options.units), words.language());
  }
  const machine::MachineEntry& machine() const { return solved.state.machine->body; }
  const visit::SurveyEntry& survey() const { return solved.state.survey->body; }
};

// What was done last of what the record tells: a reading, a step of the start-up, or the machine's
// entry where nothing else was.
struct LastWork {
  std::string at;  // UTC
  std::string author;
  [[nodiscard]] std::string day() const { return at.substr(0, 10); }
};
LastWork last_work(const SiteState& state) {
  LastWork last{state.machine->at, state.machine->author};
  if (!state.readings.empty()) last = {state.readings.back().at, state.readings.back().author};
  if (state.steps.empty()) return last;
  const auto& step = state.steps.back();
  const bool later = book::seconds_of({step.at}) > book::seconds_of({last.at});
  return later ? LastWork{step.at, step.author} : last;
}

// ---- The water path -----------------------------------------------------------------------------

// Points nobody read say nothing on paper; with none read, all of them do.
std::vector<Point> unread(const SiteState& state, const paper::Scene& all) {
  std::vector<Point> out;
  if (state.readings.empty()) return out;
  for (const paper::ScenePoint& p : all.points) {
    const bool read = std::any_of(state.readings.begin(), state.readings.end(), [&](const auto& r) {
      return r.body.point == p.point;
    });
    if (!read) out.push_back(p.point);
  }
  return out;
}

// How the record is set: with one page first in mind.
struct Setting {
  // Of a drawing unit [mm]: names come out at 7 points; smaller where the path is longer than the
  // page.
  double unit = 0.205;
  double margin = 13;      // [mm]
  bool goes_over = false;  // to another page, where the signatures then stand
};

paper::Drawing path_drawing(const Desk& desk, const Setting& setting) {
  constexpr double kTallest = 205;  // [mm]
  const SiteState& state = desk.solved.state;
  const paper::Scene all = paper::water_path(desk.machine(), {});
  const paper::Scene scene =
      paper::water_path(desk.machine(), {.compact = true, .left_out = unread(state, all)});
  const auto usual = usual_readings(all, state, desk.options.units);
  std::vector<visit::ReadingEntry> here;
  for (const paper::ScenePoint& p : scene.points) {
    here.push_back(*std::find_if(
        usual.begin(), usual.end(), [&](const auto& r) { return r.point == p.point; }));
  }
  PathView view = path_view(scene, desk.solved, here, desk.options.units, desk.words);
  std::vector<paper::PointWords> points;
  for (PointView& p : view.points) {
    // Beside the table of readings the drawing says only what was read.
    p.words.name = desk.say(Message{visit::point_id(p.like.point)});
    if (!p.words.reading.empty()) {
      p.words.expected.clear();
      p.words.fit.clear();
    }
    points.push_back(std::move(p.words));
  }
  paper::Rooms rooms = paper::rooms_of(scene, view.parts, points, &desk.fonts);
  const paper::Scene roomy = paper::water_path(desk.machine(),
                                               {.compact = true,
                                                .left_out = unread(state, all),
                                                .part_rooms = std::move(rooms.parts),
                                                .point_rooms = std::move(rooms.points)});
  return paper::scene_drawing(
      roomy, view.parts, points, std::fmin(setting.unit, kTallest / roomy.height), &desk.fonts);
}

// ---- The record ---------------------------------------------------------------------------------

std::vector<paper::Row> water_rows(const Desk& desk) {
  const visit::SurveyEntry& s = desk.survey();
  std::vector<paper::Row> rows;
  const auto choice = [&](const char* table, std::string_view value) {
    return desk.say(Message{"choice." + std::string(table) + "." + std::string(value)});
  };
  rows.push_back({desk.say("paper.water"), choice("source_kind", fields::name_of(s.source))});
  rows.push_back({desk.say("paper.water_known"), choice("survey_basis", fields::name_of(s.basis))});
  rows.push_back({desk.say("label.survey.faecal_indicators"),
                  choice("faecal_indicators", fields::name_of(s.faecal_indicators))});
  return rows;
}

// Parts that most machines do not have: a line each, so that the record says what was there.
bool is_further(const paper::ScenePart& part, const machine::MachineEntry& m) {
  using machine::FilterKind;
  using paper::PartKind;
  switch (part.kind) {
    case PartKind::kRawTank:
    case PartKind::kRegulator:
    case PartKind::kSolenoid:
    case PartKind::kShutOff:
    case PartKind::kRecirculation:
    case PartKind::kLowSwitch:
    case PartKind::kFlushValve:
    case PartKind::kHighSwitch:
    case PartKind::kCooler:
      return true;
    case PartKind::kFilter:
    case PartKind::kPolish: {
      const FilterKind kind = m.filters[part.index].kind;
      return kind == FilterKind::kSoftener || kind == FilterKind::kMineral ||
             kind == FilterKind::kUv;
    }
    default:
      return false;
  }
}

std::vector<paper::Row> machine_rows(const Desk& desk) {
  const machine::MachineEntry& m = desk.machine();
  std::vector<paper::Row> rows;
  const auto add = [&](const char* label, std::string value) {
    rows.push_back({desk.say(label), std::move(value)});
  };
  const auto at = [&](double flow, const char* flow_unit, double pressure) {
    return desk.say(Message{"paper.flow_at",
                            {{"flow", in_units(flow, flow_unit, desk.options.units)},
                             {"pressure", in_units(pressure, "bar", desk.options.units)}}});
  };
  if (m.basis == machine::PlatesBasis::kSize) {
    // Nothing that nobody read stands on a paper that is signed.
    add("label.machine.element", m.element.size);
    add("paper.plates", desk.say("paper.plates_unread"));
    return rows;
  }
  add("label.machine.supply", desk.say(m.supply.pressure.si(), "bar"));
  add("label.machine.element",
      m.element.size + ", " +
          at(m.element.permeate_flow.si(), "L_h", m.element.test_pressure.si()));
  if (m.pump) {
    add("label.machine.pump", at(m.pump->rated_flow.si(), "L_h", m.pump->rated_pressure.si()));
  }
  add("label.machine.restrictor",
      at(m.restrictor.flow.si(),
         "mL_min",
         m.restrictor.pressure.value_or(machine::kUsualRestrictorPressure).si()));
  if (const auto left = m.blend ? left_in_words(desk.solved.state) : std::nullopt) {
    add("label.machine.blend", desk.say(*left));
  } else if (m.blend) {
    const double opening = std::round(100 * m.blend->opening);
    add("label.machine.blend",
        desk.say(Message{"scene.blend",
                         {{"opening", Number{opening, "%", messages::digits_of(opening)}}}}));
  }
  for (const paper::ScenePart& part : paper::water_path(m, {}).parts) {
    if (!is_further(part, m)) continue;
    paper::PartWords words = part_words(part, m, desk.options.units, desk.words);
    rows.push_back({std::move(words.name),
                    words.detail.empty() ? desk.say("paper.fitted") : std::move(words.detail)});
  }
  if (!desk.solved.start_up.assumed.empty()) {
    const auto n = static_cast<double>(desk.solved.start_up.assumed.size());
    add("paper.assumed",
        desk.say(Message{"paper.assumed_count", {{"n", Number{n, "", messages::digits_of(n)}}}}));
  }
  return rows;
}

// What was read against what it should be; what could not be read, with the reason.
paper::Table readings_table(const Desk& desk) {
  paper::Table table;
  table.columns = {{.head = desk.say("job.column.point"), .share = 2.6},
                   {.head = desk.say("job.column.expected"), .share = 1.7},
                   {.head = desk.say("job.column.read"), .share = 1.1},
                   {.head = desk.say("job.column.fit"), .share = 1.6}};
  for (const visit::JudgedReading& r : desk.solved.start_up.readings) {
    std::vector<paper::Cell> row{{desk.say(state_of(r.reading))}};
    const std::string read = desk.say(Message{"job.reading", {{"value", number_of(r.reading)}}});
    if (r.judgement) {
      const bool outside = r.judgement->fit != inference::Fit::kAsExpected;
      row.push_back({desk.say(band_of(r.judgement->expected, r.reading))});
      row.push_back({read, Weight::kBold});
      row.push_back({desk.say(Message{"fit." + std::string(fields::name_of(r.judgement->fit))}),
                     outside ? Weight::kBold : Weight::kRegular});
    } else {
      row.push_back({desk.say("job.no_band")});
      row.push_back({read, Weight::kBold});
      row.push_back(
          {desk.say(r.set_aside->arguments.empty() ? r.set_aside->id.c_str() : "fit.set_aside")});
    }
    table.rows.push_back(std::move(row));
  }
  const visit::StartUp& s = desk.solved.start_up;
  if (!s.streams.empty()) {
    const ShareRows shares = share_rows(s);
    const auto add = [&](const ShareRow& share) {
      std::vector<paper::Cell> row{{desk.say(share.name)}, {desk.say(share.expected)}};
      row.push_back({share.read ? desk.say(*share.read) : "", Weight::kBold});
      table.rows.push_back(std::move(row));
    };
    // The record has a page: the two reductions share a row.
    add(shares.recovery);
    add(shares.by_meter);
    table.rows.back().push_back({desk.say(
        Message{"paper.by_mass",
                {{"share", desk.say(shares.by_mass.read.value_or(shares.by_mass.expected))}}})});
  }
  for (const auto& n : desk.solved.state.not_possible) {
    table.rows.push_back(
        {{desk.say(Message{visit::point_id(n.body.point)})},
         {""},
         {desk.say("paper.not_read")},
         {desk.say(Message{"choice.because." + std::string(fields::name_of(n.body.because))})}});
  }
  return table;
}

// Whether the machine was started up, or that went on, since the visit before: what was done soon
// after its last reading belongs to it.
bool started_up_since(const SiteState& state) {
  if (!state.start_up) return false;
  if (state.earlier.empty()) return true;
  long long last = book::seconds_of({state.start_up->at});
  for (const auto& step : state.steps) last = std::max(last, book::seconds_of({step.at}));
  return last > book::seconds_of({state.earlier.back().at}) + kVisitGap;
}

// Whether this visit's record tells of the start-up: what was done since the visit before, or is
// open still.
bool tells_of_start_up(const SiteState& state, const CourseState& course) {
  const bool open = std::any_of(course.standings.begin(),
                                course.standings.end(),
                                [](const visit::StepStanding& s) { return !s.settled(); });
  return open || started_up_since(state);
}

// Done, in its turn, with nothing more to say.
bool plainly_done(const visit::CourseStep& step, const visit::StepStanding& s) {
  return s.state == visit::StepState::kDone && s.settled() && !s.early &&
         !visit::is_test(step.step) && s.note.empty() && s.found.empty() && s.not_good_at.empty() &&
         !clock_in_words(s);
}

// What was plainly done in one sentence; then every other step with how it stands, in two columns:
// down the first, then down the second. What is not as it should be stands out.
std::vector<Block> start_up_blocks(const Desk& desk) {
  const SiteState& state = desk.solved.state;
  const auto begun = begun_course(state);
  if (!begun || !tells_of_start_up(state, *begun)) return {};
  const CourseState& course = *begun;
  std::vector<std::vector<paper::Cell>> cells;
  std::string done;
  for (std::size_t i = 0; i < course.course.size(); ++i) {
    const visit::StepStanding& s = course.standings[i];
    const auto n = fields::given_number(static_cast<double>(i + 1), nullptr);
    const std::string name = desk.say(
        Message{"checklist.step",
                {{"n", n}, {"what", step_name(course.course[i], desk.machine(), desk.words)}}});
    if (plainly_done(course.course[i], s)) {
      done += (done.empty() ? "" : "; ") + name;
      continue;
    }
    const bool fits = std::all_of(s.found.begin(), s.found.end(), [](const auto& f) {
      return visit::fit_of(f).value_or(visit::SignFit::kFits) == visit::SignFit::kFits;
    });
    const bool sound =
        s.state == visit::StepState::kDone && s.settled() && !s.early && !s.short_of_wait() && fits;
    cells.push_back({{name},
                     {s.state ? standing_in_words(course.course[i].step, s, desk.words)
                              : desk.say("paper.step_not_done"),
                      sound ? Weight::kRegular : Weight::kBold}});
  }
  const paper::Column step{.head = desk.say("paper.step")};
  const paper::Column stands{.head = desk.say("paper.step_stands"), .share = 1.15};
  paper::Table table{.columns = {step, stands, step, stands}};
  const std::size_t rows = (cells.size() + 1) / 2;
  for (std::size_t i = 0; i < rows; ++i) {
    std::vector<paper::Cell> row = cells[i];
    if (i + rows < cells.size()) {
      row.insert(row.end(), cells[i + rows].begin(), cells[i + rows].end());
    }
    table.rows.push_back(std::move(row));
  }
  paper::Together together{.blocks = {paper::Heading{desk.say("paper.start_up")}}};
  if (!done.empty()) {
    together.blocks.push_back(
        paper::Text{.text = desk.say(Message{"paper.steps_done", {{"steps", done}}}),
                    .size = paper::Size::kSmall});
  }
  if (!table.rows.empty()) together.blocks.push_back(std::move(table));
  return {std::move(together)};
}

// How the machine should run against how it does.
std::vector<Block> standing_blocks(const Desk& desk) {
  const visit::StartUp& s = desk.solved.start_up;
  std::vector<Block> blocks;
  blocks.push_back(paper::Heading{desk.say("job.heading.expected")});
  blocks.push_back(
      paper::Text{.text = desk.say(standing_of(desk.solved)), .weight = Weight::kBold});
  if (const auto before = standing_before(desk.solved)) {
    blocks.push_back(paper::Text{.text = desk.say(*before), .size = paper::Size::kSmall});
  }
  if (const auto causes = causes_in_words(s); !causes.empty()) {
    blocks.push_back(paper::Heading{desk.say("job.heading.first")});
    std::string text;
    for (const Message& m : causes) text += desk.say(m) + "\n";
    if (const auto next = next_in_words(s)) text += desk.say(*next);
    blocks.push_back(paper::Text{.text = std::move(text)});
  }
  return blocks;
}

std::vector<Block> verdict_blocks(const Desk& desk) {
  const visit::SourceVerdict& v = desk.solved.verdict;
  std::vector<Block> blocks;
  blocks.push_back(paper::Heading{desk.say("job.heading.verdict")});
  blocks.push_back(paper::Text{
      .text = desk.say(Message{"job.verdict." + std::string(fields::name_of(v.warranted))}),
      .weight = Weight::kBold});
  for (const Message& m : v.reasons) {
    blocks.push_back(paper::Text{.text = desk.say(m), .size = paper::Size::kSmall});
  }
  return blocks;
}

Block cautions(const Desk& desk) {
  std::string text;
  if (const auto m = blend_trouble(desk.solved)) text += desk.say(*m) + "\n";
  if (const auto m = visit::voltage_caution(desk.machine())) text += desk.say(*m) + "\n";
  for (const Message& m : desk.solved.verdict.cautions) text += desk.say(m) + "\n";
  text += desk.say("caution.work");
  return paper::Caution{
      .word = desk.say("paper.caution"), .text = std::move(text), .size = paper::Size::kSmall};
}

// Of the photos that are at hand, the latest; plates are read off into the machine's values.
std::vector<Block> photo_blocks(const Desk& desk) {
  constexpr std::size_t kMost = 6;
  constexpr std::size_t kBeside = 3;
  struct Shown {
    const std::string* jpeg;
    std::string caption;
  };
  std::vector<Shown> shown;
  const auto& photos = desk.solved.state.photos;
  for (auto p = photos.rbegin(); p != photos.rend() && shown.size() < kMost; ++p) {
    const auto picture = desk.options.pictures.find(p->body.sha256);
    if (p->body.of == book::PhotoOf::kPlate || picture == desk.options.pictures.end()) continue;
    const std::string& what =
        p->body.note.empty()
            ? desk.say("choice.photo_of." + std::string(fields::name_of(p->body.of)))
            : p->body.note;
    shown.push_back({&picture->second, what + ", " + p->at.substr(0, 10)});
  }
  std::reverse(shown.begin(), shown.end());
  std::vector<Block> blocks;
  for (std::size_t i = 0; i < shown.size(); i += kBeside) {
    paper::Beside row;
    for (std::size_t k = i; k < i + kBeside; ++k) {
      paper::Side& side = row.sides.emplace_back();
      if (k >= shown.size()) continue;
      side.blocks = {paper::Photo{.jpeg = *shown[k].jpeg, .caption = shown[k].caption}};
    }
    blocks.push_back(std::move(row));
  }
  if (!blocks.empty()) blocks.insert(blocks.begin(), paper::Heading{desk.say("paper.photos")});
  return blocks;
}

std::string picture_of(const Desk& desk, const std::string& sha256) {
  const auto found = desk.options.pictures.find(sha256);
  return found == desk.options.pictures.end() ? "" : found->second;
}

// Who signed, once it was handed over and nothing was added since; else lines to sign on, and so
// for whoever signs on the printed record, with the day. Long names stand one below the other.
std::vector<Block> signatures(const Desk& desk) {
  const auto side = [&](const char* name,
                        std::string who,
                        std::string drawn,
                        std::string when,
                        bool on_paper = false) {
    const char* caption = on_paper ? "paper.signature_here" : "paper.signature";
    return paper::Signatures{
        .fields = {{.caption = desk.say(name), .value = std::move(who), .share = 1.3},
                   {.caption = desk.say(caption), .jpeg = std::move(drawn), .share = 1.7},
                   {.caption = desk.say("paper.date"), .value = on_paper ? "" : std::move(when)}}};
  };
  const auto both = [](paper::Signatures one, paper::Signatures other) -> std::vector<Block> {
    constexpr std::size_t kLong = 60;  // bytes
    const auto name = [](const paper::Signatures& s) { return s.fields.front().value.size(); };
    if (std::max(name(one), name(other)) > kLong) return {std::move(one), std::move(other)};
    return {paper::Beside{.sides = {{.blocks = {std::move(one)}}, {.blocks = {std::move(other)}}}}};
  };
  const SiteState& state = desk.solved.state;
  if (!state.handed_over || state.changed_since) {
    const LastWork last = last_work(state);
    return both(side("paper.technician", last.author, "", last.day()),
                side("paper.for_the_site", "", "", ""));
  }
  const book::HandedOverEntry& entry = state.handed_over->body;
  const std::string day = state.handed_over->at.substr(0, 10);
  std::string receiver = entry.receiver;
  if (!entry.role.empty()) receiver += (receiver.empty() ? "" : ", ") + entry.role;
  if (entry.nobody) {
    receiver = desk.say(Message{"paper.nobody_signed", {{"reason", nobody_because(entry)}}});
  }
  return both(side("paper.technician",
                   entry.technician,
                   picture_of(desk, entry.technician_signature),
                   day,
                   entry.technician_on_paper),
              side("paper.for_the_site",
                   std::move(receiver),
                   picture_of(desk, entry.receiver_signature),
                   day,
                   entry.receiver_on_paper));
}

// What opens this machine where the app is served, and says whose key signed its record.
std::string code_of(const Desk& desk) {
  const std::string& id = desk.solved.state.machine->first;
  const std::string& address = desk.options.address;
  const std::string& letters = desk.options.letters;
  if (address.empty()) return "urn:uuid:" + id + (letters.empty() ? "" : "#" + letters);
  return address + "#/machine/" + id + (letters.empty() ? "" : "/" + letters);
}

// Whom to call and when somebody comes again, where it is known.
std::vector<Block> call_blocks(const Desk& desk) {
  const Call call = call_of(desk.solved.state, desk.options.call);
  std::string line;
  for (const auto& [name, value] : {std::pair{"paper.users.whom", call.who},
                                    std::pair{"paper.users.phone", left_to_right(call.telephone)},
                                    std::pair{"paper.users.next_visit", call.next_visit}}) {
    if (value.empty()) continue;
    line += (line.empty() ? "" : "  ·  ") +
            desk.say(Message{"paper.named", {{"name", Ref{name}}, {"value", value}}});
  }
  if (line.empty()) return {};
  return {paper::Text{.text = std::move(line), .size = paper::Size::kSmall}};
}

// Whom to call, and the letters of the key, for whoever checks the record against this paper.
std::vector<Block> key_blocks(const Desk& desk) {
  if (desk.options.letters.empty()) return call_blocks(desk);
  constexpr double kCode = 20;  // [mm]
  std::vector<Block> beside = call_blocks(desk);
  const Message key{"paper.key", {{"letters", desk.options.letters}}};
  beside.push_back(paper::Text{.text = desk.say(key), .weight = Weight::kBold});
  beside.push_back(paper::Text{.text = desk.say("paper.key_proves"), .size = paper::Size::kSmall});
  return {paper::Beside{
      .sides = {{.share = 0.12, .blocks = {paper::Code{.text = code_of(desk), .size = kCode}}},
                {.share = 0.88, .blocks = std::move(beside)}}}};
}

// The first visit commissions the machine, and so does one that starts it up again; others look
// after it.
bool commissions(const SiteState& state) {
  return state.earlier.empty() || started_up_since(state);
}

// Whether this visit's readings are the membrane's first.
bool tells_of_first_day(const SiteState& state) {
  return !state.first.empty() && !state.readings.empty() &&
         state.first.front().id == state.readings.front().id;
}

paper::Document record(const Desk& desk, const Setting& setting) {
  const SiteState& state = desk.solved.state;
  paper::Document doc;
  doc.page = desk.options.page == PageName::kLetter ? paper::kLetter : paper::kA4;
  doc.page.margin = setting.margin;
  doc.title = desk.say(commissions(state) ? "paper.record" : "paper.visit_record");
  const LastWork last = last_work(state);
  doc.made = last.at;
  const Message by{"paper.record_below",
                   {{"title", desk.say(title_of(desk.solved))}, {"date", last.day()}}};
  std::string below = desk.say(by);
  if (!state.earlier.empty() && commissions(state)) {
    below += " · " +
             desk.say(Message{"paper.start_up_of", {{"date", state.start_up->at.substr(0, 10)}}});
  }
  if (tells_of_first_day(state) && first_day_is_provisional(state) &&
      !something_is_wrong(desk.solved.start_up)) {
    below += " · " + desk.say(provisional_in_words(state));
  }
  doc.blocks.push_back(paper::Title{.text = doc.title, .below = std::move(below)});
  const std::string& note = state.site->body.note;
  if (!note.empty()) doc.blocks.push_back(paper::Text{.text = note, .size = paper::Size::kSmall});

  paper::Side left{.share = 0.8, .blocks = {paper::Figure{path_drawing(desk, setting)}}};
  paper::Side right{.share = 1, .blocks = standing_blocks(desk)};
  right.blocks.push_back(paper::Heading{desk.say("paper.machine")});
  std::vector<paper::Row> rows = machine_rows(desk);
  for (paper::Row& row : water_rows(desk)) rows.push_back(std::move(row));
  right.blocks.push_back(paper::Rows{.rows = std::move(rows), .name_share = 0.45});
  for (Block& b : verdict_blocks(desk)) right.blocks.push_back(std::move(b));
  doc.blocks.push_back(paper::Beside{.sides = {std::move(left), std::move(right)}});
  doc.blocks.push_back(cautions(desk));
  if (paper::Table table = readings_table(desk); !table.rows.empty()) {
    if (!state.readings.empty() && state.readings.back().at.substr(0, 10) != last.day()) {
      doc.blocks.push_back(
          paper::Text{.text = desk.say(Message{"paper.readings_of",
                                               {{"date", state.readings.back().at.substr(0, 10)}}}),
                      .size = paper::Size::kSmall});
    }
    doc.blocks.push_back(std::move(table));
  }
  for (Block& b : start_up_blocks(desk)) doc.blocks.push_back(std::move(b));
  for (Block& b : photo_blocks(desk)) doc.blocks.push_back(std::move(b));
  paper::Together signed_here;
  if (setting.goes_over) {
    const Message what{"paper.signed_here",
                       {{"paper", doc.title},
                        {"below", desk.say(by)},
                        {"standing", desk.say(standing_of(desk.solved))}}};
    signed_here.blocks.push_back(paper::Text{.text = desk.say(what), .size = paper::Size::kSmall});
  }
  for (Block& b : signatures(desk)) signed_here.blocks.push_back(std::move(b));
  for (Block& b : key_blocks(desk)) signed_here.blocks.push_back(std::move(b));
  doc.blocks.push_back(std::move(signed_here));
  doc.footer =
      foot(desk.say(by) + " · " +
               desk.say(Message{"paper.footer", {{"version", std::string(kEngineVersion)}}}),
           desk.words);
  const messages::Catalogue& words = desk.words;
  doc.page_label = [&words](const paper::PageNumber& at) {
    const auto number = [](int n) {
      return Number{static_cast<double>(n), "", messages::digits_of(n)};
    };
    return messages::render(
        words, {"paper.page", {{"page", number(at.page)}, {"pages", number(at.pages)}}});
  };
  return doc;
}

// On one page where that can be, if need be with a smaller drawing and margin. Else the signatures
// stand on the last page with what is signed.
base::Result<paper::Document> fitting_record(const Desk& desk) {
  for (const Setting& setting : {Setting{}, Setting{.unit = 0.185, .margin = 11}}) {
    paper::Document document = record(desk, setting);
    TRY(const paper::Printed printed, paper::print(document, desk.fonts));
    if (printed.pages == 1) return document;
  }
  return record(desk, {.goes_over = true});
}

// ---- The label ----------------------------------------------------------------------------------

// Names longer than a label holds are cut.
std::string cut(const std::string& name) {
  constexpr std::size_t kMost = 40;  // characters
  std::size_t count = 0;
  for (std::size_t i = 0; i < name.size(); ++i) {
    if ((static_cast<unsigned char>(name[i]) & 0xC0U) == 0x80U) continue;
    if (count++ == kMost) return name.substr(0, i) + "\u2026";
  }
  return name;
}

// `own`: what the first day's readings say of the very machine; null where nothing was read.
paper::Document label(const Desk& desk, const visit::FirstDay* own) {
  const SiteState& state = desk.solved.state;
  const std::string name = cut(desk.machine().name);
  const std::string site = cut(state.site->body.name);
  paper::Document doc;
  doc.page = paper::kLabel;
  doc.title = desk.say("paper.label");
  doc.made = state.machine->at;
  std::string lines = name.empty() ? "" : site;
  const auto add = [&lines](const std::string& line) {
    if (!line.empty()) lines += (lines.empty() ? "" : "\n") + line;
  };
  // What a colleague compares with first: the first day, where it is this machine's.
  if (own && own->standing == visit::FirstDayStanding::kFitted) {
    const bool settled =
        own->settling == visit::Settling::kSettled || own->settling == visit::Settling::kRunIn;
    const char* day = settled ? "paper.first_day_settled" : "paper.first_day_provisional";
    add(desk.say(Message{day, {{"date", state.first.back().at.substr(0, 10)}}}));
    for (const Point point : {Point::kProductQuality, Point::kProductFlow, Point::kTemperature}) {
      const auto read = std::find_if(state.first.rbegin(), state.first.rend(), [&](const auto& r) {
        return r.body.point == point;
      });
      if (read == state.first.rend()) continue;
      add(desk.say(
          Message{"paper.first_day_value",
                  {{"point", Ref{visit::point_id(point)}}, {"value", number_of(read->body)}}}));
    }
  }
  const Call call = call_of(state, desk.options.call);
  add(cut(call.who));
  add(left_to_right(call.telephone));
  std::vector<Block> words;
  words.push_back(paper::Text{.text = name.empty() ? site : name, .weight = Weight::kBold});
  words.push_back(paper::Text{.text = std::move(lines), .size = paper::Size::kSmall});
  doc.blocks.push_back(paper::Beside{
      .sides = {{.share = 0.42, .blocks = {paper::Code{.text = code_of(desk), .size = 26}}},
                {.share = 0.58, .blocks = std::move(words)}}});
  return doc;
}

base::Result<paper::Document> document_of(const Desk& desk) {
  switch (desk.options.paper) {
    case PaperName::kLabel: {
      if (desk.solved.state.first.empty()) return label(desk, nullptr);
      TRY(const visit::FirstDay own, first_day_of(desk.solved, {}));
      return label(desk, &own);
    }
    case PaperName::kUsers:
      return users_sheet(desk.solved, desk.options, desk.words);
    case PaperName::kNotice:
      return tap_notice(desk.solved, desk.options, desk.words);
    case PaperName::kRecord:
    case PaperName::kSource:  // printed without a machine: print_source
      break;
  }
  return fitting_record(desk);
}

// A name that every file system takes.
std::string file_name(const std::string& text) {
  constexpr std::string_view kRefused = "/\\:*?\"<>|";
  std::string out;
  for (const char c : text) {
    if (c == '.' && out.empty()) continue;  // would be hidden
    if (static_cast<unsigned char>(c) < 0x20 || kRefused.find(c) != std::string_view::npos)
      continue;
    out += c;
  }
  return out + ".pdf";
}

}  // namespace

base::Result<Solved> solve_for_papers(SiteState state, fields::UnitSystem units) {
  if (auto error = lacks(state)) return *std::move(error);
  const auto usual = usual_readings(paper::water_path(state.machine->body, {}), state, units);
  return solve(std::move(state), {}, usual);
}

base::Result<Paper> print_paper(const Solved& solved,
                                const PaperOptions& options,
                                const paper::Fonts& fonts) {
  const auto& words = messages::catalogue(options.language);
  const Desk desk{solved, options, words, fonts};
  TRY(paper::Document document, document_of(desk));
  document.language = words.language();
  document.right_to_left = messages::right_to_left(words.language());
  const Message name{"paper.file",
                     {{"site", cut(solved.state.site->body.name)}, {"paper", document.title}}};
  Paper out{.name = file_name(desk.say(name))};
  TRY(out.printed, paper::print(document, fonts));
  return out;
}

base::Result<Paper> print_source(const SiteState& state,
                                 const PaperOptions& options,
                                 const paper::Fonts& fonts) {
  const auto lacking = lacks(state);
  if (lacking && !(state.site && state.survey)) return *lacking;
  const auto& words = messages::catalogue(options.language);
  TRY(const JudgedSource source, judge_source(state, {}));
  const Message name{"paper.file",
                     {{"site", cut(state.site->body.name)}, {"paper", Ref{"paper.source"}}}};
  Paper out{.name = file_name(messages::render(words, name))};
  TRY(out.printed, print_source_report(state, source, options, words, fonts));
  return out;
}

std::string foot(std::string text, const messages::Catalogue& words) {
  if (!messages::not_yet_read(words.language())) return text;
  return std::move(text) + '\n' + messages::render(words, Message{"paper.not_yet_read"});
}

std::string draw_path(const Solved& solved, const PaperOptions& options) {
  const auto& words = messages::catalogue(options.language);
  constexpr double kMillimetre = 0.264583;  // of a CSS pixel
  const paper::Scene scene = paper::water_path(solved.state.machine->body, {});
  const auto usual = usual_readings(scene, solved.state, options.units);
  const PathView view = path_view(scene, solved, usual, options.units, words);
  std::vector<paper::PointWords> points;
  for (const PointView& p : view.points) points.push_back(p.words);
  return paper::to_svg(
      paper::scene_drawing(scene, view.parts, points, kMillimetre, nullptr),
      {.title = messages::render(words, title_of(solved)), .language = words.language()});
}

}  // namespace drawoff::api
