#include "api/view_screen.h"

#include <algorithm>
#include <cmath>

#include "api/handover.h"
#include "api/make_up.h"
#include "api/path_view.h"
#include "api/say.h"
#include "api/view_screen_fields.h"
#include "messages/number.h"
#include "paper/svg.h"
#include "visit/questioned.h"
#include "water/conductivity.h"

namespace drawoff::api {

namespace {

using base::Message;
using base::Number;
using base::Ref;
using machine::Point;
using visit::ReadingUnit;
using visit::StartUpStanding;

// Enough for a drawing that follows a finger; the judged site is drawn in full.
constexpr int kLiveDraws = 120;

template <class T>
std::optional<HeldOutput> held(const std::optional<Said<T>>& said) {
  if (!said) return std::nullopt;
  return HeldOutput{said->id, said->at, {said->written}};
}

// ---- What if ------------------------------------------------------------------------------------

// The site as it would be; readings of the real machine are left out, but for the strength of the
// raw water.
SiteState otherwise(SiteState state, const WhatIf& what_if) {
  machine::MachineEntry& m = state.machine->body;
  if (what_if.supply_pressure) m.supply.pressure = *what_if.supply_pressure;
  if (what_if.restrictor) m.restrictor.flow = m.restrictor.flow * *what_if.restrictor;
  if (what_if.blend_opening && m.blend) m.blend->opening = *what_if.blend_opening;
  if (what_if.temperature) state.survey->body.water.temperature = *what_if.temperature;
  std::erase_if(state.readings, [&](const Said<visit::ReadingEntry>& r) {
    const bool kept = r.body.point == Point::kRawQuality ||
                      (r.body.point == Point::kTemperature && !what_if.temperature);
    return !kept;
  });
  return state;
}

std::vector<SliderOutput> sliders_of(const Solved& solved,
                                     const std::optional<WhatIf>& what_if,
                                     fields::UnitSystem units,
                                     const messages::Catalogue& words) {
  const machine::MachineEntry& m = solved.state.machine->body;
  std::vector<SliderOutput> out;
  const auto add = [&](SliderOutput slider, const char* label, const Number& shown) {
    slider.label = messages::render(words, {label});
    // The machine as it is must be within reach.
    slider.low = std::fmin(slider.low, slider.value);
    slider.high = std::fmax(slider.high, slider.value);
    slider.shown = messages::format_quantity(shown, words.language());
    out.push_back(std::move(slider));
  };
  const double kelvin = solved.start_up.median_temperature.si();
  add({.key = "temperature_C",
       .low = 2,
       .high = 40,
       .step = 0.5,
       .value = std::round(2 * units::from_si(*units::unit_of_key("C"), kelvin)) / 2},
      "whatif.temperature",
      in_units(kelvin, "C", units));
  add({.key = "supply_pressure_bar",
       .low = 0,
       .high = 8,
       .step = 0.1,
       .value = m.supply.pressure / units::bar(1)},
      "whatif.supply_pressure",
      in_units(m.supply.pressure.si(), "bar", units));
  const double share = 100 * (what_if ? what_if->restrictor.value_or(1) : 1);
  add({.key = "restrictor_pct", .low = 30, .high = 300, .step = 5, .value = share},
      "whatif.restrictor",
      in_units(m.restrictor.flow.si(), "mL_min", units));
  if (m.blend) {
    const double opening = std::round(100 * m.blend->opening);
    add({.key = "blend_opening_pct", .low = 0, .high = 100, .step = 1, .value = opening},
        "whatif.blend",
        {opening, "%", messages::digits_of(opening)});
  }
  return out;
}

// ---- The headline -------------------------------------------------------------------------------

struct Headline {
  HeadlineKind kind = HeadlineKind::kPlain;
  Message text;
  std::optional<Message> detail;
};

// Whether the likeliest cause is one that can be looked at.
bool names_a_cause(const visit::StartUp& s) {
  return !s.causes.causes.empty() && !visit::part_of_cause(s.causes.causes.front().id).empty();
}

Message most_likely(const inference::RankedCause& first) {
  if (first.alike.empty()) return {"view.most_likely", {{"cause", Ref{"cause." + first.id}}}};
  const auto more = static_cast<double>(first.alike.size() - 1);
  return {"view.most_likely_one_of",
          {{"cause", Ref{"cause." + first.id}},
           {"other", Ref{"cause." + first.alike.front()}},
           {"more", Number{more, "", messages::digits_of(more)}}}};
}

Headline headline_of(const Solved& solved, bool what_if) {
  const visit::StartUp& s = solved.start_up;
  if (s.outcome != machine::Outcome::kRuns) {
    return {HeadlineKind::kFault, {"job.outcome." + std::string(fields::name_of(s.outcome))}, {}};
  }
  if (what_if) return {HeadlineKind::kPlain, {"view.what_if"}, {}};
  const auto standing = standing_of(solved);
  if (const auto m = blend_trouble(solved); m && s.standing != StartUpStanding::kNotYet) {
    return {HeadlineKind::kFault, {"view.blend_trouble"}, m};
  }
  if (s.raw_differs && s.standing != StartUpStanding::kNotYet) {
    return {HeadlineKind::kRemark, {"view.raw_differs"}, raw_differs_in_words(solved.state)};
  }
  switch (s.standing) {
    case StartUpStanding::kAsExpected:
      if (const auto before = standing_before(solved)) {
        return {HeadlineKind::kRemark, {"view.so_far"}, before};
      }
      if (!s.unread.empty()) return {HeadlineKind::kPlain, {"view.so_far"}, standing};
      return {HeadlineKind::kGood, {"view.good"}, standing};
    case StartUpStanding::kRemarks:
      return {HeadlineKind::kRemark, {"view.remarks"}, standing};
    case StartUpStanding::kNotYet:
      if (!names_a_cause(s)) {
        return {HeadlineKind::kFault, {"view.not_yet"}, standing};
      }
      return {HeadlineKind::kFault,
              most_likely(s.causes.causes.front()),
              Message{"view.sure", {{"share", percent(s.causes.causes.front().probability)}}}};
    case StartUpStanding::kCannotRun:
      return {HeadlineKind::kFault, {"view.not_yet"}, standing};
    case StartUpStanding::kNoReadings:
      break;
  }
  return {HeadlineKind::kPlain, {"view.expected"}, Message{"view.expected_detail"}};
}

// ---- The scene ----------------------------------------------------------------------------------

SlotOutput written(const paper::WordSlot& s) { return {s.x, s.y, s.width, s.height}; }

ShapeOutput written(const paper::Path& p, const std::string& part) {
  return {.d = paper::path_data(p),
          .ink = p.stroke.ink,
          .fill = p.fill,
          .width = p.stroke.ink == paper::Ink::kNone ? 0 : p.stroke.width,
          .dashed = p.stroke.dashed,
          .part = part};
}

std::vector<UnitOutput> units_for(Point point,
                                  ReadingUnit usual,
                                  const messages::Catalogue& words) {
  std::vector<UnitOutput> out;
  const auto add = [&](ReadingUnit unit) {
    const std::string key(fields::name_of(unit));
    out.push_back({unit, messages::render(words, {"choice.reading_unit." + key})});
  };
  add(usual);
  for (const auto& choice : fields::EnumTable<ReadingUnit>::list) {
    // Whether it fits the point is the reading's own rule; the value does not matter to it.
    visit::ReadingEntry probe{.point = point, .value = 40, .unit = choice.value};
    if (choice.value != usual && fields::Table<visit::ReadingEntry>::check(probe, {})) {
      add(choice.value);
    }
  }
  return out;
}

// The results of "run." that lie behind the band at a point.
std::vector<std::string> working_of(Point point) {
  const auto median = [](std::initializer_list<const char*> keys) {
    std::vector<std::string> out;
    for (const char* key : keys) out.push_back(std::string("run.machine.median.") + key);
    return out;
  };
  switch (point) {
    case Point::kInletPressure:
      return median({"feed_flow_L_h", "inlet_pressure_bar"});
    case Point::kFilteredPressure:
      return median({"inlet_pressure_bar", "filtered_pressure_bar"});
    case Point::kMembranePressure:
      return median({"filtered_pressure_bar", "feed_flow_L_h", "membrane_pressure_bar"});
    case Point::kRejectPressure:
      return median({"membrane_pressure_bar", "reject_pressure_bar"});
    case Point::kProductFlow:
      return median({"flux_L_m2_h", "permeate_flow_L_h", "blend_flow_L_h", "product_flow_L_h"});
    case Point::kRejectFlow:
      return median({"feed_flow_L_h", "reject_flow_L_h"});
    case Point::kPermeateQuality:
      return median({"flux_L_m2_h", "polarisation", "wall_strength_pct", "permeate_strength_pct"});
    case Point::kProductQuality:
      return median(
          {"wall_strength_pct", "permeate_strength_pct", "blend_flow_L_h", "product_strength_pct"});
    case Point::kRejectQuality:
      return median({"recovery_pct", "reject_strength_pct"});
    default:
      return {};
  }
}

std::string name_of(Point point) { return std::string(fields::name_of(point)); }

LastOutput last_of(const Said<visit::ReadingEntry>& last, const messages::Catalogue& words) {
  return {.value = last.body.value,
          .unit = last.body.unit,
          .text = messages::render(words, {"job.reading", {{"value", number_of(last.body)}}}),
          .at = last.at};
}

// `over`: the visit that the reading belongs to has ended.
PointOutput written(const paper::ScenePoint& at,
                    const PointView& view,
                    bool over,
                    const messages::Catalogue& words) {
  PointOutput out{.point = at.point,
                  .order = at.order,
                  .x = at.at.x,
                  .y = at.at.y,
                  .slot = written(at.slot),
                  .name = view.words.name,
                  .how = messages::render(words, {"how." + name_of(at.point)}),
                  .units = units_for(at.point, view.like.unit, words),
                  .expected = view.words.expected,
                  .reading = view.words.reading,
                  .fit = view.words.fit,
                  .outside = view.words.outside,
                  .like = view.like};
  if (view.forecast != nullptr) {
    const auto& expected = view.forecast->expected;
    out.band = visit::ShownBand{.low = expected.low,
                                .high = expected.high,
                                .unit = view.like.unit,
                                .engine = std::string(kEngineVersion)};
    out.likely = view.forecast->likely;
    for (const char* end : {"low", "middle", "high"}) {
      out.working.push_back("points." + name_of(at.point) + "." + end);
    }
    for (auto& key : working_of(at.point)) out.working.push_back(std::move(key));
  }
  if (view.reading != nullptr && over) {
    // To be read anew: what stands there is last time's.
    out.last = last_of(*view.reading, words);
  } else if (view.last != nullptr) {
    out.last = last_of(*view.last, words);
  }
  if (view.reading != nullptr) {
    out.value = view.reading->body.value;
    out.unit = view.reading->body.unit;
    if (!over) out.entry = view.reading->id;
  }
  if (view.words.gauge) {
    out.band_from = view.words.gauge->from;
    out.band_to = view.words.gauge->to;
    out.mark = view.words.gauge->mark;
  }
  if (view.not_possible != nullptr) {
    const auto& body = view.not_possible->body;
    out.not_possible =
        messages::render(words, {"choice.because." + std::string(fields::name_of(body.because))});
    if (!over) out.not_possible_entry = view.not_possible->id;
  }
  return out;
}

SceneOutput written(const paper::Scene& scene,
                    const machine::MachineEntry& machine,
                    const PathView& view,
                    const visit::StartUp& start_up,
                    bool over,
                    const messages::Catalogue& words) {
  SceneOutput out{.width = scene.width, .height = scene.height};
  for (const paper::Path& p : scene.pipes) out.shapes.push_back(written(p, ""));
  for (std::size_t i = 0; i < scene.parts.size(); ++i) {
    const paper::ScenePart& part = scene.parts[i];
    const std::string path = part_path(part);
    for (const paper::Path& p : part.shapes) out.shapes.push_back(written(p, path));
    if (!view.parts[i].explains.empty()) {
      out.shapes.push_back(written(paper::corners_around(part.frame), path));
    }
    std::string about = about_part(part, machine, words);
    if (const auto m = visit::blend_caution(start_up); m && part.kind == paper::PartKind::kBlend) {
      about += " " + messages::render(words, *m);
    }
    if (const auto m = visit::voltage_caution(machine); m && part.kind == paper::PartKind::kPump) {
      about += " " + messages::render(words, *m);
    }
    out.parts.push_back({.id = path,
                         .path = path,
                         .name = view.parts[i].name,
                         .detail = view.parts[i].detail,
                         .explains = view.parts[i].explains,
                         .about = std::move(about),
                         .points = points_of(part, scene),
                         .frame = written(part.frame),
                         .slot = written(part.slot)});
  }
  for (std::size_t i = 0; i < scene.points.size(); ++i) {
    out.points.push_back(written(scene.points[i], view.points[i], over, words));
  }
  return out;
}

// ---- The whole ----------------------------------------------------------------------------------

void explain_points(const PathView& view, Working& working) {
  for (const PointView& p : view.points) {
    if (p.forecast == nullptr) continue;
    explain_band(working,
                 "points." + name_of(p.like.point),
                 band_in_unit(p.forecast->expected, p.like.unit),
                 static_cast<double>(p.forecast->likely.size()),
                 "jcgm2008");
  }
}

base::Result<base::Done> add_machine(SiteState state,
                                     const ViewInput& in,
                                     Working& working,
                                     const messages::Catalogue& words,
                                     ViewOutput& out) {
  const bool what_if = in.what_if && in.what_if->tries_something();
  const bool over = in.at && visit_is_over(state, book::seconds_of(*in.at));
  if (what_if) state = otherwise(std::move(state), *in.what_if);
  const paper::Scene scene = paper::water_path(state.machine->body, {.text = in.text});
  const auto usual = usual_readings(scene, state, in.units);
  visit::Sampling sampling;
  if (what_if) sampling.draws = kLiveDraws;
  TRY(const Solved solved, solve(std::move(state), sampling, usual));

  const Headline headline = headline_of(solved, what_if);
  out.headline_kind = headline.kind;
  out.headline = messages::render(words, headline.text);
  if (headline.detail) out.detail = messages::render(words, *headline.detail);
  if (!what_if) {
    for (const JobLine& line : in_words(solved, in.units)) {
      out.lines.push_back(rendered(line, words));
    }
    const auto first = before_drinking(solved);
    if (!first.empty()) {
      out.before_drinking.push_back(messages::render(words, {"paper.users.not_yet"}));
    }
    for (const Message& m : first) out.before_drinking.push_back(messages::render(words, m));
  }
  const PathView view = path_view(scene, solved, usual, in.units, words);
  out.scene = written(scene, solved.state.machine->body, view, solved.start_up, over, words);
  out.raw = water::conductivity_25(solved.start_up.raw.composition);
  const inference::Interval& surveyed = solved.start_up.surveyed;
  out.surveyed = SurveyedRaw{units::Conductivity(surveyed.low),
                             units::Conductivity(surveyed.middle),
                             units::Conductivity(surveyed.high)};
  out.sliders = sliders_of(solved, in.what_if, in.units, words);
  if (solved.start_up.next_point && !what_if) {
    out.next = NextOutput{*solved.start_up.next_point,
                          messages::render(words, *next_in_words(solved.start_up))};
  }
  for (const std::string& path : solved.start_up.assumed) {
    out.assumed.push_back({path, messages::render(words, field_of_machine(path))});
  }
  if (working.asked()) {
    accept_output(solved.start_up, working, "run.");
    explain_points(view, working);
  }
  return base::Done{};
}

base::Result<std::vector<MakeUpOutput>> make_up_of(const visit::SurveyEntry& survey,
                                                   const messages::Catalogue& words) {
  std::vector<MakeUpOutput> out;
  if (survey.basis == visit::SurveyBasis::kMeter) return out;
  TRY(const visit::SurveyedWater water, visit::surveyed_water(survey));
  const auto shares = ion_shares(water.members);
  double sides[2] = {0, 0};
  for (const IonShare& i : shares) sides[i.positive ? 0 : 1] += i.meq_L.middle;
  for (const IonShare& i : shares) {
    const std::string key = water::species_data(i.species).key;
    out.push_back({.key = key,
                   .name = messages::render(words, {"substance." + key}),
                   .positive = i.positive,
                   .share = i.meq_L.middle / std::max(sides[0], sides[1]),
                   .amount = amount_in_words(i, words)});
  }
  return out;
}

}  // namespace

LineOutput rendered(const JobLine& line, const messages::Catalogue& words) {
  LineOutput said{.kind = line.kind};
  for (const Message& cell : line.cells) said.cells.push_back(messages::render(words, cell));
  return said;
}

base::Result<ViewOutput> ask_view(const ViewInput& in,
                                  Working& working,
                                  const messages::Catalogue& words) {
  fields::ReadContext context;
  TRY(const book::SiteFile file, book::read_site_json(in.site_file.json, context));
  TRY(SiteState state, site_state(file, context));
  ViewOutput out;
  if (state.site) {
    out.name = state.site->body.name;
    out.note = state.site->body.note;
  }
  out.site = held(state.site);
  out.survey = held(state.survey);
  out.machine = held(state.machine);
  for (const Message& m : state.warnings) out.warnings.push_back(messages::render(words, m));
  for (const auto& p : state.photos) out.photos.push_back({p.id, p.at, p.body});
  out.handed_over = handed_over_output(state);
  for (const Message& m : handed_over_in_words(state)) {
    out.handed_over_says.push_back(messages::render(words, m));
  }
  if (state.survey) {
    TRY(out.make_up, make_up_of(state.survey->body, words));
  }
  if (!lacks(state)) {
    TRY([[maybe_unused]] const auto done, add_machine(std::move(state), in, working, words, out));
    return out;
  }
  if (state.site && state.survey) {
    TRY(const JudgedSource source, judge_source(state, {}));
    for (const JobLine& line : source_in_words(state, source.verdict, in.units)) {
      if (line.kind != JobLine::Kind::kTitle) out.lines.push_back(rendered(line, words));
    }
  }
  out.headline_kind = HeadlineKind::kNeeds;
  out.headline = messages::render(words,
                                  {!state.site      ? "view.needs_site"
                                   : !state.machine ? "view.needs_machine"
                                                    : "view.needs_survey"});
  return out;
}

base::Result<JudgeOutput> ask_judge(const JudgeInput& in,
                                    Working& /*working*/,
                                    const messages::Catalogue& words) {
  const visit::ReadingEntry& r = in.reading;
  JudgeOutput out{.reading = messages::render(words, {"job.reading", {{"value", number_of(r)}}})};
  if (r.point == Point::kTemperature || r.point == Point::kRawQuality) {
    out.fit = messages::render(words, {"reading.sets_the_water"});
    if (r.point == Point::kRawQuality && in.surveyed) {
      const auto& [low, middle, high] = *in.surveyed;
      const inference::Interval expected = visit::as_shown({low.si(), middle.si(), high.si()}, r);
      if (const auto m = visit::questioned(r, expected, {})) {
        out.question = messages::render(words, *m);
      }
    }
    return out;
  }
  if (r.point != in.like.point || r.condition != in.like.condition) return out;
  // The same true values, as this instrument and unit show them.
  std::vector<double> likely;
  for (const double value : in.likely) {
    visit::ReadingEntry at = in.like;
    at.value = value;
    likely.push_back(visit::as_shown(visit::measured(at).value, r));
  }
  std::sort(likely.begin(), likely.end());
  const auto judgement = visit::judge_reading(likely, r);
  const auto said = point_words(r, judgement, words);
  out.expected = said.expected;
  out.band = visit::ShownBand{.low = judgement.expected.low,
                              .high = judgement.expected.high,
                              .unit = r.unit,
                              .engine = std::string(kEngineVersion)};
  out.fit = said.fit;
  if (const auto m = visit::questioned(
          r, judgement.expected, in.raw ? std::optional(in.raw->si()) : std::nullopt)) {
    out.question = messages::render(words, *m);
  }
  out.outside = said.outside;
  out.band_from = said.gauge->from;
  out.band_to = said.gauge->to;
  out.mark = said.gauge->mark;
  return out;
}

}  // namespace drawoff::api
