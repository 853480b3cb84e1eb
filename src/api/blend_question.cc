#include "api/blend_question.h"

#include <algorithm>
#include <cmath>

#include "fields/errors.h"

namespace drawoff::api {
namespace {

using base::Message;
using base::Number;
using visit::BlendStanding;

// Where nobody says (common practice, no source).
constexpr double kColder = 8;  // [K] than on the day
constexpr double kWarmer = 8;
constexpr double kSupplyRange = 0.25;  // of the supply, up and down
constexpr units::Temperature kNearFreezing = units::celsius(2);
constexpr double kSixteen = 16;
constexpr double kNeverSure = 99;    // [%], in words
constexpr double kHardlyMore = 0.1;  // [min]

constexpr const char* kPractice = "common practice, no source";

// "1 5/16": as a hand counts turns.
std::string in_sixteenths(double turns) {
  const auto all = static_cast<int>(std::lround(turns * kSixteen));
  int part = all % 16;
  int of = 16;
  while (part > 0 && part % 2 == 0) {
    part /= 2;
    of /= 2;
  }
  const std::string fraction =
      part > 0 ? std::to_string(part) + "/" + std::to_string(of) : std::string();
  if (all < 16) return part > 0 ? fraction : "0";
  return std::to_string(all / 16) + (part > 0 ? " " + fraction : "");
}

std::string meter_unit_key(const BlendInput& in) {
  return std::string(fields::name_of(in.setting.unit));
}
std::string meter_unit(const BlendInput& in) {
  return in.setting.unit == visit::MeterUnit::kPpm ? "ppm" : "µS/cm";
}

visit::Until until_of(const BlendInput& in) {
  const units::Temperature now =
      in.survey->basis == visit::SurveyBasis::kReadings && in.survey->known
          ? in.survey->known->temperature
          : in.survey->water.temperature;
  const units::Temperature colder = std::max(kNearFreezing, units::Temperature(now.si() - kColder));
  units::Temperature warmer(now.si() + kWarmer);
  if (in.survey->tap && in.survey->tap->warmest) warmer = *in.survey->tap->warmest;
  const units::Pressure supply = in.machine->supply.pressure;
  return {.coldest = in.coldest.value_or(colder),
          .hottest = in.hottest.value_or(warmer),
          .lowest = in.lowest_supply.value_or((1 - kSupplyRange) * supply),
          .highest = in.highest_supply.value_or((1 + kSupplyRange) * supply)};
}

base::Result<BlendLimitOutput> limit_of(const BlendInput& in) {
  TRY(const visit::SurveyedWater surveyed, visit::surveyed_water(*in.survey));
  visit::JudgedWater water = visit::water_behind_membranes(surveyed, surveyed.composition, {});
  std::optional<double> drift;
  if (in.machine) {
    const visit::Sampling sampling{.draws = in.draws, .seed = static_cast<std::uint64_t>(in.seed)};
    TRY(const visit::StartUp s, visit::judge_start_up(*in.survey, *in.machine, {}, sampling));
    water = visit::water_behind_membranes(surveyed, s.raw.composition, s.streams);
    drift = visit::drift(*in.machine, s.raw, until_of(in), sampling.seed, in.draws);
  }
  TRY(const visit::SourceVerdict verdict, visit::source_verdict(*in.survey, water));
  const double rises = drift.value_or(visit::kUsualDrift);
  const auto highest = visit::highest_share(*in.survey, verdict, rises);
  return BlendLimitOutput{.bound = highest.bound,
                          .substance = highest.substance,
                          .unknown = highest.unknown,
                          .ever = highest.ever,
                          .drift = rises,
                          .today = highest.today};
}

Message said(const BlendInput& in, const BlendOutput& out) {
  Message m{"blend.said." + std::string(fields::name_of(out.standing))};
  const auto add = [&](const char* name, base::Argument value) {
    m.arguments.emplace_back(name, std::move(value));
  };
  const auto add_turns = [&](const char* name, double turns) {
    add(name, in_sixteenths(turns));
    add((std::string(name) + "_is").c_str(),
        std::string(turns < 1   ? "part"
                    : turns > 1 ? "more"
                                : "one"));
  };
  if (out.standing == BlendStanding::kTurn && out.back_to) {
    m.id += *out.back_to > 0 ? "_back" : "_from_shut";
    add_turns("back", *out.back_to);
  }
  if (out.turn) add_turns("turn", *out.turn);
  if (out.to) add_turns("to", *out.to);
  if (out.wait) {
    add("wait",
        fields::given_number(std::ceil(out.wait->si() / 60 - kHardlyMore),
                             units::unit_of_key("min")));
  }
  if (out.expected) {
    add("low", Number{out.expected->low, "", 2});
    add("high", Number{out.expected->high, meter_unit(in), 2});
  }
  if (out.product) {
    add("least", Number{out.product->low, "", 2});
    add("most", Number{out.product->high, "ppm", 2});
  }
  if (out.inside)
    add("inside", Number{std::fmin(kNeverSure, std::floor(100 * *out.inside)), "%", 2});
  add("permitted", Number{100 * out.highest_share, "%", 2});
  add("wanted", Number{out.wanted_share.low, "%", 2});
  return m;
}

// What would serve where the valve does not.
std::vector<const char*> instead_of(BlendStanding standing) {
  switch (standing) {
    case BlendStanding::kTooCoarse:
    case BlendStanding::kNotHeld:
      return {"blend.instead.capillary", "blend.instead.cartridge", "blend.instead.none"};
    case BlendStanding::kTooSmall:
      return {"blend.instead.larger", "blend.instead.cartridge", "blend.instead.none"};
    case BlendStanding::kNotPermitted:
    case BlendStanding::kRawTooWeak:
      return {"blend.instead.cartridge", "blend.instead.none"};
    case BlendStanding::kDoesNotFollow:
      return {"blend.instead.look", "blend.instead.capillary", "blend.instead.cartridge"};
    default:
      return {};
  }
}

std::vector<Message> cautions_of(const BlendInput& in, const BlendOutput& out) {
  std::vector<Message> cautions;
  if (!out.limit) {
    cautions.push_back({"blend.caution.not_judged"});
  } else {
    switch (out.limit->bound) {
      case visit::BlendBound::kNone:
        break;
      case visit::BlendBound::kFaecal:
        cautions.push_back({"blend.caution.faecal"});
        break;
      case visit::BlendBound::kUnknown: {
        std::string keys;
        for (const auto& key : out.limit->unknown) keys += (keys.empty() ? "" : ", ") + key;
        cautions.push_back({"blend.caution.unknown", {{"keys", keys}}});
        break;
      }
      case visit::BlendBound::kSubstance:
        cautions.push_back({"blend.caution.binds",
                            {{"substance", base::Ref{"substance." + out.limit->substance}},
                             {"ever", Number{100 * out.limit->ever, "%", 2}},
                             {"today", Number{100 * out.limit->today, "%", 2}}}});
    }
    if (!in.machine) cautions.push_back({"blend.caution.no_machine"});
  }
  for (const char* id :
       {"blend.caution.to_waste", "blend.caution.rest", "blend.caution.local_rules"}) {
    cautions.push_back({id});
  }
  return cautions;
}

struct Row {
  const char* formula;
  const char* source = kPractice;
};

class Explained {
 public:
  explicit Explained(Working& working) : working_(working) {}
  void number(const std::string& at, const char* symbol, double value, const char* unit, Row row) {
    working_.add({.result = at,
                  .symbol = symbol,
                  .formula = row.formula,
                  .inputs = {},
                  .value = value,
                  .unit = unit,
                  .source = row.source});
  }
  Band band(const std::string& at,
            const char* symbol,
            const inference::Interval& i,
            const std::string& key,
            const char* unit,
            Row row) {
    number(at + ".low", symbol, i.low, unit, row);
    number(at + ".middle", symbol, i.middle, unit, row);
    number(at + ".high", symbol, i.high, unit, row);
    return {.low = i.low, .middle = i.middle, .high = i.high, .unit = key};
  }

 private:
  Working& working_;
};

inference::Interval times(const inference::Interval& i, double factor) {
  return {factor * i.low, factor * i.middle, factor * i.high};
}

inference::Interval wanted_shares(const visit::BlendSetting& s) {
  const double ratio = visit::half_scale(s);
  const auto share = [&](double product) {
    return std::clamp((product - s.permeate * ratio) / ((s.raw - s.permeate) * ratio), 0.0, 1.0);
  };
  return {share(s.low), share(0.5 * (s.low + s.high)), share(s.high)};
}

}  // namespace

base::Result<BlendOutput> ask_blend(const BlendInput& in,
                                    Working& working,
                                    const messages::Catalogue& words) {
  BlendOutput out;
  Explained explained(working);
  visit::BlendSetting setting = in.setting;
  if (in.survey) {
    TRY(out.limit, limit_of(in));
    setting.highest_share = std::min(setting.highest_share, out.limit->today);
    const BlendLimitOutput& l = *out.limit;
    explained.number("limit.ever_pct",
                     "s_most",
                     100 * l.ever,
                     "%",
                     {"min over substances of (L − p)/(r − p)", "mass balance"});
    explained.number("limit.drift", "d", l.drift, "", {"95 % point of max k/k_today"});
    explained.number("limit.today_pct",
                     "s_today",
                     100 * l.today,
                     "%",
                     {"k/(1 + k), k = s_most/(1 − s_most)/d", "mass balance"});
  }
  const visit::BlendGuide g = visit::blend_guide(setting, static_cast<std::uint64_t>(in.seed));
  out.standing = g.standing;
  out.highest_share = setting.highest_share;
  explained.number("highest_share_pct",
                   "s_max",
                   100 * out.highest_share,
                   "%",
                   {"min(as given, as the limits leave it)", "definition"});
  const auto shares = wanted_shares(setting);
  out.wanted_share = explained.band("wanted_share",
                                    "s",
                                    times(shares, 100),
                                    "pct",
                                    "%",
                                    {"s = (c − c_p)/(c_r − c_p)", "mass balance"});
  if (in.permeate_flow) {
    const auto flow = [&](double s) {
      return *in.permeate_flow / units::litre_per_hour(1) * s / (1 - std::min(s, 0.99));
    };
    out.wanted_flow = explained.band("wanted_flow",
                                     "Q_b",
                                     {flow(shares.low), flow(shares.middle), flow(shares.high)},
                                     "L_h",
                                     "L/h",
                                     {"Q_b = Q_p s/(1 − s)", "mass balance"});
  }
  const Row by_valves{"90 % of the likely valves"};
  if (g.product) {
    out.product = explained.band("product", "c", *g.product, "ppm", "ppm", by_valves);
    out.share = explained.band("share", "s", times(*g.share, 100), "pct", "%", by_valves);
    out.inside = g.inside;
    explained.number("inside_pct",
                     "P",
                     100 * g.inside,
                     "%",
                     {"share of the likely valves with c in the window"});
  }
  const bool turn = g.standing == BlendStanding::kTurn;
  if (turn) {
    out.back_to = g.back_to;
    out.to = g.to;
    out.turn = g.turn;
    const Row best{"max over sixteenths of P(done next) / 2 + P(settled by the one after)"};
    if (g.back_to) {
      explained.number("turn_back_to",
                       "θ_0",
                       *g.back_to,
                       "",
                       {"past the play: 3 % of travel and a sixteenth of a turn"});
    }
    explained.number("turn_to", "θ", g.to, "", best);
    explained.number("turn_by", "Δθ", g.turn, "", {"θ − θ_0", "definition"});
    out.expected = explained.band("expected",
                                  "R",
                                  *g.expected,
                                  meter_unit_key(in),
                                  in.setting.unit == visit::MeterUnit::kPpm ? "ppm" : "µS/cm",
                                  {"g c + o, e^(−3 t/t_95) of the step still to come"});
  }
  if (turn || g.product) {
    out.over_share = g.over_share;
    explained.number("over_share_pct",
                     "P",
                     100 * g.over_share,
                     "%",
                     {"share of the likely valves with s over s_max"});
  }
  if (turn || g.standing == BlendStanding::kWait) {
    out.wait = g.wait;
    explained.number("wait_min",
                     "t",
                     g.wait.si() / 60,
                     "min",
                     {"t_95, or t_95 ln(step/2 ppm)/3 if that is more", "levenspiel1999"});
  }
  out.said = messages::render(words, said(in, out));
  for (const char* id : instead_of(out.standing)) {
    out.instead.push_back(messages::render(words, Message{id}));
  }
  for (const Message& m : cautions_of(in, out)) out.cautions.push_back(messages::render(words, m));
  return out;
}

}  // namespace drawoff::api

namespace drawoff::fields {

base::Result<base::Done> Table<api::BlendInput>::check(const T& in, const Path& path) {
  const auto refused = [&](const char* key, const char* other) {
    return base::Error{
        base::ErrorKind::kData,
        {"error.blend.range",
         {{"path", path_argument(path / key)}, {"other", path_argument(path / other)}}}};
  };
  if (in.coldest && in.hottest && *in.coldest > *in.hottest)
    return refused("coldest_C", "hottest_C");
  if (in.lowest_supply && in.highest_supply && *in.lowest_supply > *in.highest_supply) {
    return refused("lowest_supply_bar", "highest_supply_bar");
  }
  if (in.machine && !in.survey) {
    return base::Error{base::ErrorKind::kData,
                       {"error.blend.survey", {{"path", path_argument(path / "survey")}}}};
  }
  return base::Done{};
}

}  // namespace drawoff::fields
