#include "api/blend_question.h"

#include <algorithm>
#include <cmath>

#include "api/blend_words.h"
#include "fields/errors.h"

namespace drawoff::api {
namespace {

using base::Message;
using base::Number;
using visit::BlendStanding;

constexpr double kNeverSure = 99;  // [%], in words

constexpr const char* kPractice = "common practice, no source";

visit::UntilEntry until_of(const BlendInput& in) {
  return {.coldest = in.coldest,
          .hottest = in.hottest,
          .lowest_supply = in.lowest_supply,
          .highest_supply = in.highest_supply};
}

// The limit counts it too: it is of the day.
visit::ReadingEntry raw_reading_of(const visit::BlendSetting& setting) {
  return {.point = machine::Point::kRawQuality,
          .value = setting.raw,
          .unit = setting.unit == visit::MeterUnit::kPpm ? visit::ReadingUnit::kPpm
                                                         : visit::ReadingUnit::kMicrosiemens,
          .instrument = setting.meter};
}

std::string meter_unit_key(const BlendInput& in) {
  return std::string(fields::name_of(in.setting.unit));
}
std::string meter_unit(const BlendInput& in) {
  return in.setting.unit == visit::MeterUnit::kPpm ? "ppm" : "µS/cm";
}

Message said(const BlendInput& in, const BlendOutput& out) {
  Message m{"blend.said." + std::string(fields::name_of(out.standing))};
  const auto add = [&](const char* name, base::Argument value) {
    m.arguments.emplace_back(name, std::move(value));
  };
  const auto add_turns = [&](const char* name, double turns) {
    SaidTurns told = advised_turns(turns);
    if (told.is != "one" && told.is != "more") told.is = "part";
    add(name, std::move(told.n));
    add((std::string(name) + "_is").c_str(), std::move(told.is));
  };
  if (out.standing == BlendStanding::kNotPermitted && !(out.highest_share > 0)) m.id += "_any";
  if (out.standing == BlendStanding::kTurn && out.back_to) {
    m.id += *out.back_to > 0 ? "_back" : "_from_shut";
    add_turns("back", *out.back_to);
  }
  if (out.turn) add_turns("turn", *out.turn);
  if (out.to) add_turns("to", *out.to);
  if (out.wait) add("wait", minutes_of(*out.wait));
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

std::vector<Message> cautions_of(const BlendInput& in, const BlendOutput& out) {
  std::vector<Message> cautions;
  if (!out.limit) {
    cautions.push_back({"blend.caution.not_judged"});
  } else {
    if (auto m = binds(*out.limit)) cautions.push_back(*std::move(m));
    if (!in.machine) cautions.push_back({"blend.caution.no_machine"});
  }
  if (in.machine) {
    for (Message& m : tank_cautions(*in.machine)) cautions.push_back(std::move(m));
  }
  for (const char* id : kWhileSetting) cautions.push_back({id});
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
    TRY(out.limit,
        blend_limit(*in.survey,
                    in.machine,
                    std::vector{raw_reading_of(in.setting)},
                    until_of(in),
                    {.draws = in.draws, .seed = static_cast<std::uint64_t>(in.seed)}));
    setting.highest_share = std::min(setting.highest_share, out.limit->today);
    const BlendLimitOutput& l = *out.limit;
    explained.number("limit.ever_pct",
                     "s_most",
                     100 * l.ever,
                     "%",
                     {"min over substances of (L − p)/(r − p)", "mass balance"});
    explained.number("limit.drift",
                     "d",
                     l.drift,
                     "",
                     {"95 % point of max k/k_today over warmth, supply, age and tank"});
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
  TRY([[maybe_unused]] const auto until, Table<visit::UntilEntry>::check(api::until_of(in), path));
  if (in.machine && !in.survey) {
    return base::Error{base::ErrorKind::kData,
                       {"error.blend.survey", {{"path", path_argument(path / "survey")}}}};
  }
  return base::Done{};
}

}  // namespace drawoff::fields
