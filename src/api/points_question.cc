#include "api/points_question.h"

#include <fmt/format.h>

#include <cmath>

namespace drawoff::api {

base::Result<PointsOutput> ask_points(const PointsInput& in, Working& working) {
  TRY(const visit::ExpectedPoints found,
      visit::expected_points(in.survey,
                             in.machine,
                             in.condition,
                             {.draws = in.draws, .seed = static_cast<std::uint64_t>(in.seed)}));
  PointsOutput out{.outcome = found.outcome, .assumed = found.assumed};
  for (const visit::PointExpectation& e : found.points) {
    const std::string path = fmt::format("points[{}].expected", out.points.size());
    out.points.push_back({e.point, band_at(e.point, e.expected), e.by});
    const Band& band = out.points.back().expected;
    if (e.by == visit::IntervalBy::kDraws) {
      explain_band(working, path, band, in.draws, "hyndman1996");
      continue;
    }
    if (!working.asked()) continue;
    const auto* unit = units::unit_of_key(band.unit);
    const bool logarithmic = machine::kind_of(e.point) != machine::PointKind::kPressure;
    const double half = logarithmic ? std::log(band.high / band.middle) : band.high - band.middle;
    const std::string symbol = unit == nullptr ? "" : std::string(unit->symbol);
    const std::tuple<const char*, double, double> rows[] = {
        {"low", -1, band.low}, {"middle", 0, band.middle}, {"high", 1, band.high}};
    for (const auto& [key, side, value] : rows) {
      working.add({.result = path + "." + key,
                   .symbol = "y",
                   .formula = logarithmic ? "y = y_m exp(s h), h = 1.645 √(J C Jᵀ)"
                                          : "y = y_m + s h, h = 1.645 √(J C Jᵀ)",
                   .inputs = {{"y_m", band.middle, symbol},
                              {"s", side, ""},
                              {"h", half, logarithmic ? "" : symbol}},
                   .value = value,
                   .unit = symbol,
                   .source = "jcgm2008"});
    }
  }
  return out;
}

}  // namespace drawoff::api
