#include "api/transient_draws.h"

#include <fmt/format.h>

#include "api/machine_question_fields.h"
#include "numerics/sample.h"
#include "visit/day.h"
#include "water/analysis.h"

namespace drawoff::api {

base::Result<TransientDraws> transient_draws(const visit::SurveyEntry& survey,
                                             std::span<const visit::ReadingEntry> readings,
                                             const machine::MachineEntry& entry,
                                             const machine::Condition& condition,
                                             int draws,
                                             long long seed,
                                             transients::Reach reach) {
  TRY(const visit::SurveyedWater surveyed, visit::surveyed_water(survey));
  const machine::RawWater raw = visit::water_of_the_day(surveyed, readings).raw;
  TransientDraws out{.feed = machine::feed_of(raw, entry)};
  const auto median = machine::nominal(entry, out.feed);
  if (median.status != membrane::RatingStatus::kFound) {
    return base::Error{base::ErrorKind::kData, {"error.rating.contradicts"}};
  }
  const auto plant = [&](const machine::Specimen& specimen,
                         const transients::VolumeFactors& factors) {
    return TransientDraw{
        .specimen = specimen,
        .factors = factors,
        .plant = transients::plant_of(entry, specimen, out.feed, condition, factors, reach)};
  };
  out.median = plant(median.specimen, {});
  const auto counter = static_cast<std::uint64_t>(seed);
  int index = 0;
  for (const auto& specimen : machine::specimens(entry, raw, out.feed, counter, draws)) {
    auto draw = plant(specimen, transients::draw_volume_factors(counter, index++));
    if (draw.plant.curve.usable()) out.draws.push_back(std::move(draw));
  }
  out.runs = static_cast<double>(out.draws.size()) / draws;
  return out;
}

bool can_tell(const TransientDraws& draws) {
  return draws.median.plant.curve.usable() && draws.draws.size() >= kLeastTransientDraws;
}

Band band_of(std::span<const double> values,
             std::string_view unit_key,
             Working& working,
             const std::string& at,
             const Origin& origin) {
  const auto* unit = units::unit_of_key(unit_key);
  const auto sorted = numerics::sorted(values);
  const auto point = [&](double p) { return units::from_si(*unit, numerics::quantile(sorted, p)); };
  Band band{
      .low = point(0.05), .middle = point(0.5), .high = point(0.95), .unit = std::string(unit_key)};
  if (!working.asked()) return band;
  const std::pair<const char*, std::pair<double, double>> rows[] = {
      {"low", {0.05, band.low}}, {"middle", {0.5, band.middle}}, {"high", {0.95, band.high}}};
  for (const auto& [key, row] : rows) {
    std::vector<WorkingInput> inputs = origin.inputs;
    inputs.push_back({"p", row.first, ""});
    inputs.push_back({"n", static_cast<double>(values.size()), ""});
    working.add({.result = at + "." + key,
                 .symbol = fmt::format("x_{:g}", row.first),
                 .formula = fmt::format("{}; P(x <= x_p) = p, n draws", origin.formula),
                 .inputs = std::move(inputs),
                 .value = row.second,
                 .unit = std::string(unit->symbol),
                 .source = std::string(origin.source)});
  }
  return band;
}

void explain_number(Working& working, const std::string& at, double si, const Origin& origin) {
  if (!working.asked()) return;
  const auto* unit = units::unit_of_key(at);
  const auto dot = at.rfind('.');
  working.add({.result = at,
               .symbol = at.substr(dot == std::string::npos ? 0 : dot + 1),
               .formula = std::string(origin.formula),
               .inputs = origin.inputs,
               .value = unit == nullptr ? si : units::from_si(*unit, si),
               .unit = unit == nullptr ? "" : std::string(unit->symbol),
               .source = std::string(origin.source)});
}

void explain_runs(Working& working, const TransientDraws& draws) {
  explain_number(working,
                 "runs_pct",
                 draws.runs,
                 {.formula = "n/N",
                  .source = "definition",
                  .inputs = {{"n", static_cast<double>(draws.draws.size()), ""}}});
}

std::vector<std::string> ids_of(const std::vector<base::Message>& messages) {
  std::vector<std::string> ids;
  for (const auto& message : messages) ids.push_back(message.id);
  return ids;
}

base::Message why_not(machine::Outcome outcome) {
  return {"job.outcome." + std::string(fields::name_of(outcome))};
}

}  // namespace drawoff::api
