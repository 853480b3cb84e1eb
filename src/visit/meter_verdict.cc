#include "visit/meter_verdict.h"

#include <algorithm>
#include <cmath>

#include "messages/number.h"
#include "visit/gauge_verdict.h"

namespace drawoff::visit {
namespace {

using base::Message;
using base::Number;
using base::Ref;
using inference::Interval;

// How far from what is to be read a standard vouches: a factor, or pH.
constexpr double kVouchesWithin = 4;
constexpr double kVouchesWithinPh = 2;

// How right a reading must be.
constexpr double kNeedRaw = 0.05;
constexpr double kNeedProduct = 0.10;
constexpr double kNeedProductAtLeast = 10;  // [µS/cm]: 5 ppm on the half scale
constexpr double kNeedPh = 0.2;             // the index of lime moves by as much
// What is to be read where nothing is said: the common standards, and pH before and behind.
constexpr double kUsual[] = {1413, 84};
constexpr double kUsualPh[] = {7.5, 6.5};

// Further off than this a meter is out of order, and no factor makes it good.
constexpr double kTooFar = 1.25;
constexpr double kTooFarPh = 0.5;

constexpr double kLowStandard = 150;  // [µS/cm] standards that do not keep once opened
// What a pH electrode gives of its slope while it is sound.
constexpr double kSlopeLeast = 0.90;
constexpr double kSlopeMost = 1.05;
constexpr double kSlopeOpen = 0.05;  // how far off it may be, seen in one buffer alone

Number number(const MeterAsBought& m, double value, int digits) {
  const auto* unit = units::unit_of_key(unit_key(m));
  return {value, unit == nullptr ? "" : std::string(unit->symbol), digits};
}
Number as_given(const MeterAsBought& m, double value) {
  return number(m, value, messages::digits_of(value));
}
Number whole(double value) { return {value, "", messages::digits_of(value)}; }

// How far a standard is from what is to be read, 1 at the edge of what it vouches for.
double distance(const MeterAsBought& m, const StandardCheck& c, double reading) {
  if (reads_ph(m)) return std::fabs(*c.buffer - reading) / kVouchesWithinPh;
  const double there = factor_of(m) * (*c.standard / units::microsiemens_per_cm(1));
  return std::fabs(std::log(there / reading)) / std::log(kVouchesWithin);
}

// The nearest standard, and of its checks the latest.
std::optional<std::size_t> nearest(const CheckedMeter& m,
                                   const std::vector<CheckResult>& results,
                                   double reading,
                                   bool young) {
  constexpr double kEdge = 1 + 1e-9;  // 4 times is still within, whatever rounding says
  std::optional<std::size_t> best;
  for (std::size_t i = 0; i < results.size(); ++i) {
    const double d = distance(m.meter, m.checks[i], reading);
    if (d > kEdge || (young && !results[i].vouches)) continue;
    if (!best) {
      best = i;
      continue;
    }
    const double nearest_so_far = distance(m.meter, m.checks[*best], reading);
    if (d < nearest_so_far || (d == nearest_so_far && results[i].age <= results[*best].age)) {
      best = i;
    }
  }
  return best;
}

// What the correction leaves, and what is off without it, at a reading.
void weigh(const CheckedMeter& m, const CheckResult& r, PurposeResult& p) {
  const double half_digit = half_digit_of(m.meter, p.reading);
  if (r.shift) {
    const double slope = kSlopeOpen * std::fabs(r.should_show - p.reading);
    p.off = std::fmax(std::fabs(r.shift->low), std::fabs(r.shift->high)) + slope + half_digit;
    p.left = r.shift->high - r.shift->middle + slope + half_digit;
  } else if (r.factor) {
    const Interval& f = *r.factor;
    p.off = p.reading * std::fmax(std::fabs(1 - f.low), std::fabs(1 - f.high)) + half_digit;
    p.left = p.reading * std::fmax(f.high - f.middle, f.middle - f.low) + f.middle * half_digit;
  }
}

// The slope of an electrode that is not sound, by two buffers of one day.
std::optional<double> worn_slope(const CheckedMeter& m, const std::vector<CheckResult>& results) {
  if (!reads_ph(m.meter)) return std::nullopt;
  const auto apart = [&](std::size_t i, std::size_t j) {
    return results[i].should_show - results[j].should_show;
  };
  for (std::size_t i = results.size(); i-- > 0;) {
    for (std::size_t j = i; j-- > 0;) {
      if (!results[i].vouches || m.checks[i].on != m.checks[j].on) continue;
      if (std::fabs(apart(i, j)) < kVouchesWithinPh) continue;
      const double slope = (m.checks[i].shown - m.checks[j].shown) / apart(i, j);
      if (slope >= kSlopeLeast && slope <= kSlopeMost) return std::nullopt;
      return slope;
    }
  }
  return std::nullopt;
}

bool too_far(const CheckResult& r) {
  if (r.shift) return std::fabs(r.shift->middle) > kTooFarPh;
  return !r.factor || r.factor->middle > kTooFar || r.factor->middle < 1 / kTooFar;
}

void judge(const CheckedMeter& m, const std::vector<CheckResult>& results, PurposeResult& p) {
  const MeterAsBought& meter = m.meter;
  const auto say = [&](const char* id, std::vector<std::pair<std::string, base::Argument>> more) {
    p.why = {id,
             {{"purpose",
               Ref{"choice.meter_purpose." +
                   std::string(p.purpose == Purpose::kRaw ? "raw" : "product")}},
              {"reading", number(meter, p.reading, reads_ph(meter) ? 2 : 3)},
              {"need", number(meter, p.need, 2)}}};
    for (auto& argument : more) p.why.arguments.push_back(std::move(argument));
  };
  const double full = meter.instrument.full_scale;
  if (full > 0 && p.reading > full) {
    p.verdict = MeterVerdict::kNotGood;
    return say("meter.why.beyond_scale", {{"full", as_given(meter, full)}});
  }
  p.by = nearest(m, results, p.reading, true);
  if (!p.by) {
    p.by = nearest(m, results, p.reading, false);
    if (p.by) {
      return say("meter.why.old",
                 {{"days", whole(results[*p.by].age)}, {"limit", whole(kVouchesFor)}});
    }
    if (reads_ph(meter)) {
      return say("meter.why.unchecked_pH",
                 {{"low", Number{p.reading - kVouchesWithinPh, "", 2}},
                  {"high", Number{p.reading + kVouchesWithinPh, "", 2}}});
    }
    const double at_25 = p.reading / factor_of(meter);
    return say("meter.why.unchecked",
               {{"low", Number{at_25 / kVouchesWithin, "µS/cm", 3}},
                {"high", Number{at_25 * kVouchesWithin, "µS/cm", 3}}});
  }
  const CheckResult& r = results[*p.by];
  weigh(m, r, p);
  if (too_far(r)) {
    p.verdict = MeterVerdict::kNotGood;
    return say("meter.why.too_far",
               {{"shown", as_given(meter, m.checks[*p.by].shown)},
                {"should", number(meter, r.should_show, 3)}});
  }
  if (worn_slope(m, results)) {
    p.verdict = MeterVerdict::kNotGood;
    return say("meter.why.worn", {});
  }
  const Number off = number(meter, *p.off, 2);
  const Number left = number(meter, *p.left, 2);
  if (*p.off <= p.need) {
    p.verdict = MeterVerdict::kGood;
    return say("meter.why.good", {{"off", off}});
  }
  if (*p.left > p.need) {
    p.verdict = MeterVerdict::kNotGood;
    return say("meter.why.too_coarse", {{"left", left}});
  }
  p.verdict = MeterVerdict::kGoodCorrected;
  if (r.factor) {
    return say("meter.why.factor",
               {{"factor", Number{r.factor->middle, "", 3}}, {"off", off}, {"left", left}});
  }
  say("meter.why.shift",
      {{"way", r.shift->middle < 0 ? "off" : "on"},
       {"shift", Number{std::fabs(r.shift->middle), "", 2}},
       {"off", off},
       {"left", left}});
}

std::vector<PurposeResult> purposes_of(const CheckedMeter& m) {
  const bool ph = reads_ph(m.meter);
  const double f = ph ? 1 : factor_of(m.meter);
  const double raw = m.raw.value_or(ph ? kUsualPh[0] : f * kUsual[0]);
  const double product = m.product.value_or(ph ? kUsualPh[1] : f * kUsual[1]);
  return {{.purpose = Purpose::kRaw, .reading = raw, .need = ph ? kNeedPh : kNeedRaw * raw},
          {.purpose = Purpose::kProduct,
           .reading = product,
           .need = ph ? kNeedPh : std::fmax(kNeedProduct * product, kNeedProductAtLeast * f)}};
}

Message need_of(const CheckedMeter& m, const std::vector<PurposeResult>& purposes) {
  if (reads_ph(m.meter)) return {"meter.need_pH", {{"need", Number{kNeedPh, "", 1}}}};
  const PurposeResult& raw = purposes[0];
  const PurposeResult& product = purposes[1];
  const double passed = product.reading / raw.reading;
  const Number least = number(m.meter, kNeedProductAtLeast * factor_of(m.meter), 2);
  // A product as strong as its raw water has no reduction to be right about.
  if (passed >= 1) return {"meter.need_alone", {{"least", least}}};
  const double off = passed * (product.need / product.reading + kNeedRaw);
  const auto share = [](double part) { return Number{100 * std::clamp(part, 0.0, 1.0), "%", 3}; };
  return {"meter.need",
          {{"least", least},
           {"reduction", share(1 - passed)},
           {"low", share(1 - passed - off)},
           {"high", share(1 - passed + off)}}};
}

// The scale on which the meter would be right, where that is plainly another one.
std::optional<Message> other_scale(const MeterAsBought& m,
                                   const StandardCheck& c,
                                   const CheckResult& r) {
  constexpr double kNear = 0.06;  // ln
  if (!(c.shown > 0) || !too_far(r)) return std::nullopt;
  const std::pair<double, const char*> scales[] = {{1.0, "choice.meter_unit.uS_cm"},
                                                   {0.5, "choice.meter_scale.half"},
                                                   {0.7, "choice.meter_scale.seven_tenths"}};
  for (const auto& [factor, id] : scales) {
    const double as_other = r.should_show * factor / factor_of(m);
    if (std::fabs(std::log(c.shown / as_other)) > kNear) continue;
    return Message{"meter.remark.other_scale",
                   {{"shown", as_given(m, c.shown)}, {"scale", Ref{id}}}};
  }
  return std::nullopt;
}

std::vector<Message> remarks_of(const CheckedMeter& m, const std::vector<CheckResult>& results) {
  std::vector<Message> out;
  const auto add = [&](std::optional<Message> message) {
    if (message && std::find(out.begin(), out.end(), *message) == out.end()) {
      out.push_back(std::move(*message));
    }
  };
  const bool ph = reads_ph(m.meter);
  for (std::size_t i = 0; i < results.size() && !ph; ++i) {
    add(other_scale(m.meter, m.checks[i], results[i]));
    const bool low = *m.checks[i].standard < units::microsiemens_per_cm(kLowStandard);
    if (low && results[i].error_share->low > 0) add(Message{"meter.remark.low_standard", {}});
  }
  if (const auto slope = worn_slope(m, results)) {
    add(Message{"meter.remark.slope", {{"slope", Number{100 * *slope, "%", 2}}}});
  }
  if (!m.meter.compensates) {
    add(Message{ph ? "meter.remark.not_compensated_pH" : "meter.remark.not_compensated", {}});
  }
  const bool stated = std::all_of(results.begin(), results.end(), [&](const CheckResult& r) {
    return accuracy_stated(m.meter, r.should_show);
  });
  if (!stated) add(Message{ph ? "meter.remark.usual_pH" : "meter.remark.usual", {}});
  return out;
}

}  // namespace

MeterResult check_meter(const CheckedMeter& m) {
  if (reads_pressure(m.meter)) return check_gauge(m);
  MeterResult out;
  for (const StandardCheck& c : m.checks) out.checks.push_back(result_of(m, c));
  out.purposes = purposes_of(m);
  for (PurposeResult& p : out.purposes) judge(m, out.checks, p);
  out.need = need_of(m, out.purposes);
  out.remarks = remarks_of(m, out.checks);
  return out;
}

}  // namespace drawoff::visit
