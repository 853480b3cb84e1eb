#include "api/pours_question.h"

#include "fields/errors.h"

namespace drawoff::api {
namespace {

using base::Message;
using base::Number;

constexpr units::Time kLong = units::Time(600);

// What to do next, in a sentence.
Message next_of(const visit::NextPour& next, const PoursInput& in) {
  const auto* share = units::unit_of_key("pct");
  const Number target = fields::given_number(units::from_si_shortest(*share, in.target), share);
  if (next.reached) return {"pours.next.reached", {{"target", target}}};
  if (next.more) {
    return {"pours.next.more",
            {{"target", target},
             {"more", fields::given_number(static_cast<double>(*next.more), nullptr)}}};
  }
  if (!next.pour) return {"pours.next.find_out", {{"target", target}}};
  return {next.pour->time > kLong ? "pours.next.finer" : "pours.next.longer",
          {{"target", target},
           {"time", Number{next.pour->time.si(), "s", 2}},
           {"volume", Number{next.pour->volume.si() * 1e3, "L", 2}}}};
}

void explain(const PoursInput& in, const PoursOutput& out, Working& working) {
  if (!working.asked()) return;
  const auto* unit = units::unit_of_key(out.flow.unit);
  const std::string symbol(unit->symbol);
  const WorkingInput n{"n", static_cast<double>(in.pours.size()), ""};
  const auto line = [&](const char* result,
                        const char* sign,
                        const char* formula,
                        double value,
                        const std::string& of,
                        const char* source) {
    working.add({.result = result,
                 .symbol = sign,
                 .formula = formula,
                 .inputs = {n},
                 .value = value,
                 .unit = of,
                 .source = source});
  };
  constexpr const char* kMean =
      "Q = Σ w_i Q_i/Σ w_i, w_i = 1/(r_i² + τ²), r_i² = [(m/(2 √3 Q))² + 2 (0.2 s)²]/t_i²";
  const char* half = out.scatter > 0 ? "U = t_(n−1)/√(Σ w_i)" : "U = 1.645/√(Σ w_i)";
  line("flow.middle", "Q", kMean, out.flow.middle, symbol, "jcgm2008");
  line("flow.low", "Q_5", "Q (1 − U)", out.flow.low, symbol, "jcgm2008");
  line("flow.high", "Q_95", "Q (1 + U)", out.flow.high, symbol, "jcgm2008");
  line("uncertainty.standard", "u", "u = Q/√(Σ w_i)", out.uncertainty.standard, symbol, "jcgm2008");
  line("within_pct", "U", half, out.within * 100, "%", "jcgm2008");
  line("scatter_pct",
       "τ",
       "Σ w_i (Q_i/Q − 1)² = n − 1, or 0",
       out.scatter * 100,
       "%",
       "common practice, no source");
  if (out.birge) {
    line("scatter_ratio",
         "B",
         "B² = Σ (Q_i/Q − 1)²/r_i²/(n − 1)",
         *out.birge,
         "",
         "common practice, no source");
  }
  constexpr const char* kNext = "t = c √((1.645/target)² − Σ w_i), c² = (m/(2 √3 Q))² + u_t²";
  if (out.next_time) line("next_pour_s", "t", kNext, out.next_time->si(), "s", "jcgm2008");
  if (out.next_volume) {
    line("next_pour_mL", "V", "V = Q t", out.next_volume->si() * 1e6, "mL", "definition");
  }
  if (out.more) {
    line("more_pours",
         "k",
         "least k with t_(n+k−1)/√((n + k) Σ w_i/n) <= target",
         static_cast<double>(*out.more),
         "",
         "jcgm2008");
  }
}

}  // namespace

base::Result<PoursOutput> ask_pours(const PoursInput& in,
                                    Working& working,
                                    const messages::Catalogue& words) {
  const visit::PouredFlow poured = visit::poured_flow(in.pours, in.jug_mark);
  const std::string key(fields::name_of(in.unit));
  const auto shown = [&](units::VolumeFlow q) {
    return units::from_si(*units::unit_of_key(key), q.si());
  };
  PoursOutput out{.flow = {.low = shown(poured.low()),
                           .middle = shown(poured.flow),
                           .high = shown(poured.high()),
                           .unit = key},
                  .uncertainty = {.standard = shown(poured.flow * poured.share), .unit = key},
                  .within = poured.half_width,
                  .scatter = poured.scatter,
                  .birge = poured.birge};
  const base::Number flow{out.flow.middle, std::string(units::unit_of_key(key)->symbol), 3};
  const base::Number within{poured.half_width * 100, "%", 2};
  out.said = messages::render(words, {"pours.said", {{"flow", flow}, {"within", within}}});
  const visit::NextPour next = visit::next_pour(in.pours, in.jug_mark, in.target);
  if (next.pour) {
    out.next_time = next.pour->time;
    out.next_volume = next.pour->volume;
  }
  out.more = next.more;
  for (const Message& doubt : visit::doubts(in.pours, in.jug_mark)) {
    out.doubts.push_back(messages::render(words, doubt));
  }
  if (in.pours.size() < 3) {
    out.doubts.push_back(messages::render(
        words,
        {"pours.doubt.few",
         {{"n", fields::given_number(static_cast<double>(in.pours.size()), nullptr)}}}));
  }
  out.next = messages::render(words, next_of(next, in));
  explain(in, out, working);
  return out;
}

}  // namespace drawoff::api

namespace drawoff::fields {

base::Result<base::Done> Table<api::PoursInput>::check(const T& in, const Path& path) {
  return visit::check_pours(in.pours, in.jug_mark, path);
}

}  // namespace drawoff::fields
