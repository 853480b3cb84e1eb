#include "api/path_view.h"

#include <algorithm>
#include <cmath>

#include "api/machine_question_fields.h"
#include "api/say.h"
#include "messages/number.h"

namespace drawoff::api {

namespace {

using base::Message;
using base::Number;
using base::Ref;
using machine::Point;
using machine::PointKind;
using paper::PartKind;
using visit::ReadingEntry;

// The latest reading that `fits`, of this visit or one before, whatever the membrane.
template <class Fits>
const ReadingEntry* latest(const SiteState& state, Fits fits) {
  for (const auto* list : {&state.readings, &state.earlier, &state.of_membrane_before}) {
    const auto found = std::find_if(
        list->rbegin(), list->rend(), [&](const auto& said) { return fits(said.body); });
    if (found != list->rend()) return &found->body;
  }
  return nullptr;
}

machine::Condition usual_condition(Point point, const machine::MachineEntry& machine) {
  machine::Condition c;
  const bool of_product = point == Point::kProductFlow || point == Point::kProductQuality ||
                          point == Point::kPermeateQuality;
  if (of_product) c.product_to = machine::ProductVessel::kJug;
  if (point == Point::kPermeateQuality && machine.blend) c.blend = machine::BlendState::kShut;
  return c;
}

const Said<ReadingEntry>* at_point(const std::vector<Said<ReadingEntry>>& readings, Point point) {
  const auto found = std::find_if(readings.rbegin(), readings.rend(), [&](const auto& said) {
    return said.body.point == point;
  });
  return found == readings.rend() ? nullptr : &*found;
}

// Band and reading along a scale three bands wide, so that a band always looks the same.
paper::Gauge gauge_of(const inference::Interval& band, std::optional<double> value) {
  constexpr double kEnd = 0.02;  // a mark beyond the scale stands at its end
  paper::Gauge gauge{.from = 1.0 / 3, .to = 2.0 / 3};
  const double width = band.high - band.low;
  if (value && width > 0) {
    gauge.mark = std::clamp((*value - band.low + width) / (3 * width), kEnd, 1 - kEnd);
  }
  return gauge;
}

std::string should_be(const inference::Interval& band,
                      const ReadingEntry& like,
                      const messages::Catalogue& words) {
  Message m = band_of(band, like);
  m.id = "scene.should";
  return messages::render(words, m);
}

std::string value_of(const ReadingEntry& reading, const messages::Catalogue& words) {
  return messages::render(words, {"job.reading", {{"value", number_of(reading)}}});
}

// "filter.carbon", "vessel.jug", "pump": what it is, for its name and for what is said about it.
std::string kind_of_part(const paper::ScenePart& part, const machine::MachineEntry& m) {
  switch (part.kind) {
    case PartKind::kFilter:
    case PartKind::kPolish:
      return "filter." + std::string(fields::name_of(m.filters[part.index].kind));
    case PartKind::kVessel:
      return "vessel." + std::string(fields::name_of(m.product.vessel));
    case PartKind::kCooler:
      return "vessel.cooler";
    default:
      return drawn_part(part.kind);
  }
}

Number count(int n) { return {static_cast<double>(n), "", messages::digits_of(n)}; }

Message name_of(const paper::ScenePart& part, const machine::MachineEntry& m) {
  if (part.kind != PartKind::kCooler) return {"part." + kind_of_part(part, m)};
  const bool after_one = m.product.vessel == machine::ProductVessel::kCooler;
  return {"part.further_cooler",
          {{"n", count(static_cast<int>(part.index) + (after_one ? 2 : 1))}}};
}

Number whole_percent(double share) {
  const double whole = std::round(100 * share);
  return {whole, "%", messages::digits_of(whole)};
}

// One thing that its plate or its place says; empty where nothing is worth a line.
std::optional<Message> detail_of(const paper::ScenePart& part,
                                 const machine::MachineEntry& m,
                                 fields::UnitSystem units) {
  const PartKind kind = part.kind;
  const auto say = [&](double si, const char* key) { return in_units(si, key, units); };
  if (m.basis == machine::PlatesBasis::kSize) {
    if (kind == PartKind::kMembrane) return Message{"scene.size", {{"size", m.element.size}}};
    return kind == PartKind::kDrain ? std::optional(Message{"scene.drain"}) : std::nullopt;
  }
  const auto opening = [](double share) {
    if (std::round(100 * share) <= 0) return Message{"scene.blend_shut"};
    return Message{"scene.blend", {{"opening", whole_percent(share)}}};
  };
  const auto stops_at = [&](const machine::SwitchEntry& s) {
    return Message{"scene.switch", {{"pressure", say(s.cut_out.si(), "bar")}}};
  };
  const auto height = [&](units::Length h) -> std::optional<Message> {
    if (h.si() == 0) return std::nullopt;
    return Message{"scene.vessel", {{"height", say(h.si(), "m")}}};
  };
  switch (kind) {
    case PartKind::kSupply:
      return Message{"scene.supply", {{"pressure", say(m.supply.pressure.si(), "bar")}}};
    case PartKind::kRawTank:
      return Message{"scene.raw_tank",
                     {{"volume", say(m.raw_tank->volume.si(), "L")},
                      {"level", say(m.raw_tank->level.si(), "m")}}};
    case PartKind::kRegulator:
      return Message{"scene.regulator", {{"pressure", say(m.regulator->set_pressure.si(), "bar")}}};
    case PartKind::kSolenoid:
      return Message{"scene.solenoid"};
    case PartKind::kShutOff:
      return Message{"scene.shut_off", {{"share", whole_percent(m.hydraulic_shut_off->closes_at)}}};
    case PartKind::kRecirculation:
      return opening(m.recirculation->opening);
    case PartKind::kLowSwitch:
      return stops_at(*m.low_pressure_switch);
    case PartKind::kHighSwitch:
      return stops_at(*m.high_pressure_switch);
    case PartKind::kPump: {
      Message one{"scene.pump",
                  {{"flow", say(m.pump->rated_flow.si(), "L_h")},
                   {"pressure", say(m.pump->rated_pressure.si(), "bar")}}};
      if (m.pump->count < 2) return one;
      one.id = "scene.pumps";
      one.arguments.push_back({"n", count(m.pump->count)});
      one.arguments.push_back(
          {"how", Ref{"choice.arrangement." + std::string(fields::name_of(m.pump->arrangement))}});
      return one;
    }
    case PartKind::kMembrane: {
      const Number flow = say(m.element.permeate_flow.si(), "L_h");
      const int n = m.element.in_series * m.element.in_parallel;
      if (n > 1) {
        return Message{"scene.membranes",
                       {{"n", count(n)}, {"size", m.element.size}, {"flow", flow}}};
      }
      return Message{"scene.membrane",
                     {{"size", m.element.size},
                      {"flow", flow},
                      {"pressure", say(m.element.test_pressure.si(), "bar")}}};
    }
    case PartKind::kRestrictor:
      return Message{"scene.restrictor", {{"flow", say(m.restrictor.flow.si(), "mL_min")}}};
    case PartKind::kFlushValve:
      return Message{"scene.flush_valve", {{"flow", say(m.flush_valve->flow.si(), "L_h")}}};
    case PartKind::kDrain:
      return Message{"scene.drain"};
    case PartKind::kBlend:
      return opening(m.blend->opening);
    case PartKind::kVessel:
      return height(m.product.height);
    case PartKind::kCooler:
      return height(m.product.coolers[part.index].height);
    case PartKind::kFilter:
    case PartKind::kPolish:
      break;
  }
  return std::nullopt;
}

// The test points that tell of a part: those before and behind it along its water.
std::vector<Point> points_of(PartKind kind) {
  switch (kind) {
    case PartKind::kSupply:
      return {Point::kTemperature, Point::kRawQuality, Point::kInletPressure};
    case PartKind::kRawTank:
      return {Point::kInletPressure, Point::kRawQuality};
    case PartKind::kRegulator:
    case PartKind::kFilter:
      return {Point::kInletPressure, Point::kFilteredPressure};
    case PartKind::kSolenoid:
    case PartKind::kShutOff:
    case PartKind::kLowSwitch:
    case PartKind::kPump:
      return {Point::kFilteredPressure, Point::kMembranePressure};
    case PartKind::kRecirculation:
      return {Point::kMembranePressure, Point::kRejectFlow, Point::kRejectQuality};
    case PartKind::kMembrane:
      return {Point::kMembranePressure,
              Point::kPermeateQuality,
              Point::kProductQuality,
              Point::kProductFlow,
              Point::kRejectFlow,
              Point::kRejectQuality};
    case PartKind::kRestrictor:
    case PartKind::kFlushValve:
      return {Point::kMembranePressure, Point::kRejectFlow};
    case PartKind::kDrain:
      return {Point::kRejectFlow, Point::kRejectQuality};
    case PartKind::kBlend:
      return {Point::kRawQuality, Point::kPermeateQuality, Point::kProductQuality};
    case PartKind::kPolish:
      return {Point::kProductQuality, Point::kProductFlow};
    case PartKind::kHighSwitch:
    case PartKind::kVessel:
    case PartKind::kCooler:
      return {Point::kProductFlow, Point::kProductQuality};
  }
  return {};
}

// Beyond this a part is said to explain the readings, not only that it may.
constexpr double kExplains = 0.8;

// Whether the likeliest cause, or one that the readings cannot tell from it, sits in this part.
const char* explanation_of(const paper::ScenePart& part, const visit::StartUp& s) {
  if (!something_is_wrong(s) || s.causes.causes.empty()) return nullptr;
  const auto& first = s.causes.causes.front();
  std::vector<std::string> ids{first.id};
  ids.insert(ids.end(), first.alike.begin(), first.alike.end());
  const std::string here = drawn_part(part.kind);
  const bool among = std::any_of(ids.begin(), ids.end(), [&](const std::string& id) {
    return visit::part_of_cause(id) == here;
  });
  if (!among) return nullptr;
  const bool sure = first.alike.empty() && first.probability > kExplains &&
                    s.standing == visit::StartUpStanding::kNotYet;
  return sure ? "scene.explains" : "scene.perhaps";
}

}  // namespace

Number in_units(double si, std::string_view unit_key, fields::UnitSystem units) {
  constexpr int kDigits = 3;
  const auto* unit = fields::shown_unit(units::unit_of_key(unit_key), units);
  const double rounded = messages::rounded(units::from_si(*unit, si), kDigits);
  return {rounded, std::string(unit->symbol), std::min(kDigits, messages::digits_of(rounded))};
}

Message in_units(Message message, fields::UnitSystem units) {
  for (auto& [key, argument] : message.arguments) {
    auto* number = std::get_if<Number>(&argument);
    if (number == nullptr || number->unit.empty()) continue;
    const auto given = std::find_if(units::kUnits.begin(),
                                    units::kUnits.end(),
                                    [&](const auto& unit) { return unit.symbol == number->unit; });
    if (given == units::kUnits.end()) continue;
    const auto* shown = fields::shown_unit(&*given, units);
    if (shown == &*given) continue;
    number->value = units::from_si(*shown, units::to_si(*given, number->value));
    number->unit = shown->symbol;
  }
  return message;
}

std::string drawn_part(PartKind kind) {
  switch (kind) {
    case PartKind::kSupply:
      return "supply";
    case PartKind::kRawTank:
      return "raw_tank";
    case PartKind::kRegulator:
      return "regulator";
    case PartKind::kFilter:
      return "filters";
    case PartKind::kSolenoid:
      return "solenoid";
    case PartKind::kShutOff:
      return "hydraulic_shut_off";
    case PartKind::kRecirculation:
      return "recirculation";
    case PartKind::kLowSwitch:
      return "low_pressure_switch";
    case PartKind::kPump:
      return "pump";
    case PartKind::kMembrane:
      return "membrane";
    case PartKind::kRestrictor:
      return "restrictor";
    case PartKind::kFlushValve:
      return "flush_valve";
    case PartKind::kDrain:
      return "drain";
    case PartKind::kBlend:
      return "blend";
    case PartKind::kPolish:
      return "polish";
    case PartKind::kHighSwitch:
      return "high_pressure_switch";
    case PartKind::kVessel:
      return "vessel";
    case PartKind::kCooler:
      return "coolers";
  }
  return "";
}

std::string part_path(const paper::ScenePart& part) {
  const auto entry = [&](const char* list) {
    return list + ("[" + std::to_string(part.index) + "]");
  };
  switch (part.kind) {
    case PartKind::kFilter:
    case PartKind::kPolish:
      return entry("filters");
    case PartKind::kMembrane:
      return "element";
    case PartKind::kVessel:
      return "product";
    case PartKind::kCooler:
      return entry("product.coolers");
    default:
      return drawn_part(part.kind);
  }
}

paper::PartWords part_words(const paper::ScenePart& part,
                            const machine::MachineEntry& machine,
                            fields::UnitSystem units,
                            const messages::Catalogue& words) {
  paper::PartWords out{.name = messages::render(words, name_of(part, machine))};
  if (const auto detail = detail_of(part, machine, units)) {
    out.detail = messages::render(words, *detail);
  }
  return out;
}

std::string about_part(const paper::ScenePart& part,
                       const machine::MachineEntry& machine,
                       const messages::Catalogue& words) {
  return messages::render(words, {"about.part." + kind_of_part(part, machine)});
}

std::vector<Point> points_of(const paper::ScenePart& part, const paper::Scene& scene) {
  std::vector<Point> out = points_of(part.kind);
  std::erase_if(out, [&](Point p) {
    return std::none_of(
        scene.points.begin(), scene.points.end(), [&](const auto& at) { return at.point == p; });
  });
  return out;
}

std::vector<ReadingEntry> usual_readings(const paper::Scene& scene,
                                         const SiteState& state,
                                         fields::UnitSystem units) {
  std::vector<ReadingEntry> out;
  for (const paper::ScenePoint& p : scene.points) {
    const PointKind kind = machine::kind_of(p.point);
    // A value that any instrument can show there; it says nothing.
    ReadingEntry like{.point = p.point,
                      .value = 40,
                      .unit = usual_unit(kind, units),
                      .condition = usual_condition(p.point, state.machine->body)};
    if (const auto* same_kind = latest(
            state, [&](const ReadingEntry& r) { return machine::kind_of(r.point) == kind; })) {
      like.instrument = same_kind->instrument;
      if (kind == PointKind::kQuality) like.unit = same_kind->unit;
    }
    if (const auto* same =
            latest(state, [&](const ReadingEntry& r) { return r.point == p.point; })) {
      like.unit = same->unit;
      like.instrument = same->instrument;
      like.condition = same->condition;
      like.condition.since_start.reset();
      like.condition.rest_before.reset();
    }
    out.push_back(std::move(like));
  }
  return out;
}

paper::PointWords point_words(const ReadingEntry& reading,
                              const inference::Judgement& judgement,
                              const messages::Catalogue& words) {
  return {.reading = value_of(reading, words),
          .expected = should_be(judgement.expected, reading, words),
          .fit = messages::render(words, {"fit." + std::string(fields::name_of(judgement.fit))}),
          .outside = judgement.fit != inference::Fit::kAsExpected,
          .gauge = gauge_of(judgement.expected, reading.value)};
}

PathView path_view(const paper::Scene& scene,
                   const Solved& solved,
                   std::span<const ReadingEntry> usual,
                   fields::UnitSystem units,
                   const messages::Catalogue& words) {
  const visit::StartUp& s = solved.start_up;
  const SiteState& state = solved.state;
  const machine::MachineEntry& entry = state.machine->body;
  PathView out;
  for (const paper::ScenePart& part : scene.parts) {
    paper::PartWords w = part_words(part, entry, units, words);
    if (const char* why = explanation_of(part, s)) w.explains = messages::render(words, {why});
    out.parts.push_back(std::move(w));
  }
  for (std::size_t i = 0; i < scene.points.size(); ++i) {
    const Point point = scene.points[i].point;
    PointView view{.like = usual[i]};
    for (const visit::Forecast& f : s.forecasts) {
      if (f.like.point == point) view.forecast = &f;
    }
    view.reading = at_point(state.readings, point);
    view.last = at_point(state.earlier, point);
    for (const auto& n : state.not_possible) {
      if (n.body.point == point) view.not_possible = &n;
    }
    const auto judged = std::find_if(s.readings.rbegin(), s.readings.rend(), [&](const auto& r) {
      return r.reading.point == point;
    });
    if (view.forecast != nullptr) {
      view.words.expected = should_be(view.forecast->expected, view.like, words);
      view.words.gauge = gauge_of(view.forecast->expected, std::nullopt);
    }
    if (view.reading != nullptr && judged != s.readings.rend()) {
      if (judged->judgement) {
        view.words = point_words(judged->reading, *judged->judgement, words);
      } else {
        view.words.reading = value_of(view.reading->body, words);
        view.words.fit =
            messages::render(words,
                             judged->set_aside->arguments.empty() ? Message{judged->set_aside->id}
                                                                  : *judged->set_aside);
        if (view.forecast != nullptr && view.reading->body.unit == view.like.unit) {
          view.words.gauge = gauge_of(view.forecast->expected, view.reading->body.value);
        }
      }
    } else if (view.reading != nullptr) {
      view.words.reading = value_of(view.reading->body, words);
    }
    // The day's water is what was read: it has no band of its own any more.
    const bool is_water = point == Point::kTemperature || point == Point::kRawQuality;
    if (is_water && view.reading != nullptr) {
      view.words.expected.clear();
      view.words.gauge.reset();
    }
    view.words.name =
        messages::render(words, state_of(view.reading != nullptr ? view.reading->body : view.like));
    out.points.push_back(std::move(view));
  }
  return out;
}

}  // namespace drawoff::api
