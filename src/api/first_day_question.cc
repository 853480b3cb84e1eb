#include "api/first_day_question.h"

#include <fmt/format.h>

#include "fields/errors.h"

namespace drawoff::fields {

base::Result<base::Done> Table<api::FirstDayInput>::check(const T& in, const Path& path) {
  if (in.again.empty() || in.again_after) return base::Done{};
  return missing({.path = path / "again_after_h",
                  .meaning = "field.first_day_input.again_after_h",
                  .unit = units::unit_of_key("again_after_h"),
                  .range = {24, 1e5}});
}

}  // namespace drawoff::fields

namespace drawoff::api {

FirstDayOutput first_day_output(const visit::FirstDay& day,
                                Working& working,
                                const std::string& at) {
  FirstDayOutput out{.standing = day.standing,
                     .settling = day.settling,
                     .readings = static_cast<double>(day.readings),
                     .probability = day.probability};
  const auto draws = static_cast<double>(day.specimens.size());
  working.add({.result = at + "fitted",
               .symbol = "m",
               .formula = "m = readings judged",
               .inputs = {},
               .value = out.readings,
               .unit = "",
               .source = "definition"});
  working.add({.result = at + "probability",
               .symbol = "P",
               .formula = "P(χ²_m >= (y − b)ᵀ (A Aᵀ + Ω + R)⁻¹ (y − b))",
               .inputs = {{"m", out.readings, ""}},
               .value = out.probability,
               .unit = "",
               .source = "oliver1996"});
  const auto factor = [](const inference::Interval& i) {
    return Band{.low = 100 * i.low, .middle = 100 * i.middle, .high = 100 * i.high, .unit = "pct"};
  };
  for (const visit::OwnValue& v : day.values) {
    const std::string path = fmt::format("{}values[{}].", at, out.values.size());
    out.values.push_back(
        {.what = v.what, .before = factor(v.before), .after = factor(v.after), .told = v.told});
    const OwnOutput& row = out.values.back();
    explain_band(working, path + "before", row.before, day.drawn, "hyndman1996");
    explain_band(working, path + "after", row.after, draws, "oliver1996");
    working.add({.result = path + "told_pct",
                 .symbol = "1 − σ²/σ₀²",
                 .formula = "1 − σ²/σ₀², of the logarithm",
                 .inputs = {{"n", draws, ""}},
                 .value = 100 * v.told,
                 .unit = "%",
                 .source = "definition"});
  }
  for (const visit::Together& pair : day.together) {
    working.add({.result = fmt::format("{}together[{}].correlation", at, out.together.size()),
                 .symbol = "r",
                 .formula = "r = cov(ln a, ln b)/(σ_a σ_b)",
                 .inputs = {{"n", draws, ""}},
                 .value = pair.correlation,
                 .unit = "",
                 .source = "definition"});
    out.together.push_back(
        {.first = pair.first, .second = pair.second, .correlation = pair.correlation});
  }
  out.expected = point_bands(day.expected, working, at, draws);
  return out;
}

base::Result<FirstDayOutput> ask_first_day(const FirstDayInput& in, Working& working) {
  const visit::Sampling sampling{.draws = in.draws, .seed = static_cast<std::uint64_t>(in.seed)};
  TRY(const visit::StartUp s, visit::judge_start_up(in.survey, in.machine, in.readings, sampling));
  std::optional<visit::ReadAgain> again;
  if (!in.again.empty()) {
    const auto entry = visit::run_on(in.machine, *in.again_after);
    TRY(visit::StartUp later, visit::judge_start_up(in.survey, entry, in.again, sampling));
    again = visit::ReadAgain{.start_up = std::move(later), .after = *in.again_after};
  }
  return first_day_output(visit::first_day(s, in.machine, sampling, again), working, "");
}

}  // namespace drawoff::api
