#include "api/first_glass_screen.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "api/path_view.h"
#include "api/rest_question.h"
#include "api/say.h"
#include "base/check.h"
#include "messages/number.h"
#include "paper/scene.h"

namespace drawoff::api {

namespace {

using base::Message;
using base::Number;
using machine::ProductVessel;

// Enough for intervals of two digits, and soon there on a phone.
constexpr int kDraws = 100;

// How long people mean by it: common practice, no source. A night is from close of work to its
// start, a weekend from Friday evening to Monday morning.
units::Time time_of(RestLength rest) {
  constexpr double kHour = 3600;
  switch (rest) {
    case RestLength::kMinutes:
      return units::Time(5.0 * 60);
    case RestLength::kHour:
      return units::Time(kHour);
    case RestLength::kNight:
      return units::Time(14 * kHour);
    case RestLength::kWeekend:
      return units::Time(62 * kHour);
  }
  return units::Time(0);
}

// Says things in the person's words and units, a quality as their meter shows it.
class Teller {
 public:
  Teller(const SiteState& state, fields::UnitSystem units, const messages::Catalogue& words)
      : units_(units), words_(words) {
    const auto usual = usual_readings(paper::water_path(state.machine->body, {}), state, units);
    const auto found = std::find_if(usual.begin(), usual.end(), [](const auto& reading) {
      return reading.point == machine::Point::kProductQuality;
    });
    CHECK(found != usual.end());  // every drawing ends in the product
    meter_ = *found;
  }

  std::string say(const Message& message) const { return messages::render(words_, message); }
  double shown(units::Conductivity quality) const { return visit::as_shown(quality.si(), meter_); }
  std::string meter_unit() const { return std::string(visit::unit_of(meter_.unit).symbol); }

  // A single figure is of the median machine: its third digit would say nothing.
  Number on_meter(double value) const {
    const double r = messages::rounded(value, 2);
    return {r, meter_unit(), messages::digits_of(r)};
  }
  static const units::Unit& litre() { return *units::unit_of_key("L"); }
  const messages::Catalogue& words() const { return words_; }
  Number volume(double si) const { return in_units(si, volume_key(si), units_); }

  std::string qualities(const char* id, const Band& band) const {
    const auto* unit = units::unit_of_key(band.unit);
    const auto at = [&](double value) {
      return shown(units::Conductivity(units::to_si(*unit, value)));
    };
    return between(id, at(band.low), at(band.high), meter_unit());
  }
  std::string volumes(const char* id, const Band& band) const {
    const auto& given = *units::unit_of_key(band.unit);
    const auto& unit = *units::unit_of_key(volume_key(units::to_si(given, band.high)));
    const auto at = [&](double value) { return units::from_si(unit, units::to_si(given, value)); };
    return between(id, at(band.low), at(band.high), std::string(unit.symbol));
  }

 private:
  static std::string_view volume_key(double si) { return si < 0.1e-3 ? "mL" : "L"; }
  std::string between(const char* id, double low, double high, const std::string& unit) const {
    Message message = band_of(low, high, unit);
    message.id = id;
    return say(message);
  }

  fields::UnitSystem units_;
  const messages::Catalogue& words_;
  visit::ReadingEntry meter_;  // how the person reads the product
};

std::vector<RestChoiceOutput> choices(const messages::Catalogue& words) {
  std::vector<RestChoiceOutput> out;
  for (const auto& choice : fields::EnumTable<RestLength>::list) {
    out.push_back({choice.value,
                   messages::render(words, {"choice.rest_length." + std::string(choice.name)})});
  }
  return out;
}

std::string headline_of(const RestOutput& rest,
                        const machine::MachineEntry& machine,
                        const Teller& teller) {
  const ProductVessel vessel = machine.product.vessel;
  if (vessel != ProductVessel::kJug) {
    return teller.say({"first_glass.into." + std::string(fields::name_of(vessel))});
  }
  if (rest.settled->middle > 0) return teller.say({"transient.rest.discard_first"});
  return teller.say({"first_glass.as_good"});
}

std::vector<std::string> first_of(const RestOutput& rest,
                                  const machine::MachineEntry& machine,
                                  const Teller& teller) {
  std::vector<std::string> out{teller.qualities("first_glass.half_litre", *rest.first_half_litre),
                               teller.qualities("first_glass.running", *rest.product_quality)};
  const Band& settled = *rest.settled;
  if (settled.low > 0) {
    out.push_back(teller.volumes("first_glass.settled", settled));
  } else if (settled.high > 0) {
    const double high = units::to_si(*units::unit_of_key(settled.unit), settled.high);
    out.push_back(teller.say({"first_glass.settled_within", {{"high", teller.volume(high)}}}));
  }
  if (machine.product.vessel == ProductVessel::kTank && rest.vessel_after) {
    out.push_back(teller.qualities("first_glass.tank", *rest.vessel_after));
  }
  return out;
}

std::vector<std::string> blend_of(const RestOutput& rest,
                                  const machine::MachineEntry& machine,
                                  const Teller& teller) {
  if (!machine.blend) return {teller.say({"first_glass.no_blend"})};
  // The question's first remark is the blend's.
  std::vector<std::string> out{teller.say({rest.remarks.front()})};
  if (rest.seep_volume) {
    out.push_back(teller.volumes("first_glass.moves", *rest.seep_volume));
  }
  constexpr double kSure = 0.95;  // then it need not be said
  if (*rest.same_seep < kSure) {
    out.push_back(teller.say({"first_glass.seep_sure", {{"share", percent(*rest.same_seep)}}}));
  }
  return out;
}

CurveOutput curve_of(const RestOutput& rest, const Teller& teller) {
  const auto& steps = rest.first_draw;
  std::vector<double> values;
  for (const DrawnStep& one : steps) values.push_back(teller.shown(one.quality));
  // What stood in the tube is the running product, and comes first.
  const double running = values.front();
  const auto peak = std::max_element(values.begin(), values.end());
  UpAxis axis = up_axis(*peak, teller.words());
  const double end = steps.back().drawn.si();
  CurveOutput out;
  for (std::size_t i = 0; i < steps.size(); ++i) {
    out.points.push_back({steps[i].drawn.si() / end, values[i] / axis.top});
  }
  const Number runs = teller.on_meter(running);
  out.level = {running / axis.top, teller.say({"first_glass.runs", {{"value", runs}}})};
  for (int i = 0; i <= 2; ++i) {
    out.across.push_back(
        {i / 2.0, bare_number(units::from_si(teller.litre(), end * i / 2), teller.words())});
  }
  out.up = std::move(axis.ticks);
  out.across_label =
      teller.say({"first_glass.across", {{"unit", std::string(teller.litre().symbol)}}});
  out.up_label = teller.say({"first_glass.up", {{"unit", teller.meter_unit()}}});
  const auto strongest = steps[static_cast<std::size_t>(peak - values.begin())].drawn.si();
  out.said = strongest > 0 ? teller.say({"first_glass.curve",
                                         {{"first", runs},
                                          {"most", teller.on_meter(*peak)},
                                          {"drawn", teller.volume(strongest)},
                                          {"last", teller.on_meter(values.back())},
                                          {"end", teller.volume(end)}}})
                           : teller.say({"first_glass.curve_falls",
                                         {{"first", runs},
                                          {"last", teller.on_meter(values.back())},
                                          {"end", teller.volume(end)}}});
  return out;
}

}  // namespace

base::Result<FirstGlassOutput> ask_first_glass(const FirstGlassInput& in,
                                               Working& /*working*/,
                                               const messages::Catalogue& words) {
  fields::ReadContext context;
  TRY(const book::SiteFile file, book::read_site_json(in.site_file.json, context));
  TRY(const SiteState state, site_state(file, context));
  if (auto lacking = lacks(state)) return *std::move(lacking);
  const machine::MachineEntry& machine = state.machine->body;
  Working unasked(false);
  TRY(const RestOutput rest,
      ask_rest({.survey = state.survey->body,
                .machine = machine,
                .condition = {.rest_before = time_of(in.rest)},
                .readings = bodies_of(state.readings),
                .draws = kDraws},
               unasked));
  FirstGlassOutput out{.choices = choices(words)};
  const Teller teller(state, in.units, words);
  if (!rest.first_half_litre) {
    out.headline =
        teller.say({rest.remarks.empty() ? "first_glass.cannot_tell" : rest.remarks.front()});
    return out;
  }
  out.headline = headline_of(rest, machine, teller);
  out.first = first_of(rest, machine, teller);
  out.blend = blend_of(rest, machine, teller);
  out.curve = curve_of(rest, teller);
  return out;
}

}  // namespace drawoff::api
