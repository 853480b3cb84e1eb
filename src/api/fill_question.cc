#include "api/fill_question.h"

#include <fmt/format.h>

#include "api/transient_draws.h"
#include "machine/tolerances.h"
#include "water/conductivity.h"

namespace drawoff {

namespace fields {

base::Result<base::Done> Table<api::FillInput>::check(const T& in, const Path& path) {
  const auto whole = transients::vessels_of(in.machine, in.condition);
  if (in.content <= whole) return base::Done{};
  const units::Unit* litre = units::unit_of_key("content_L");
  const auto shown = [&](units::Volume v) {
    return given_number(units::from_si_shortest(*litre, v.si()), litre);
  };
  return base::Error{base::ErrorKind::kData,
                     {"error.fill_input.content",
                      {{"path", path_argument(path / "content_L")},
                       {"value", shown(in.content)},
                       {"other", shown(whole)}}}};
}

}  // namespace fields

namespace api {

namespace {

using transients::FillEnd;
using transients::LowSwitch;

// A tank must make the shortest cycle last a minute (common practice, no source).
constexpr double kCalmPeriod = 60;  // [s]

// Everything of one machine's fill.
struct Filled {
  transients::Fill fill;
  transients::Stop stop;
  transients::AfterStop after;
  std::optional<transients::Restart> restart;
  std::optional<transients::Cycle> cycle;
  double conductivity = 0;  // of what came in, as a meter shows it [S/m]
  double rejected = 0;      // [m³]
};

Filled filled(const FillInput& in, const machine::Feed& feed, const TransientDraw& draw) {
  Filled f{.fill = transients::fill(draw.plant, in.content.si()),
           .stop = transients::stop_of(draw.plant)};
  f.stop.end = f.fill.end;
  const auto& plant = draw.plant;
  f.after = transients::after_stop(in.machine, draw.specimen, feed, in.condition, plant, f.stop);
  f.restart = transients::restart_of(plant, f.stop);
  if (f.restart) f.cycle = transients::shortest_cycle(plant, f.stop, *f.restart);
  if (f.fill.volume > 0) {
    const auto product = transients::product_of(plant.curve, f.fill);
    f.conductivity = draw.specimen.conductivity * water::conductivity_25(product).si();
  }
  for (const auto& portion : f.fill.portions) {
    f.rejected += portion.time * plant.curve.at(portion.pressure).reject_flow;
  }
  return f;
}

bool hunts(const Filled& f) {
  return f.restart &&
         (f.restart->at_once || f.cycle->period < machine::tolerance("hunting_period"));
}

std::vector<double> values_of(const std::vector<Filled>& all, double (*value)(const Filled&)) {
  std::vector<double> values;
  for (const Filled& f : all) values.push_back(value(f));
  return values;
}

// The course of the median machine, at each quarter of what comes in.
void tell_course(FillOutput& out, const Filled& f, const TransientDraw& draw, Working& working) {
  double time = 0;
  double volume = 0;
  double quarter = 0.25;
  for (const auto& portion : f.fill.portions) {
    // Portions of one pressure count as steady: the quarters that they hold lie within.
    while (quarter <= 1 && (volume + portion.volume) * (1 + 1e-9) >= quarter * f.fill.volume) {
      const auto r = draw.plant.curve.at(portion.pressure);
      const double part = quarter * f.fill.volume - volume;
      const std::string at = fmt::format("course[{}].", out.course.size());
      out.course.push_back({.filled = quarter,
                            .time = units::Time(time + part / portion.volume * portion.time),
                            .volume = units::Volume(quarter * f.fill.volume),
                            .flow = units::VolumeFlow(r.product_flow()),
                            .strength = r.product_salt()});
      const FillStep& step = out.course.back();
      const WorkingInput p{"p", portion.pressure * 1e-5, "bar"};
      explain_number(working, at + "filled_pct", quarter, {"V/V_end", "definition"});
      explain_number(
          working, at + "time_min", step.time.si(), {"t = ∫ W'(p)/Q(p) dp", "dahlquist2008", {p}});
      explain_number(
          working, at + "volume_L", step.volume.si(), {"V = W(p) − W(p_0)", "white2011", {p}});
      explain_number(working, at + "flow_L_h", step.flow.si(), {"Q(p)", "mass balance", {p}});
      explain_number(working,
                     at + "strength_pct",
                     step.strength,
                     {"s = (Q_p s_p + Q_b)/(Q_p + Q_b)", "army1986", {p}});
      quarter += 0.25;
    }
    time += portion.time;
    volume += portion.volume;
  }
}

void tell_stop(FillOutput& out,
               const std::vector<Filled>& all,
               const Filled& median,
               const TransientDraw& draw,
               Working& working) {
  std::vector<double> drawn;
  std::vector<double> periods;
  double stopped = 0;
  double at_once = 0;
  double hunting = 0;
  for (const Filled& f : all) {
    if (!f.restart) continue;
    stopped += 1;
    if (f.restart->at_once) at_once += 1;
    if (hunts(f)) hunting += 1;
    if (f.cycle) {
      drawn.push_back(f.restart->drawn);
      periods.push_back(f.cycle->period);
    }
  }
  if (stopped == 0) return;
  const WorkingInput n{"N", stopped, ""};
  out.starts_at_once = at_once / stopped;
  out.hunts = hunting / stopped;
  explain_number(working,
                 "starts_at_once_pct",
                 *out.starts_at_once,
                 {"n/N, p_start >= p_stop", "definition", {n}});
  explain_number(
      working, "hunts_pct", *out.hunts, {"n/N, T < T_hunting", "common practice, no source", {n}});
  if (drawn.size() >= kLeastTransientDraws) {
    out.drawn_restart =
        band_of(drawn, "L", working, "drawn_to_restart", {"W(p_stop) − W(p_start)", "white2011"});
    out.shortest_cycle = band_of(periods,
                                 "s",
                                 working,
                                 "shortest_cycle",
                                 {"T = D/q + ∫ dW/(Q − q), q = Q/2", "common practice, no source"});
  }
  if (!median.restart) return;
  out.loss_at_switch = units::Pressure(median.restart->loss);
  explain_number(working,
                 "loss_at_switch_bar",
                 median.restart->loss,
                 {"Δp = p_tee(Q) − p_tee(0)", "churchill1977"});
  if (!median.cycle) return;
  out.duty = median.cycle->duty;
  explain_number(
      working, "duty_pct", *out.duty, {"t_on/T", "definition", {{"T", median.cycle->period, "s"}}});
  if (hunts(median)) {
    out.tank_to_cure = units::Volume(
        transients::tank_for_period(draw.plant, median.stop, *median.restart, kCalmPeriod));
    explain_number(
        working,
        "tank_to_cure_L",
        out.tank_to_cure->si(),
        {"V = T Q/4/[W_1(p_stop) − W_1(p_start)]", "white2011", {{"T", kCalmPeriod, "s"}}});
  }
}

base::Message low_switch_remark(LowSwitch state) {
  return state == LowSwitch::kHolds ? base::Message{"transient.fill.low_switch_holds"}
                                    : base::Message{"transient.fill.low_switch_hunts"};
}

std::vector<base::Message> remarks_of(const FillOutput& out, const Filled& f) {
  std::vector<base::Message> remarks;
  switch (f.fill.end) {
    case FillEnd::kSwitch:
      remarks.push_back(base::Message{"transient.fill.switch"});
      break;
    case FillEnd::kShutOff:
      remarks.push_back(base::Message{"transient.fill.shut_off"});
      break;
    case FillEnd::kFlowEnds:
      remarks.push_back(base::Message{"transient.fill.flow_ends"});
      break;
    case FillEnd::kOpenOutlet:
      remarks.push_back(base::Message{"transient.fill.open_outlet"});
      break;
    case FillEnd::kNothingComes:
      remarks.push_back(base::Message{"transient.fill.nothing_comes"});
      break;
  }
  const bool fills = f.fill.end != FillEnd::kOpenOutlet && f.fill.end != FillEnd::kNothingComes;
  if (fills && f.after.reject_runs) remarks.push_back(base::Message{"transient.fill.reject_runs"});
  if (fills && f.after.pump_runs) remarks.push_back(base::Message{"transient.fill.pump_runs"});
  if (f.restart && f.restart->at_once) {
    remarks.push_back(base::Message{"transient.fill.starts_at_once"});
  } else if (hunts(f)) {
    remarks.push_back(base::Message{"transient.fill.hunts"});
  }
  if (out.low_switch && *out.low_switch != LowSwitch::kFine) {
    remarks.push_back(low_switch_remark(*out.low_switch));
  }
  return remarks;
}

void tell_low_switch(FillOutput& out,
                     const FillInput& in,
                     const TransientDraw& draw,
                     Working& working) {
  if (!draw.plant.controls.low) return;
  const auto feed = transients::feed_side(draw.plant);
  const auto low = transients::low_pressure(in.machine, feed);
  out.low_switch = low.state;
  out.low_switch_pressure = units::Pressure(feed.running);
  explain_number(working,
                 "low_switch_pressure_bar",
                 feed.running,
                 {"p = p_supply + ρ g z − Δp_tube − Δp_filters", "churchill1977"});
  if (!low.cycle) return;
  out.low_switch_period = units::Time(low.cycle->period);
  explain_number(
      working,
      "low_switch_period_s",
      low.cycle->period,
      {"T = τ ln[(p_rest − p_out)/(p_rest − p_in)] + τ ln[(p_in − p_run)/(p_out − p_run)]",
       "horowitz1989",
       {{"p_rest", feed.rest * 1e-5, "bar"}, {"p_run", feed.running * 1e-5, "bar"}}});
}

}  // namespace

base::Result<FillOutput> ask_fill(const FillInput& in, Working& working) {
  TRY(const TransientDraws d, transient_draws(in, transients::Reach::kWholeCurve));
  FillOutput out{.outcome = d.median.plant.curve.outcome(),
                 .runs = d.runs,
                 .assumed = machine::assumed(in.machine)};
  explain_runs(working, d);
  if (!can_tell(d)) {
    if (d.median.plant.curve.usable()) return out;
    std::vector<base::Message> remarks{why_not(out.outcome)};
    // A pump that starves pulls its switch's pressure down as far as that goes.
    const auto& plant = d.median.plant;
    if (out.outcome == machine::Outcome::kStarvesPump && plant.controls.low) {
      out.low_switch =
          transients::low_pressure(in.machine, {.rest = plant.static_feed, .running = -1}).state;
      remarks.push_back(low_switch_remark(*out.low_switch));
    }
    out.remarks = ids_of(remarks);
    return out;
  }
  const Filled median = filled(in, d.feed, d.median);
  std::vector<Filled> same;
  for (const TransientDraw& draw : d.draws) {
    Filled f = filled(in, d.feed, draw);
    if (f.fill.end == median.fill.end) same.push_back(std::move(f));
  }
  out.end = median.fill.end;
  out.same_end = static_cast<double>(same.size()) / static_cast<double>(d.draws.size());
  explain_number(working,
                 "same_end_pct",
                 *out.same_end,
                 {"n/N", "definition", {{"n", static_cast<double>(same.size()), ""}}});
  tell_low_switch(out, in, d.median, working);
  const bool fills = *out.end != FillEnd::kOpenOutlet && *out.end != FillEnd::kNothingComes;
  if (same.size() >= kLeastTransientDraws && fills) {
    const auto band = [&](const char* key,
                          const char* unit,
                          double (*value)(const Filled&),
                          const Origin& origin) {
      return band_of(values_of(same, value), unit, working, key, origin);
    };
    out.stop_pressure =
        band("stop_pressure",
             "bar",
             [](const Filled& f) { return f.stop.pressure; },
             {"p_tee(p) = p_cut-out, or p_tee/p_feed = share, or Q(p) = 0", "alefeld1995"});
    if (median.fill.volume > 0) {
      const auto first = [](const Filled& f) {
        return f.fill.portions.empty()
                   ? 0.0
                   : f.fill.portions.front().volume / f.fill.portions.front().time;
      };
      const auto last = [](const Filled& f) {
        return f.fill.portions.empty()
                   ? 0.0
                   : f.fill.portions.back().volume / f.fill.portions.back().time;
      };
      out.time = band("time",
                      "min",
                      [](const Filled& f) { return f.fill.time; },
                      {"t = ∫ W'(p)/Q(p) dp", "dahlquist2008"});
      out.volume = band("volume",
                        "L",
                        [](const Filled& f) { return f.fill.volume; },
                        {"V = W(p_stop) − W(p_0)", "white2011"});
      out.first_flow = band("first_flow", "L_h", first, {"Q(p_0)", "mass balance"});
      out.last_flow = band("last_flow", "L_h", last, {"Q(p_stop)", "mass balance"});
      out.strength = band("strength",
                          "pct",
                          [](const Filled& f) { return f.fill.strength(); },
                          {"s = ∫ s(p) W'(p) dp/V", "mass balance"});
      out.quality = band("quality",
                         "uS_cm",
                         [](const Filled& f) { return f.conductivity; },
                         {"κ_25 of the mixed product", "mass balance"});
      out.rejected = band("rejected",
                          "L",
                          [](const Filled& f) { return f.rejected; },
                          {"∫ Q_c dt", "mass balance"});
    }
    if (median.after.reject_runs) {
      out.reject_after = band("reject_after",
                              "L_h",
                              [](const Filled& f) { return f.after.reject_flow; },
                              {"Q_c(p_stop)", "mass balance"});
    }
    tell_stop(out, same, median, d.median, working);
    tell_course(out, median, d.median, working);
  }
  out.remarks = ids_of(remarks_of(out, median));
  return out;
}

}  // namespace api

}  // namespace drawoff
