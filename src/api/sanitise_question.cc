#include "api/sanitise_question.h"

#include <cmath>

#include "fields/errors.h"

namespace drawoff {
namespace api {
namespace {

constexpr units::Density kLongTarget = units::milligram_per_litre(50);
constexpr units::Density kShortTarget = units::milligram_per_litre(200);
constexpr units::Time kLongTime = units::Time(24 * 3600.0);
constexpr units::Time kShortTime = units::Time(3 * 3600.0);

Band band(const inference::Interval& i, double scale, const char* unit) {
  return {.low = i.low * scale, .middle = i.middle * scale, .high = i.high * scale, .unit = unit};
}

}  // namespace

base::Result<SanitiseOutput> ask_sanitise(const SanitiseInput& in,
                                          Working& working,
                                          const messages::Catalogue& words) {
  SanitiseOutput out{.volume = in.volume ? *in.volume : visit::sanitised_volume(*in.machine)};
  const bool sheet = in.contact == Contact::kSheet;
  out.target = sheet ? *in.sheet_target : in.contact == Contact::kLong ? kLongTarget : kShortTarget;
  out.contact = sheet ? *in.sheet_time : in.contact == Contact::kLong ? kLongTime : kShortTime;
  const bool chlorine = in.agent == Agent::kHypochlorite;
  const visit::ChlorineProduct product{
      .strength = units::Density(1000 * in.strength),
      // What a sheet doses is bought for the day; only chlorine is known here to fade.
      .age = chlorine ? in.age.value_or(units::Time(0)) : units::Time(0),
      .stored = in.stored};
  out.strength = band(visit::strength_now(product), 1, "g_L");
  out.dose = band(visit::dose_for(product, out.volume, out.target), 1e6, "mL");
  const auto say = [&](const char* id) { return messages::render(words, base::Message{id}); };
  const base::Number dose{out.dose.middle, "mL", 2};
  out.steps = {
      messages::render(words,
                       {"sanitise.step.dose",
                        {{"dose", dose}, {"volume", base::Number{out.volume.si() * 1e3, "L", 2}}}}),
      messages::render(words,
                       {chlorine ? "sanitise.step.strip" : "sanitise.step.sheet",
                        {{"target", base::Number{out.target.si() * 1e3, "mg/L", 2}}}}),
      say("sanitise.step.fill"),
      messages::render(
          words,
          {"sanitise.step.wait", {{"hours", base::Number{out.contact.si() / 3600, "h", 2}}}}),
      say("sanitise.step.rinse")};
  for (const char* id : {"course.caution.sanitiser", "course.caution.do_not_drink"}) {
    out.cautions.push_back(say(id));
  }
  out.cautions.push_back(
      say(chlorine ? "sanitise.caution.membrane_out" : "sanitise.caution.sheet"));
  out.cautions.push_back(say("sanitise.caution.local_rules"));

  const auto line = [&](const char* result,
                        const char* symbol,
                        const char* formula,
                        double value,
                        const char* unit) {
    working.add({.result = result,
                 .symbol = symbol,
                 .formula = formula,
                 .inputs = {},
                 .value = value,
                 .unit = unit,
                 .source = "common practice, no source"});
  };
  line("volume_L", "V", "V = Σ V_part", out.volume.si() * 1e3, "L");
  line("target_mg_L", "c", "c", out.target.si() * 1e3, "mg/L");
  line("contact_min", "t", "t", out.contact.si() / 60, "min");
  const auto three =
      [&](const std::string& at, const char* formula, const Band& b, const char* unit) {
        const std::pair<const char*, double> values[] = {
            {".low", b.low}, {".middle", b.middle}, {".high", b.high}};
        for (const auto& [key, value] : values) {
          line((at + key).c_str(), at == "dose" ? "V_p" : "C", formula, value, unit);
        }
      };
  three("strength", "C = C_0/(1 + k C_0 t)", out.strength, "g/L");
  three("dose", "V_p = V c/C", out.dose, "mL");
  return out;
}

}  // namespace api

namespace fields {

base::Result<base::Done> Table<api::SanitiseInput>::check(const T& in, const Path& path) {
  const auto refused = [&](const char* id, const char* key) {
    return base::Error{base::ErrorKind::kData,
                       {id,
                        {{"path", path_argument(path / key)},
                         {"strength", path_argument(path / "sheet_mg_L")},
                         {"time", path_argument(path / "sheet_min")}}}};
  };
  if (!in.machine && !in.volume) return refused("error.sanitise.volume", "volume_L");
  const bool sheet = in.contact == api::Contact::kSheet;
  if (in.agent != api::Agent::kHypochlorite && !sheet) {
    return refused("error.sanitise.sheet", "contact");
  }
  if (sheet && !in.sheet_target) return refused("error.sanitise.sheet_values", "sheet_mg_L");
  if (sheet && !in.sheet_time) return refused("error.sanitise.sheet_values", "sheet_min");
  return base::Done{};
}

}  // namespace fields
}  // namespace drawoff
