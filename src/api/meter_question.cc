#include "api/meter_question.h"

#include <fmt/format.h>

namespace drawoff::api {
namespace {

constexpr const char* kPractice = "common practice, no source";

std::string symbol(const std::string& unit) {
  const auto* known = units::unit_of_key(unit);
  return known == nullptr ? "" : std::string(known->symbol);
}

Band band(const inference::Interval& i, double scale, const std::string& unit) {
  return {.low = i.low * scale, .middle = i.middle * scale, .high = i.high * scale, .unit = unit};
}
std::optional<Band> band(const std::optional<inference::Interval>& i,
                         double scale,
                         const std::string& unit) {
  return i ? std::optional(band(*i, scale, unit)) : std::nullopt;
}

void line(Working& working,
          const std::string& result,
          WorkingLine rest,
          double value,
          const std::string& unit) {
  rest.result = result;
  rest.value = value;
  rest.unit = symbol(unit);
  working.add(std::move(rest));
}

void lines(Working& working,
           const std::string& at,
           const WorkingLine& rest,
           const std::optional<Band>& b) {
  if (!b) return;
  line(working, at + ".low", rest, b->low, b->unit);
  line(working, at + ".middle", rest, b->middle, b->unit);
  line(working, at + ".high", rest, b->high, b->unit);
}

// What a sound meter shows on the standard.
WorkingLine sound_line(const visit::MeterAsBought& m, const visit::StandardCheck& c) {
  const double celsius = c.temperature.si() - units::celsius(0).si();
  if (m.reads == visit::MeterReads::kPh) {
    return {.symbol = "R_s",
            .formula = m.compensates ? "R_s = pH" : "R_s = 7 + (pH − 7) T/298.15 K",
            .inputs = {{"pH", *c.buffer, ""}, {"T", c.temperature.si(), "K"}},
            .source = kPractice};
  }
  return {.symbol = "R_s",
          .formula = m.compensates ? "R_s = f κ_25 (κ(T)/κ(25 °C))_KCl/(1 + 0.02 (t − 25))"
                                   : "R_s = f κ_25 (κ(T)/κ(25 °C))_KCl",
          .inputs = {{"f", visit::factor_of(m), ""},
                     {"κ_25", *c.standard / units::microsiemens_per_cm(1), "µS/cm"},
                     {"t", celsius, "°C"}},
          .source = "robinson1959"};
}

// What stands on a sound gauge.
WorkingLine sound_line(const visit::GaugeCheck& c) {
  WorkingLine out{.symbol = "R_s", .formula = "R_s = 0", .source = kPractice};
  if (c.against == visit::GaugeAgainst::kGauge) {
    out.formula = "R_s = p";
    out.inputs = {{"p", *c.other / units::bar(1), "bar"}};
  } else if (c.against == visit::GaugeAgainst::kColumn) {
    out.formula = "R_s = ρ g h";
    out.inputs = {{"h", c.column->si(), "m"},
                  {"ρ g", visit::pressure_under(units::metre(1)).si() / 1e3, "kPa/m"}};
    out.source = "bipm2019";
  }
  return out;
}

// `sound`: what a sound meter shows; `shown`: what this one did.
void explain(Working& working,
             const std::string& at,
             WorkingLine sound,
             double shown,
             const CheckedStandard& out) {
  line(working, at + ".should_show", std::move(sound), out.should_show, out.unit);
  line(working,
       at + ".age_d",
       {.symbol = "n", .formula = "n = on − checks[].on", .source = kPractice},
       out.age / units::Time(units::exact::kDay),
       "d");
  const std::vector<WorkingInput> read = {{"R", shown, symbol(out.unit)},
                                          {"R_s", out.should_show, symbol(out.unit)}};
  const auto of = [&](const char* sign, const char* formula) {
    return WorkingLine{.symbol = sign, .formula = formula, .inputs = read, .source = "jcgm2008"};
  };
  lines(working, at + ".error", of("e", "e = R + r − R_s − Σ E"), out.error);
  lines(working, at + ".error_share", of("e_r", "e_r = (R + r)/(R_s + Σ E) − 1"), out.error_share);
  lines(working, at + ".factor", of("c", "c = (R_s + Σ E)/(R + r)"), out.factor);
  lines(working, at + ".shift", of("s", "s = R_s + Σ E − R − r"), out.shift);
  line(working,
       at + ".bought_for",
       of("b", "b = share R_s + share R_max + n d"),
       out.bought_for,
       out.unit);
}

const char* need_formula(visit::Purpose purpose, bool ph) {
  if (ph) return "n = 0.2";
  switch (purpose) {
    case visit::Purpose::kRaw:
      return "n = 0.05 R";
    case visit::Purpose::kProduct:
      return "n = max(0.1 R, f 10 µS/cm)";
    case visit::Purpose::kInlet:
      return "n = 0.3 bar";
    case visit::Purpose::kMembrane:
      return "n = max(0.05 R, 0.3 bar)";
    case visit::Purpose::kHold:
      return "n = 0.1 bar";
  }
  return "";
}

const char* off_formula(visit::Purpose purpose, bool ph) {
  switch (purpose) {
    case visit::Purpose::kRaw:
    case visit::Purpose::kProduct:
      return ph ? "a = max|s| + 0.05 |R_s − R| + d/2" : "a = R max|1 − c| + d/2";
    case visit::Purpose::kInlet:
    case visit::Purpose::kMembrane:
      return "a = (max|e| near a check, else b) + d/2";
    case visit::Purpose::kHold:
      return "a = d/2";
  }
  return "";
}

void explain(Working& working, const std::string& at, const MeterPurpose& out) {
  const auto of = [&](const char* sign, const char* formula) {
    return WorkingLine{.symbol = sign,
                       .formula = formula,
                       .inputs = {{"R", out.reading, symbol(out.unit)}},
                       .source = kPractice};
  };
  const bool ph = out.unit.empty();
  line(working, at + ".reading", of("R", "R"), out.reading, out.unit);
  line(working, at + ".need", of("n", need_formula(out.purpose, ph)), out.need, out.unit);
  if (out.off) {
    line(working, at + ".off", of("a", off_formula(out.purpose, ph)), *out.off, out.unit);
  }
  if (out.left) {
    line(working,
         at + ".left",
         of("l",
            ph ? "l = max|s − s_mid| + 0.05 |R_s − R| + d/2" : "l = R max|c − c_mid| + c_mid d/2"),
         *out.left,
         out.unit);
  }
  lines(working, at + ".factor", of("c", "c = (R_s + Σ E)/(R + r)"), out.factor);
  lines(working, at + ".shift", of("s", "s = R_s + Σ E − R − r"), out.shift);
}

}  // namespace

base::Result<MeterOutput> ask_meter(const visit::CheckedMeter& in,
                                    Working& working,
                                    const messages::Catalogue& words) {
  const visit::MeterResult result = visit::check_meter(in);
  const std::string unit = visit::unit_key(in.meter);
  const auto say = [&](const base::Message& message) { return messages::render(words, message); };
  MeterOutput out{.need = say(result.need)};
  for (const visit::PurposeResult& p : result.purposes) {
    MeterPurpose row{.purpose = p.purpose,
                     .verdict = p.verdict,
                     .why = say(p.why),
                     .unit = unit,
                     .reading = p.reading,
                     .need = p.need,
                     .off = p.off,
                     .left = p.left};
    if (p.verdict == visit::MeterVerdict::kGoodCorrected) {
      row.factor = band(result.checks[*p.by].factor, 1, "");
      row.shift = band(result.checks[*p.by].shift, 1, "");
    }
    explain(working, fmt::format("purposes[{}]", out.purposes.size()), row);
    out.purposes.push_back(std::move(row));
  }
  for (std::size_t i = 0; i < result.checks.size(); ++i) {
    const visit::CheckResult& c = result.checks[i];
    const bool gauge = visit::reads_pressure(in.meter);
    CheckedStandard row{.on = gauge ? in.gauge_checks[i].on : in.checks[i].on,
                        .age = units::Time(c.age * units::exact::kDay),
                        .vouches = c.vouches,
                        .unit = unit,
                        .should_show = c.should_show,
                        .error = band(c.error, 1, unit),
                        .error_share = band(c.error_share, 100, "pct"),
                        .factor = band(c.factor, 1, ""),
                        .shift = band(c.shift, 1, ""),
                        .bought_for = c.bought_for,
                        .as_bought = c.as_bought};
    if (working.asked()) {
      explain(working,
              fmt::format("checks[{}]", i),
              gauge ? sound_line(in.gauge_checks[i]) : sound_line(in.meter, in.checks[i]),
              gauge ? in.gauge_checks[i].shown : in.checks[i].shown,
              row);
    }
    out.checks.push_back(std::move(row));
  }
  for (const base::Message& remark : result.remarks) out.remarks.push_back(say(remark));
  if (visit::reads_pressure(in.meter)) {
    out.cautions.push_back(say({"meter.caution.gauge"}));
    return out;
  }
  out.cautions.push_back(say({"meter.caution.pour"}));
  if (!visit::reads_ph(in.meter)) out.cautions.push_back(say({"quick.caution.health"}));
  return out;
}

}  // namespace drawoff::api
