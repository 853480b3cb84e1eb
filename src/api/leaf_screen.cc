#include "api/leaf_screen.h"

#include <algorithm>

#include "api/path_view.h"
#include "api/solved.h"
#include "machine/leaf.h"
#include "machine/readings.h"
#include "messages/number.h"
#include "visit/day.h"
#include "visit/observable.h"
#include "water/analysis.h"

namespace drawoff::api {

namespace {

using base::Number;
using machine::LeafStation;

// One value of the stations against the way along the membranes; a line where one ends.
CurveOutput curve_of(const std::vector<LeafStation>& stations,
                     const std::vector<double>& values,
                     double level,
                     const messages::Catalogue& words) {
  UpAxis axis = up_axis(std::max(level, *std::max_element(values.begin(), values.end())), words);
  CurveOutput out;
  for (std::size_t i = 0; i < stations.size(); ++i) {
    out.points.push_back({stations[i].along, values[i] / axis.top});
  }
  out.level.at = level / axis.top;
  out.across.push_back({0, messages::render(words, {"leaf.feed"})});
  const auto elements = stations.size() / machine::kStations;
  for (std::size_t i = 1; i < elements; ++i) {
    out.across.push_back({stations[i * machine::kStations].along, ""});
  }
  out.across.push_back({1, messages::render(words, {"leaf.drain"})});
  out.up = std::move(axis.ticks);
  const auto n = static_cast<double>(elements);
  out.across_label =
      messages::render(words, {"leaf.across", {{"n", Number{n, "", messages::digits_of(n)}}}});
  return out;
}

CurveOutput flux_curve(const std::vector<LeafStation>& stations,
                       double mean,
                       fields::UnitSystem units,
                       const messages::Catalogue& words) {
  constexpr std::string_view kUnit = "L_m2_h";
  const auto& unit = *fields::shown_unit(units::unit_of_key(kUnit), units);
  const auto shown = [&](double flux) { return in_units(flux, kUnit, units); };
  std::vector<double> values;
  for (const LeafStation& s : stations) values.push_back(units::from_si(unit, s.flux));
  CurveOutput out = curve_of(stations, values, units::from_si(unit, mean), words);
  out.level.text = messages::render(words, {"leaf.mean", {{"value", shown(mean)}}});
  out.up_label = messages::render(words, {"leaf.flux_up", {{"unit", shown(mean).unit}}});
  out.said = messages::render(words,
                              {"leaf.flux",
                               {{"first", shown(stations.front().flux)},
                                {"last", shown(stations.back().flux)},
                                {"mean", shown(mean)}}});
  return out;
}

CurveOutput wall_curve(const std::vector<LeafStation>& stations, const messages::Catalogue& words) {
  std::vector<double> values;
  for (const LeafStation& s : stations) values.push_back(s.wall);
  CurveOutput out = curve_of(stations, values, 1, words);
  const auto times = [](double wall) {
    const double r = messages::rounded(wall, 2);
    return Number{r, "", messages::digits_of(r)};
  };
  out.level.text = messages::render(words, {"leaf.raw"});
  out.up_label = messages::render(words, {"leaf.wall_up"});
  out.said = messages::render(
      words, {"leaf.wall", {{"first", times(values.front())}, {"last", times(values.back())}}});
  return out;
}

}  // namespace

base::Result<LeafOutput> ask_leaf(const LeafInput& in,
                                  Working& /*working*/,
                                  const messages::Catalogue& words) {
  fields::ReadContext context;
  TRY(const book::SiteFile file, book::read_site_json(in.site_file.json, context));
  TRY(const SiteState state, site_state(file, context));
  if (auto lacking = lacks(state)) return *std::move(lacking);
  TRY(const visit::SurveyedWater surveyed, visit::surveyed_water(state.survey->body));
  const auto day = visit::water_of_the_day(surveyed, bodies_of(state.readings));
  const machine::MachineEntry& entry = state.machine->body;
  const auto feed = machine::feed_of(day.raw, entry);
  const auto nominal = machine::nominal(entry, feed);
  if (nominal.status != membrane::RatingStatus::kFound) {
    return base::Error{base::ErrorKind::kData, {"error.rating.contradicts"}};
  }
  const auto built = machine::in_condition(nominal.specimen.machine, visit::as_built(entry));
  const auto point = machine::operating_point(built, feed.water, nominal.specimen.parameters);
  const bool flows =
      point.outcome == machine::Outcome::kRuns || point.outcome == machine::Outcome::kOverPressure;
  if (!flows || !(point.permeate_flow > 0)) return LeafOutput{};
  const auto stations = machine::along_row(nominal.specimen, built, feed, point);
  return LeafOutput{.flux = flux_curve(stations, point.flux, in.units, words),
                    .wall = wall_curve(stations, words)};
}

}  // namespace drawoff::api
