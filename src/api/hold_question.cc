#include "api/hold_question.h"

#include "api/transient_draws.h"
#include "fields/errors.h"

namespace drawoff::api {
namespace {

using base::Message;
using base::Number;
using transients::HoldVerdict;

constexpr double kMinute = 60;
// From here on it is worth while to hold longer.
constexpr double kManyDrops = 1;

double drops(double leak) { return leak * kMinute / transients::kDrop.si(); }

transients::ShutIn shut_in_of(const HoldInput& in) {
  auto shut = in.volume
                  ? transients::shut_in(
                        *in.volume, transients::tube_water(in.tube_length, in.tube_bore), in.air)
                  : transients::shut_in(*in.machine, in.air);
  const bool tank = in.machine && in.machine->product.vessel == machine::ProductVessel::kTank;
  shut.tank = in.tank_open.value_or(tank);
  return shut;
}

Message said(const HoldOutput& out) {
  Message message{"hold.said." + std::string(fields::name_of(out.verdict))};
  const auto add = [&](const char* name, double value, const char* unit) {
    message.arguments.emplace_back(name, Number{value, unit, 2});
  };
  if (out.tight_fall) add("most", out.tight_fall->high, "bar");
  if (out.leak) add("leak", out.leak->middle, "mL/h");
  if (out.drops) add("drops", out.drops->middle, "");
  if (out.smallest) add("smallest", out.smallest->si() * 3.6e9, "mL/h");
  if (out.smallest_drops) add("smallest_drops", *out.smallest_drops, "");
  return message;
}

std::vector<const char*> next_of(const HoldInput& in, const HoldOutput& out) {
  std::vector<const char*> ids;
  switch (out.verdict) {
    case HoldVerdict::kTight:
      ids = {"hold.next.tissue"};
      if (*out.smallest_drops > kManyDrops) ids.push_back("hold.next.longer");
      return ids;
    case HoldVerdict::kMayLeak:
      ids = {"hold.next.again", "hold.next.tissue"};
      break;
    case HoldVerdict::kLeaks:
      ids = {"hold.next.valves", "hold.next.tissue", "hold.next.parts"};
      break;
    case HoldVerdict::kRose:
      return {"hold.next.supply", "hold.next.warm"};
    case HoldVerdict::kTankOpen:
      return {"hold.next.tissue"};
    case HoldVerdict::kCannotTell:
      return {"hold.next.stand", "hold.next.tissue"};
  }
  // Nothing runs out any more once the pressure is gone.
  if (in.end <= in.resolution) ids.push_back("hold.next.emptied");
  return ids;
}

std::vector<Message> cautions_of(const HoldInput& in) {
  std::vector<Message> out;
  const auto rating = in.machine ? in.machine->housing_rating.value_or(machine::kUsualHousingRating)
                                 : machine::kUsualHousingRating;
  if (in.start > rating) {
    out.push_back({"hold.caution.rating",
                   {{"start", Number{in.start / units::bar(1), "bar", 3}},
                    {"rating", Number{rating / units::bar(1), "bar", 3}}}});
  }
  for (const char* id : {"hold.caution.water_only",
                         "hold.caution.relieve",
                         "hold.caution.open_drain",
                         "hold.caution.local_rules"}) {
    out.push_back({id});
  }
  return out;
}

Band drops_of(const Band& leak, Working& working) {
  constexpr double kMillilitreAnHour = 1 / 3.6e9;
  const auto of = [](double x) { return drops(x * kMillilitreAnHour); };
  Band band{.low = of(leak.low), .middle = of(leak.middle), .high = of(leak.high), .unit = "drops"};
  const std::pair<const char*, std::pair<double, double>> rows[] = {
      {"low", {leak.low, band.low}},
      {"middle", {leak.middle, band.middle}},
      {"high", {leak.high, band.high}}};
  for (const auto& [key, row] : rows) {
    working.add({.result = std::string("drops_a_minute.") + key,
                 .symbol = "n",
                 .formula = "n = q/(0.05 mL)",
                 .inputs = {{"q", row.first, "mL/h"}},
                 .value = row.second,
                 .unit = "",
                 .source = "common practice, no source"});
  }
  return band;
}

}  // namespace

base::Result<HoldOutput> ask_hold(const HoldInput& in,
                                  Working& working,
                                  const messages::Catalogue& words) {
  const transients::ShutIn shut = shut_in_of(in);
  const transients::Held held = transients::held(shut,
                                                 {.start = in.start,
                                                  .end = in.end,
                                                  .time = in.time,
                                                  .before = in.before,
                                                  .resolution = in.resolution},
                                                 static_cast<std::uint64_t>(in.seed));
  HoldOutput out{.verdict = held.verdict, .fall = in.start - in.end};
  explain_number(working,
                 "fall_bar",
                 out.fall.si(),
                 {.formula = "p_1 − p_2",
                  .source = "definition",
                  .inputs = {{"p_1", in.start / units::bar(1), "bar"},
                             {"p_2", in.end / units::bar(1), "bar"}}});
  if (held.smallest) {
    const std::vector<WorkingInput> parts = {{"V", shut.water * 1e3, "L"},
                                             {"C_plastic", shut.plastic * 1e11, "mL/bar"},
                                             {"V_a", shut.air * 1e6, "mL"},
                                             {"t", in.time.si() / kMinute, "min"},
                                             {"t_0", in.before.si() / kMinute, "min"}};
    out.tight_fall = band_of(held.tight_fall,
                             "bar",
                             working,
                             "tight_fall",
                             {"W(p_1) − W(p_2) = C_plastic p_1 c log₁₀(1 + t/t_0) − β V ΔT",
                              "common practice, no source",
                              parts});
    out.leak = band_of(held.leak,
                       "mL_h",
                       working,
                       "leak",
                       {"q t = W(p_1) − W(p_2) − C_plastic p_1 c log₁₀(1 + t/t_0) + β V ΔT",
                        "common practice, no source",
                        parts});
    out.give = band_of(held.give,
                       "mL_bar",
                       working,
                       "give",
                       {"W'(p) = C + V_a p_a/(p + p_a)²", "timoshenko1951", parts});
    out.drops = drops_of(*out.leak, working);
    out.smallest = units::VolumeFlow(*held.smallest);
    explain_number(
        working,
        "smallest_mL_h",
        *held.smallest,
        {.formula = "q whose fall is the 95 % point of a tight unit's, in 95 of 100 units",
         .source = "common practice, no source",
         .inputs = parts});
    out.smallest_drops = drops(*held.smallest);
    explain_number(working,
                   "smallest_drops_a_minute",
                   *out.smallest_drops,
                   {.formula = "n = q/(0.05 mL)", .source = "common practice, no source"});
  }
  out.said = messages::render(words, said(out));
  for (const char* id : next_of(in, out)) out.next.push_back(messages::render(words, Message{id}));
  for (const Message& m : cautions_of(in)) out.cautions.push_back(messages::render(words, m));
  return out;
}

}  // namespace drawoff::api

namespace drawoff::fields {

base::Result<base::Done> Table<api::HoldInput>::check(const T& in, const Path& path) {
  if (!in.machine && !in.volume) {
    return base::Error{base::ErrorKind::kData,
                       {"error.hold.volume", {{"path", path_argument(path / "volume_L")}}}};
  }
  const double tube = transients::tube_water(in.tube_length, in.tube_bore);
  if (in.volume && tube > in.volume->si() * (1 + 1e-3)) {
    return base::Error{
        base::ErrorKind::kData,
        {"error.hold.tube",
         {{"path", path_argument(path / "volume_L")},
          {"value",
           given_number(units::from_si_shortest(*units::unit_of_key("L"), in.volume->si()),
                        units::unit_of_key("L"))},
          {"tube", base::Number{tube * 1e3, "L", 3}},
          {"length", path_argument(path / "tube_length_m")},
          {"bore", path_argument(path / "tube_bore_mm")}}}};
  }
  return base::Done{};
}

}  // namespace drawoff::fields
