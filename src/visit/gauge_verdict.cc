#include "visit/gauge_verdict.h"

#include <algorithm>
#include <cmath>

#include "messages/number.h"

namespace drawoff::visit {
namespace {

using base::Message;
using base::Number;
using base::Ref;

constexpr units::Pressure kNeed = units::bar(0.3);
constexpr double kNeedShare = 0.05;
constexpr units::Pressure kFall = units::bar(0.1);
// What is to be read where nothing is said: a usual supply, a usual pump, a hold on the supply.
constexpr units::Pressure kUsualInlet = units::bar(3);
constexpr units::Pressure kUsualMembrane = units::bar(5);
// Shares of the scale.
constexpr double kNear = 0.25;
constexpr double kLow = 0.25;
constexpr double kHigh = 0.75;

struct Gauge {
  const CheckedMeter& entry;
  std::vector<CheckResult> results;
  const units::Unit& unit;
  double full = 0;

  double half_mark() const { return half_digit_of(entry.meter, 0); }
  double of(units::Pressure p) const { return units::from_si(unit, p.si()); }
  Number number(double value, int digits) const {
    return {value, std::string(unit.symbol), digits};
  }
  Number as_given(double value) const { return number(value, messages::digits_of(value)); }
  bool in_air(std::size_t i) const { return entry.gauge_checks[i].against == GaugeAgainst::kAir; }
};

std::string key_of(Purpose p) {
  switch (p) {
    case Purpose::kInlet:
      return "inlet";
    case Purpose::kMembrane:
      return "membrane";
    default:
      return "hold";
  }
}

// The youngest look at it open to the air.
std::optional<std::size_t> zero_of(const Gauge& g) {
  std::optional<std::size_t> found;
  for (std::size_t i = 0; i < g.results.size(); ++i) {
    if (!g.in_air(i)) continue;
    if (!found || g.results[i].age <= g.results[*found].age) found = i;
  }
  return found;
}

// The nearest check under pressure that still vouches; of equals the youngest.
std::optional<std::size_t> nearest(const Gauge& g, double reading) {
  std::optional<std::size_t> best;
  const auto apart = [&](std::size_t i) { return std::fabs(g.results[i].should_show - reading); };
  for (std::size_t i = 0; i < g.results.size(); ++i) {
    if (g.in_air(i) || !g.results[i].vouches) continue;
    const bool nearer = !best || apart(i) < apart(*best) ||
                        (apart(i) == apart(*best) && g.results[i].age <= g.results[*best].age);
    if (nearer) best = i;
  }
  return best;
}

// Its verdict, by which check, and how far off it may be; the id of the sentence that says so.
const char* judged(const Gauge& g, PurposeResult& p) {
  const auto verdict = [&](MeterVerdict v, const char* id) {
    p.verdict = v;
    return id;
  };
  if (p.reading > g.full) return verdict(MeterVerdict::kNotGood, "meter.why.beyond_scale");
  p.by = zero_of(g);
  if (!p.by) return verdict(MeterVerdict::kNotChecked, "meter.why.gauge_unchecked");
  const CheckResult& at_zero = g.results[*p.by];
  if (!at_zero.vouches) return verdict(MeterVerdict::kNotChecked, "meter.why.old");
  if (at_zero.as_bought == AsBought::kBeyond) {
    return verdict(MeterVerdict::kNotGood, "meter.why.gauge_zero");
  }
  if (p.purpose == Purpose::kHold) {
    p.off = g.half_mark();
    return *p.off <= p.need ? verdict(MeterVerdict::kGood, "meter.why.hold_good")
                            : verdict(MeterVerdict::kNotGood, "meter.why.hold_coarse");
  }
  p.off = bound_of(g.entry.meter, p.reading) + g.half_mark();
  if (const auto check = nearest(g, p.reading)) {
    const CheckResult& r = g.results[*check];
    const bool beyond = r.as_bought == AsBought::kBeyond;
    const bool near = std::fabs(r.should_show - p.reading) <= kNear * g.full;
    if (near || beyond) p.by = check;
    if (near) {
      const double seen =
          std::fmax(std::fabs(r.error.low), std::fabs(r.error.high)) + g.half_mark();
      const bool class_stands = !beyond && accuracy_stated(g.entry.meter, p.reading);
      p.off = class_stands ? std::fmin(seen, *p.off) : seen;
    } else if (beyond) {
      return verdict(MeterVerdict::kNotGood, "meter.why.gauge_off");
    }
  }
  return *p.off <= p.need ? verdict(MeterVerdict::kGood, "meter.why.good")
                          : verdict(MeterVerdict::kNotGood, "meter.why.gauge_coarse");
}

void judge(const Gauge& g, PurposeResult& p) {
  const char* id = judged(g, p);
  const CheckResult by = p.by ? g.results[*p.by] : CheckResult{};
  const double shown = p.by ? g.entry.gauge_checks[*p.by].shown : 0;
  p.why = {id,
           {{"purpose", Ref{"choice.meter_purpose." + key_of(p.purpose)}},
            {"reading", g.number(p.reading, 3)},
            {"need", g.number(p.need, 2)},
            {"off", g.number(p.off.value_or(0), 2)},
            {"full", g.as_given(g.full)},
            {"shown", g.as_given(shown)},
            {"should", g.number(by.should_show, 3)},
            {"days", fields::given_number(by.age, nullptr)},
            {"limit", fields::given_number(kVouchesFor, nullptr)}}};
}

std::vector<PurposeResult> purposes_of(const Gauge& g) {
  std::vector<PurposeResult> out;
  const auto add = [&](Purpose purpose, double reading, double need) {
    out.push_back({.purpose = purpose, .reading = reading, .need = need});
    judge(g, out.back());
  };
  const double need = g.of(kNeed);
  const double inlet = g.entry.inlet.value_or(g.of(kUsualInlet));
  const double membrane = g.entry.membrane.value_or(g.of(kUsualMembrane));
  add(Purpose::kInlet, inlet, need);
  add(Purpose::kMembrane, membrane, std::fmax(kNeedShare * membrane, need));
  add(Purpose::kHold, g.entry.hold.value_or(inlet), g.of(kFall));
  return out;
}

std::vector<Message> remarks_of(const Gauge& g, const std::vector<PurposeResult>& purposes) {
  std::vector<Message> out;
  for (const PurposeResult& p : purposes) {
    if (p.reading > g.full) continue;                            // said already
    if (p.purpose == Purpose::kHold && !g.entry.hold) continue;  // as at the inlet
    const bool low = p.reading < kLow * g.full;
    if (!low && p.reading <= kHigh * g.full) continue;
    out.push_back({low ? "meter.remark.low_on_scale" : "meter.remark.high_on_scale",
                   {{"purpose", Ref{"choice.meter_purpose." + key_of(p.purpose)}},
                    {"reading", g.number(p.reading, 3)},
                    {"full", g.as_given(g.full)}}});
  }
  const InstrumentEntry& i = g.entry.meter.instrument;
  if (!(i.full_scale > 0 && i.last_digit > 0) || !accuracy_stated(g.entry.meter, g.full)) {
    out.push_back({"meter.remark.usual_gauge"});
  }
  const bool assumed = std::any_of(
      g.entry.gauge_checks.begin(), g.entry.gauge_checks.end(), [](const GaugeCheck& c) {
        return c.against == GaugeAgainst::kGauge && !c.other_off;
      });
  if (assumed) out.push_back({"meter.remark.usual_other_gauge"});
  return out;
}

}  // namespace

MeterResult check_gauge(const CheckedMeter& m) {
  Gauge g{.entry = m,
          .results = {},
          .unit = *units::unit_of_key(unit_key(m.meter)),
          .full = gauge_scale(m.meter)};
  for (const GaugeCheck& c : m.gauge_checks) g.results.push_back(result_of(m, c));
  MeterResult out{.purposes = purposes_of(g)};
  out.need = {"meter.need_gauge",
              {{"need", g.number(g.of(kNeed), 2)}, {"fall", g.number(g.of(kFall), 2)}}};
  out.remarks = remarks_of(g, out.purposes);
  out.checks = std::move(g.results);
  return out;
}

}  // namespace drawoff::visit
