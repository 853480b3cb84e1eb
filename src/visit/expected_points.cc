#include "visit/expected_points.h"

#include <algorithm>
#include <cmath>

#include "machine/linear_intervals.h"
#include "visit/day.h"
#include "visit/observable.h"

namespace drawoff::visit {

using machine::Point;
using machine::PointValues;

base::Result<ExpectedPoints> expected_points(const SurveyEntry& survey,
                                             const machine::MachineEntry& entry,
                                             const machine::Condition& condition,
                                             const Sampling& sampling) {
  TRY(const SurveyedWater surveyed, surveyed_water(survey));
  const auto raw = water_of_the_day(surveyed, {}).raw;
  const auto feed = machine::feed_of(raw, entry);
  const auto median = machine::nominal(entry, feed);
  if (median.status != membrane::RatingStatus::kFound) {
    return base::Error{base::ErrorKind::kData, {"error.rating.contradicts"}};
  }
  const auto state = key_of(condition, as_built(entry));
  const auto specimens = machine::specimens(entry, raw, feed, sampling.seed, sampling.draws);
  ExpectedPoints out{.assumed = machine::assumed(entry)};
  out.outcome = machine::operating_point(machine::in_condition(median.specimen.machine, state),
                                         feed.water,
                                         median.specimen.parameters)
                    .outcome;
  const auto lines = machine::linear_intervals(
      median.specimen, machine::variation_of(median.specimen, specimens, feed), feed, state);
  std::vector<PointValues> drawn;
  if (!std::all_of(lines.begin(), lines.end(), [](const auto& line) { return line.has_value(); })) {
    for (const auto& s : specimens) drawn.push_back(machine::values_at(s, feed, state));
  }
  for (std::size_t i = 0; i < lines.size(); ++i) {
    const auto point = static_cast<Point>(i);
    if (lines[i]) {
      out.points.push_back(
          {point, {lines[i]->low, lines[i]->middle, lines[i]->high}, IntervalBy::kSlope});
      continue;
    }
    std::vector<double> draws;
    for (const PointValues& values : drawn) draws.push_back(values[i]);
    if (const auto band = expected_of(std::move(draws))) {
      out.points.push_back({point, *band, IntervalBy::kDraws});
    }
  }
  return out;
}

}  // namespace drawoff::visit
