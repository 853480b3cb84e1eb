#include "api/rest_question.h"

#include <fmt/format.h>

#include <limits>

#include "api/transient_draws.h"
#include "fields/errors.h"
#include "transients/fill.h"
#include "water/conductivity.h"

namespace drawoff::fields {

base::Result<base::Done> Table<api::RestInput>::check(const T& in, const Path& path) {
  if (in.condition.rest_before) return base::Done{};
  return missing({.path = path / "condition" / "rest_before_h",
                  .meaning = "field.condition.rest_before_h",
                  .unit = units::unit_of_key("rest_before_h"),
                  .range = {0, 1e4}});
}

}  // namespace drawoff::fields

namespace drawoff::api {

namespace {

using transients::Seep;

constexpr double kFirst = 0.5e-3;  // [m³] the first half litre
constexpr double kNear = 0.10;     // of the running product: settled

// Everything of one machine's rest.
struct Rested {
  double time_constant = 0;
  bool feed_runs = false;
  transients::FirstDraw draw;
  transients::BlendAtRest blend;
  water::Composition product;  // running
  double raw = 1;              // strength
  double conductivity = 1;     // the specimen's factor
  water::Composition raw_water;
};

// The product with so much more of the raw water's salts as its strength says.
units::Conductivity quality_at(const Rested& r, double strength) {
  water::Composition c = r.product;
  const double more = (strength - r.draw.product) / r.raw;
  for (std::size_t i = 0; i < c.mol_m3.size(); ++i) c.mol_m3[i] += more * r.raw_water.mol_m3[i];
  return units::Conductivity(r.conductivity * water::conductivity_25(c).si());
}

// The vessel as the rest begins: as the machine left it, or as stated.
transients::RestState state_of(const RestInput& in,
                               const transients::Plant& plant,
                               const transients::Stop& stop) {
  transients::RestState state{.time = in.condition.rest_before->si()};
  const auto& held = plant.held;
  for (const double filter : held.post_filters) state.held += filter;
  state.held += held.product_tube;
  if (plant.store.tank) {
    const auto stated =
        in.condition.vessel_pressure.value_or(in.machine.product.vessel_pressure).si();
    state.outlet_pressure = stated > 0 ? stated : stop.pressure;
    state.held += content(*plant.store.tank, state.outlet_pressure);
  } else if (!plant.store.open.empty()) {
    state.outlet_pressure = stop.pressure;
  }
  return state;
}

Rested rested(const RestInput& in, const machine::Feed& feed, const TransientDraw& draw) {
  const auto& plant = draw.plant;
  const auto running = plant.curve.at(0);
  auto stop = transients::stop_of(plant);
  const bool vessel = plant.store.tank || !plant.store.open.empty();
  Rested r;
  r.raw = running.raw_salt;
  r.conductivity = draw.specimen.conductivity;
  r.raw_water = water::scaled(feed.composition, running.raw_salt);
  r.product = plant.curve.product_at(0);
  // A machine on a jug was stopped by hand, its feed shut.
  r.feed_runs =
      vessel && transients::after_stop(in.machine, draw.specimen, feed, in.condition, plant, stop)
                    .reject_runs;
  // Salt balance of the membrane gives the reject; between it and the feed, the mean.
  const double reject = ((running.permeate_flow + running.reject_flow) * running.raw_salt -
                         running.permeate_flow * running.permeate_salt) /
                        running.reject_flow;
  const transients::Sides at_stop{
      .feed_volume =
          r.feed_runs ? std::numeric_limits<double>::infinity() : plant.held.feed_channel,
      .permeate_volume = plant.held.permeate_side,
      .feed_salt = r.feed_runs ? running.raw_salt : 0.5 * (running.feed_salt + reject),
      .permeate_salt = running.permeate_salt};
  const double exchange = transients::salt_exchange(draw.specimen, feed);
  const auto state = state_of(in, plant, stop);
  r.time_constant = transients::creep_time_constant(at_stop, exchange);
  r.draw = {.held = plant.held,
            .permeate_share = running.permeate_flow / running.product_flow(),
            .rested = transients::crept(at_stop, exchange, state.time).permeate_salt,
            .permeate = running.permeate_salt,
            .product = running.product_salt()};
  r.blend = transients::blend_at_rest(in.machine, draw.specimen, feed, in.condition, plant, state);
  return r;
}

void tell_draw(RestOutput& out, const Rested& median, Working& working) {
  for (int i = 0; i <= 10; ++i) {
    const double drawn = kFirst * i / 10;
    const double strength = strength_after(median.draw, drawn);
    out.first_draw.push_back({.drawn = units::Volume(drawn),
                              .strength = strength,
                              .quality = quality_at(median, strength)});
    const DrawnStep& step = out.first_draw.back();
    const std::string at = fmt::format("first_draw[{}].", i);
    explain_number(working, at + "drawn_mL", drawn, {"x", "definition"});
    explain_number(working,
                   at + "strength_pct",
                   strength,
                   {"s = s_run + m_n(x)/V_n, m_1(0) = V_p (s_rest − s_p)",
                    "levenspiel1999",
                    {{"x", drawn * 1e6, "mL"}, {"s_rest", median.draw.rested * 100, "%"}}});
    explain_number(working,
                   at + "quality_uS_cm",
                   step.quality.si(),
                   {"κ_25 of the product with (s − s_run) of raw water", "mass balance"});
  }
}

std::vector<base::Message> remarks_of(const RestOutput& out) {
  std::vector<base::Message> remarks;
  switch (*out.seep) {
    case Seep::kNothingMoves:
      remarks.push_back(base::Message{"transient.rest.nothing_moves"});
      break;
    case Seep::kRawSeepsIn:
      remarks.push_back(base::Message{"transient.rest.raw_seeps_in"});
      break;
    case Seep::kRunsBack:
      remarks.push_back(base::Message{"transient.rest.runs_back"});
      break;
  }
  if (out.settled && out.settled->middle > 0) {
    remarks.push_back(base::Message{"transient.rest.discard_first"});
  }
  return remarks;
}

}  // namespace

base::Result<RestOutput> ask_rest(const RestInput& in, Working& working) {
  TRY(const TransientDraws d, transient_draws(in, transients::Reach::kWholeCurve));
  RestOutput out{.outcome = d.median.plant.curve.outcome(),
                 .runs = d.runs,
                 .assumed = machine::assumed(in.machine)};
  explain_runs(working, d);
  if (!can_tell(d)) {
    if (!d.median.plant.curve.usable()) out.remarks = ids_of({why_not(out.outcome)});
    return out;
  }
  const Rested median = rested(in, d.feed, d.median);
  std::vector<Rested> all;
  for (const TransientDraw& draw : d.draws) all.push_back(rested(in, d.feed, draw));
  const auto band =
      [&](const char* key, const char* unit, double (*value)(const Rested&), const Origin& origin) {
        std::vector<double> values;
        for (const Rested& r : all) values.push_back(value(r));
        return band_of(values, unit, working, key, origin);
      };
  const WorkingInput time{"t", in.condition.rest_before->si() / 3600, "h"};
  out.time_constant = band("time_constant",
                           "min",
                           [](const Rested& r) { return r.time_constant; },
                           {"τ = 1/[B A (1/V_p + 1/V_f)]", "lonsdale1965"});
  out.held_behind_membrane = band("held_behind_membrane",
                                  "mL",
                                  [](const Rested& r) { return r.draw.held.permeate_side; },
                                  {"V_p = v A", "common practice, no source"});
  out.strength_behind_membrane =
      band("strength_behind_membrane",
           "pct",
           [](const Rested& r) { return r.draw.rested; },
           {"s_p = s_∞ + (s_p0 − s_∞) e^(−t/τ)", "lonsdale1965", {time}});
  out.product_quality = band("product_quality",
                             "uS_cm",
                             [](const Rested& r) { return quality_at(r, r.draw.product).si(); },
                             {"κ_25 of the running product", "army1986"});
  out.first_half_litre =
      band("first_half_litre",
           "uS_cm",
           [](const Rested& r) { return quality_at(r, mean_strength(r.draw, kFirst)).si(); },
           {"s = s_run + [V_p (s_rest − s_p) − Σ m_i(x)]/x",
            "levenspiel1999",
            {{"x", kFirst * 1e3, "L"}}});
  out.settled = band("settled",
                     "L",
                     [](const Rested& r) { return settled_from(r.draw, kNear); },
                     {"x where |s − s_run| <= 0.1 s_run for good", "levenspiel1999"});
  out.feed_runs = median.feed_runs;
  out.seep = median.blend.seep;
  std::erase_if(all, [&](const Rested& r) { return r.blend.seep != median.blend.seep; });
  out.same_seep = static_cast<double>(all.size()) / static_cast<double>(d.draws.size());
  explain_number(working,
                 "same_seep_pct",
                 *out.same_seep,
                 {"n/N", "definition", {{"n", static_cast<double>(all.size()), ""}}});
  if (*out.seep != Seep::kNothingMoves && all.size() >= kLeastTransientDraws) {
    out.seep_flow = band("seep_flow",
                         "L_h",
                         [](const Rested& r) { return r.blend.flow; },
                         {"p_supply − p_check − p = a µ q + b ρ q²", "white2011"});
    out.seep_volume = band("seep_volume",
                           "L",
                           [](const Rested& r) { return r.blend.volume; },
                           {"t = ∫ W'(p)/q(p) dp", "white2011", {time}});
    out.vessel_before = band("vessel_before",
                             "uS_cm",
                             [](const Rested& r) { return quality_at(r, r.draw.product).si(); },
                             {"κ_25 of the running product", "army1986"});
    out.vessel_after =
        band("vessel_after",
             "uS_cm",
             [](const Rested& r) {
               return quality_at(r, strength_after(r.blend, r.draw.product, r.raw)).si();
             },
             {"s = (V s_run + ΔV s_raw)/(V + ΔV)", "army1986", {time}});
  }
  tell_draw(out, median, working);
  out.remarks = ids_of(remarks_of(out));
  return out;
}

}  // namespace drawoff::api
