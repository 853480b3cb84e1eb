#include "api/machine_question.h"

#include <fmt/format.h>

#include <functional>
#include <tuple>
#include <vector>

#include "api/machine_question_fields.h"
#include "visit/shares_read.h"
#include "water/speciation.h"

namespace drawoff::api {

namespace {

using inference::Interval;
using machine::kind_of;
using machine::Point;
using machine::PointKind;

constexpr std::string_view kPracticeSource = "common practice, no source";

// The unit in which a point is given where no reading says otherwise.
std::string_view usual_unit(Point p) {
  switch (kind_of(p)) {
    case PointKind::kPressure:
      return "bar";
    case PointKind::kFlow:
      return "L_h";
    case PointKind::kQuality:
      return "uS_cm";
    case PointKind::kTemperature:
      return "C";
  }
  return "";
}

Band band_in(const Interval& i, std::string_view unit_key) {
  const auto* unit = units::unit_of_key(unit_key);
  return {.low = units::from_si(*unit, i.low),
          .middle = units::from_si(*unit, i.middle),
          .high = units::from_si(*unit, i.high),
          .unit = std::string(unit_key)};
}

MedianRun median_of(const machine::OperatingPoint<double>& p) {
  return {.feed_flow = units::VolumeFlow(p.feed_flow),
          .permeate_flow = units::VolumeFlow(p.permeate_flow),
          .reject_flow = units::VolumeFlow(p.reject_flow),
          .blend_flow = units::VolumeFlow(p.blend_flow),
          .product_flow = units::VolumeFlow(p.product_flow),
          .inlet = units::Pressure(p.unit_inlet_pressure),
          .filtered = units::Pressure(p.filtered_pressure),
          .membrane = units::Pressure(p.membrane_pressure),
          .reject = units::Pressure(p.reject_pressure),
          .permeate = units::Pressure(p.permeate_pressure),
          .recovery = p.recovery,
          .permeate_strength = p.permeate_salt,
          .product_strength = p.product_salt,
          .reject_strength = p.reject_salt,
          .wall_strength = p.wall_salt,
          .polarisation = p.polarisation,
          .flux = units::Velocity(p.flux)};
}

void explain_median(Working& working,
                    const std::string& at,
                    const MedianRun& m,
                    const visit::StartUp& s) {
  if (!working.asked()) return;
  // What the plates came to, at the temperature of the water.
  const auto& parts = s.median_machine.membranes;
  const double kelvin = s.median_temperature.si();
  const WorkingInput a{"A",
                       parts.water / units::litre_per_m2_h_bar(1) *
                           membrane::arrhenius(parts.coefficients.water, kelvin),
                       "L/(m²·h·bar)"};
  const WorkingInput b{
      "B",
      parts.salt / units::litre_per_m2_h(1) * membrane::arrhenius(parts.coefficients.salt, kelvin),
      "L/(m²·h)"};
  const WorkingInput area{
      "A_m", parts.channel.area.si() * parts.in_series * parts.in_parallel, "m²"};
  const WorkingInput creep{"a", s.median_machine.restrictor.a, "1/m³"};
  const WorkingInput jet{"b", s.median_machine.restrictor.b, "1/m⁴"};
  const double qf = m.feed_flow / units::litre_per_hour(1);
  const double qp = m.permeate_flow / units::litre_per_hour(1);
  const double qc = m.reject_flow / units::litre_per_hour(1);
  const double qb = m.blend_flow / units::litre_per_hour(1);
  const auto in_bar = [](units::Pressure p) { return p / units::bar(1); };
  const auto add = [&](const char* key,
                       const char* symbol,
                       const char* formula,
                       std::vector<WorkingInput> inputs,
                       double value,
                       const char* unit,
                       std::string_view source) {
    working.add({.result = at + "." + key,
                 .symbol = symbol,
                 .formula = formula,
                 .inputs = std::move(inputs),
                 .value = value,
                 .unit = unit,
                 .source = std::string(source)});
  };
  const double membrane = in_bar(m.membrane);
  const double permeate = in_bar(m.permeate);
  const double flux = m.flux / units::litre_per_m2_h(1);
  add("feed_flow_L_h",
      "Q_f",
      "p_filtered(Q_f + Q_b) + Δp_pump(Q_f) = Δp_membrane + Δp_restrictor(Q_c) + Δp_drain(Q_c)",
      {{"Q_p", qp, "L/h"}, {"Q_c", qc, "L/h"}, creep, jet},
      qf,
      "L/h",
      "mass balance");
  add("permeate_flow_L_h",
      "Q_p",
      "Q_p = Σ_i w_i J_i A_m",
      {{"J", flux, "L/(m²·h)"}, area},
      qp,
      "L/h",
      "hairer1993");
  add("reject_flow_L_h",
      "Q_c",
      "Q_c = Q_f − Q_p",
      {{"Q_f", qf, "L/h"}, {"Q_p", qp, "L/h"}},
      qc,
      "L/h",
      "mass balance");
  add("blend_flow_L_h",
      "Q_b",
      "p_filtered − p_tee − p_check = a µ Q_b + b ρ Q_b²",
      {{"p_filtered", in_bar(m.filtered), "bar"}},
      qb,
      "L/h",
      "white2011");
  add("product_flow_L_h",
      "Q",
      "Q = Q_p + Q_b",
      {{"Q_p", qp, "L/h"}, {"Q_b", qb, "L/h"}},
      m.product_flow / units::litre_per_hour(1),
      "L/h",
      "mass balance");
  add("inlet_pressure_bar",
      "p_inlet",
      "p_inlet = p_supply + ρ g z − Δp_tube",
      {{"Q_f + Q_b", qf + qb, "L/h"}},
      in_bar(m.inlet),
      "bar",
      "churchill1977");
  add("filtered_pressure_bar",
      "p_filtered",
      "p_filtered = p_inlet − Δp_filters",
      {{"p_inlet", in_bar(m.inlet), "bar"}},
      in_bar(m.filtered),
      "bar",
      kPracticeSource);
  add("membrane_pressure_bar",
      "p_m",
      "p_m = p_filtered + Δp_pump(Q_f)",
      {{"p_filtered", in_bar(m.filtered), "bar"}, {"Q_f", qf, "L/h"}},
      membrane,
      "bar",
      kPracticeSource);
  add("reject_pressure_bar",
      "p_c",
      "p_c = p_m − ∫ f ρ u²/(2 d_h) dx",
      {{"p_m", membrane, "bar"}},
      in_bar(m.reject),
      "bar",
      "schock1987");
  add("permeate_pressure_bar",
      "p_p",
      "p_p = p_outlet + ρ g z + Δp_product line + p_check",
      {{"Q", qp + qb, "L/h"}},
      permeate,
      "bar",
      "churchill1977");
  add("recovery_pct",
      "Y",
      "Y = Q_p/(Q_p + Q_d)",
      {{"Q_p", qp, "L/h"},
       {"Q_d", units::VolumeFlow(s.median.drain_flow) / units::litre_per_hour(1), "L/h"}},
      m.recovery * 100,
      "%",
      "definition");
  add("permeate_strength_pct",
      "s_p",
      "s_p = ∫B (s_m − s_p) dA / ∫J dA",
      {{"mean J", flux, "L/(m²·h)"}, {"s_m at the reject end", m.wall_strength * 100, "%"}, b},
      m.permeate_strength * 100,
      "%",
      "lonsdale1965");
  add("product_strength_pct",
      "s",
      "s = (Q_p s_p + Q_b s_b)/(Q_p + Q_b)",
      {{"Q_p", qp, "L/h"},
       {"s_p", m.permeate_strength * 100, "%"},
       {"Q_b", qb, "L/h"},
       {"s_b", s.median.blend_salt * 100, "%"}},
      m.product_strength * 100,
      "%",
      "army1986");
  add("reject_strength_pct",
      "s_c",
      "s_c = (Q_f s_f − Q_p s_p)/Q_c",
      {{"Q_f", qf, "L/h"},
       {"s_f", s.median.feed_salt * 100, "%"},
       {"Q_p", qp, "L/h"},
       {"s_p", m.permeate_strength * 100, "%"},
       {"Q_c", qc, "L/h"}},
      m.reject_strength * 100,
      "%",
      "mass balance");
  add("wall_strength_pct",
      "s_m",
      "s_m − s_p = (s − s_p) exp(J/k), near the reject end",
      {{"s at the reject end", m.reject_strength * 100, "%"}, {"mean J", flux, "L/(m²·h)"}},
      m.wall_strength * 100,
      "%",
      "michaels1968");
  add("polarisation",
      "exp(J/k)",
      "(s_m − s_p)/(s − s_p) = exp(J/k), mean over the last element",
      {{"mean J", flux, "L/(m²·h)"}},
      m.polarisation,
      "",
      "michaels1968");
  add("flux_L_m2_h",
      "J",
      "J = A [p_m − p_p − π(s_m) + π(s_p)]",
      {{"p_m", membrane, "bar"}, {"p_p", permeate, "bar"}, a},
      flux,
      "L/(m²·h)",
      "lonsdale1965");
}

using StreamOf = water::Composition machine::Streams::*;

Interval interval_over(const visit::StartUp& s,
                       const std::function<double(const machine::Streams&)>& f) {
  std::vector<double> draws;
  draws.reserve(s.streams.size());
  for (const machine::Streams& one : s.streams) draws.push_back(f(one));
  return inference::predicted_interval(draws, 0, inference::kExpectedLevel);
}

// Every dissolved species in every stream, and the pH that carbonate and CO2 settle at.
void add_species(const visit::StartUp& s,
                 Working& working,
                 const std::string& at,
                 MachineOutput& out) {
  const auto draws = static_cast<double>(s.streams.size());
  for (int i = 0; i < water::kSpeciesCount; ++i) {
    const auto species = water::species_at(i);
    if (!(s.raw.composition.mol_m3[i] > 0) || species == water::Species::H ||
        species == water::Species::OH) {
      continue;
    }
    const double molar_mass = water::molar_mass_of(species);
    SpeciesBands row{.species = water::species_data(species).key};
    const std::string path = fmt::format("{}species[{}].", at, out.species.size());
    const std::tuple<Band*, const char*, StreamOf> bands[] = {
        {&row.raw, "raw", &machine::Streams::raw},
        {&row.permeate, "permeate", &machine::Streams::permeate},
        {&row.product, "product", &machine::Streams::product},
        {&row.reject, "reject", &machine::Streams::reject},
        {&row.wall, "wall", &machine::Streams::wall}};
    for (const auto& [band, key, stream] : bands) {
      *band = band_in(interval_over(s,
                                    [&, of = stream](const machine::Streams& one) {
                                      return (one.*of).mol_m3[i] * molar_mass;
                                    }),
                      "mg_L");
      explain_band(working, path + key, *band, draws, "yaroshchuk2013");
    }
    out.species.push_back(std::move(row));
  }
  const std::tuple<std::optional<Band>*, const char*, StreamOf> phs[] = {
      {&out.permeate_ph, "permeate_pH", &machine::Streams::permeate},
      {&out.product_ph, "product_pH", &machine::Streams::product},
      {&out.reject_ph, "reject_pH", &machine::Streams::reject}};
  for (const auto& [band, key, stream] : phs) {
    const auto i = interval_over(s, [&, of = stream](const machine::Streams& one) {
      return water::closed_speciation(one.*of, s.median_temperature).ph;
    });
    *band = Band{.low = i.low, .middle = i.middle, .high = i.high, .unit = ""};
    explain_band(working, at + key, **band, draws, "plummer1982");
  }
}

MachineOutput machine_output(const visit::StartUp& s, Working& working, const std::string& at) {
  MachineOutput out{.outcome = s.outcome, .runs = s.runs_share, .assumed = s.assumed};
  const auto draws = static_cast<double>(s.streams.size());
  working.add({.result = at + "runs_pct",
               .symbol = "n/N",
               .formula = "n/N",
               .inputs = {{"n", draws, ""}},
               .value = s.runs_share * 100,
               .unit = "%",
               .source = std::string(kPracticeSource)});
  out.expected = point_bands(s.expected, working, at, draws);
  if (!s.streams.empty()) {
    const std::pair<std::optional<Band>*, std::pair<const char*, const Interval*>> shares[] = {
        {&out.recovery, {"recovery", &s.recovery}},
        {&out.reduction_ppm, {"reduction_ppm", &s.reduction_ppm}},
        {&out.reduction_mass, {"reduction_mass", &s.reduction_mass}},
        {&out.permeate_reduction_mass, {"permeate_reduction_mass", &s.permeate_reduction_mass}}};
    for (const auto& [into, from] : shares) {
      *into = band_in(*from.second, "pct");
      explain_band(working, at + from.first, **into, draws, "hyndman1996");
    }
    add_species(s, working, at, out);
  }
  if (s.outcome == machine::Outcome::kRuns || s.outcome == machine::Outcome::kOverPressure) {
    out.median = median_of(s.median);
    explain_median(working, at + "median", *out.median, s);
  }
  if (const auto standing = visit::blend_gap(s)) {
    out.blend_gap = standing->gap;
    working.add(
        {.result = at + "blend_gap_um",
         .symbol = "h",
         .formula = "Δp = 12 µ L Q/(π D h³) + ρ Q²/(2 (C π D h)²)",
         .inputs = {{"Q", s.median.blend_flow * 3.6e6, "L/h"}, {"C", plumbing::kSeatDischarge, ""}},
         .value = standing->gap.si() * 1e6,
         .unit = "µm",
         .source = "white2011"});
  }
  return out;
}

visit::Sampling sampling_of(int draws, long long seed) {
  return {.draws = draws, .seed = static_cast<std::uint64_t>(seed)};
}

}  // namespace

void explain_band(Working& working,
                  const std::string& at,
                  const Band& band,
                  double draws,
                  std::string_view source) {
  if (!working.asked()) return;
  const auto* unit = units::unit_of_key(band.unit);
  const std::string symbol(unit == nullptr ? "" : unit->symbol);
  const std::pair<const char*, std::pair<double, double>> rows[] = {
      {"low", {0.05, band.low}}, {"middle", {0.5, band.middle}}, {"high", {0.95, band.high}}};
  for (const auto& [key, row] : rows) {
    working.add({.result = at + "." + key,
                 .symbol = fmt::format("x_{:g}", row.first),
                 .formula = "P(x <= x_p) = p, n draws",
                 .inputs = {{"p", row.first, ""}, {"n", draws, ""}},
                 .value = row.second,
                 .unit = symbol,
                 .source = std::string(source)});
  }
}

Band band_at(Point point, const Interval& interval) { return band_in(interval, usual_unit(point)); }

std::vector<PointBand> point_bands(std::span<const visit::Expectation> expected,
                                   Working& working,
                                   const std::string& at,
                                   double draws) {
  std::vector<PointBand> bands;
  for (const visit::Expectation& e : expected) {
    const std::string path = fmt::format("{}expected[{}].expected", at, bands.size());
    bands.push_back({e.point, band_at(e.point, e.expected)});
    explain_band(working, path, bands.back().expected, draws, "hyndman1996");
  }
  return bands;
}

Band band_in_unit(const Interval& i, visit::ReadingUnit unit) {
  return {.low = i.low,
          .middle = i.middle,
          .high = i.high,
          .unit = std::string(visit::unit_of(unit).key)};
}

AcceptOutput accept_output(const visit::StartUp& s, Working& working, const std::string& at) {
  AcceptOutput out{.machine = machine_output(s, working, at + "machine."),
                   .standing = s.standing,
                   .unread = s.unread,
                   .next_reading = s.next_point};
  const auto share = [&](const char* key, const char* formula, double value, const char* source) {
    working.add({.result = at + key,
                 .symbol = "x",
                 .formula = formula,
                 .inputs = {},
                 .value = 100 * value,
                 .unit = "%",
                 .source = source});
    return value;
  };
  if (s.standing != visit::StartUpStanding::kNoReadings &&
      s.standing != visit::StartUpStanding::kCannotRun) {
    out.probability = share("probability_pct",
                            "2 min(m min P_i, P(F(m, n − m) >= d² (n − m) n/(m (n² − 1))))",
                            s.probability,
                            "from memory");
  }
  const visit::SharesRead read = visit::shares_read(s);
  if (read.recovery) {
    out.recovery_read =
        share("recovery_read_pct", "Q (1 − b)/(Q (1 − b) + D)", *read.recovery, "mass balance");
  }
  if (read.reduction_ppm) {
    out.reduction_ppm_read =
        share("reduction_ppm_read_pct", "1 − κ/κ_r", *read.reduction_ppm, "definition");
  }
  if (read.reduction_mass) {
    out.reduction_mass_read =
        share("reduction_mass_read_pct", "1 − φ κ/κ_r", *read.reduction_mass, "army1986");
  }
  for (const visit::JudgedReading& r : s.readings) {
    const std::string path = fmt::format("{}readings[{}]", at, out.readings.size());
    ReadingOutput reading{
        .point = r.reading.point, .value = r.reading.value, .unit = r.reading.unit};
    working.add({.result = path + ".value",
                 .symbol = "x",
                 .formula = "x = x_shown",
                 .value = reading.value,
                 .unit = std::string(visit::unit_of(reading.unit).symbol),
                 .source = "reading"});
    if (r.judgement) {
      reading.expected = band_in_unit(r.judgement->expected, reading.unit);
      reading.probability_below = r.judgement->probability_below;
      reading.fit = r.judgement->fit;
      explain_band(working,
                   path + ".expected",
                   *reading.expected,
                   static_cast<double>(s.streams.size()),
                   "jcgm2008");
      working.add(
          {.result = path + ".probability_below_pct",
           .symbol = "P",
           .formula = "P = (1/n) Σ Φ((x − y_k)/σ)",
           .inputs = {{"x", reading.value, std::string(visit::unit_of(reading.unit).symbol)},
                      {"n", static_cast<double>(s.streams.size()), ""}},
           .value = r.judgement->probability_below * 100,
           .unit = "%",
           .source = "jcgm2008"});
    }
    if (r.set_aside) reading.set_aside = r.set_aside->id;
    out.readings.push_back(std::move(reading));
  }
  for (const auto& c : s.causes.causes) {
    const std::string path = fmt::format("{}causes[{}]", at, out.causes.size());
    out.causes.push_back({c.id.empty() ? "none" : c.id, c.probability, c.alike});
    working.add({.result = path + ".probability_pct",
                 .symbol = "P(cause)",
                 .formula = "P = prior · L/Σ prior · L, L = mean N(z; m + d(a), C)",
                 .inputs = {{"alike", static_cast<double>(c.alike.size()), ""}},
                 .value = c.probability * 100,
                 .unit = "%",
                 .source = std::string(kPracticeSource)});
  }
  if (s.next_point) {
    out.next_reading_time = units::Time(60 * s.causes.next.minutes);
    working.add({.result = at + "next_reading_min",
                 .symbol = "t",
                 .formula = "max ½ ln(1 + between/within)/t",
                 .inputs = {{"gain", s.causes.next.gain, "nat"}},
                 .value = s.causes.next.minutes,
                 .unit = "min",
                 .source = "cover2006"});
  }
  return out;
}

VerdictOutput verdict_output(const visit::SourceVerdict& verdict,
                             Working& working,
                             const std::string& at) {
  VerdictOutput out{.warranted = verdict.warranted,
                    .microbes = verdict.microbes,
                    .not_analysed = verdict.not_analysed};
  const auto mg_L = [](units::Density d) { return d / units::milligram_per_litre(1); };
  for (const auto& s : verdict.substances) {
    const std::string path = fmt::format("{}substances[{}]", at, out.substances.size());
    out.substances.push_back({.substance = s.limit.substance,
                              .evidence = s.evidence,
                              .below = s.below,
                              .raw = s.raw,
                              .raw_high = s.raw_high,
                              .limit = s.limit.value,
                              .product_low = s.product_low,
                              .product_high = s.product_high,
                              .kind = s.limit.kind,
                              .confidence = s.limit.confidence,
                              .edition = s.limit.edition,
                              .standing = s.standing});
    const auto add = [&](const char* key,
                         const char* symbol,
                         const char* formula,
                         std::vector<WorkingInput> inputs,
                         double value,
                         std::string source) {
      working.add({.result = path + "." + key,
                   .symbol = symbol,
                   .formula = formula,
                   .inputs = std::move(inputs),
                   .value = value,
                   .unit = "mg/L",
                   .source = std::move(source)});
    };
    add("raw_mg_L", "c", "c = c_analysed", {}, mg_L(s.raw), "analysis");
    add("raw_high_mg_L",
        "c_max",
        "c_max = max_mix Σ w_k c_k e^(1.645 σ)",
        {{"c", mg_L(s.raw), "mg/L"}},
        mg_L(s.raw_high),
        std::string(kPracticeSource));
    add("limit_mg_L", "c_limit", "c_limit", {}, mg_L(s.limit.value), s.limit.edition);
    add("product_low_mg_L",
        "c_0.05",
        "P(c_p <= x) = 0.05, c_p = c s_p ρ_i/w",
        {{"c", mg_L(s.raw), "mg/L"}},
        mg_L(s.product_low),
        "lonsdale1965");
    add("product_high_mg_L",
        "c_0.95",
        "P(c_p <= x) = 0.95, c_p = c s_p ρ_i/w",
        {{"c", mg_L(s.raw), "mg/L"}},
        mg_L(s.product_high),
        "lonsdale1965");
  }
  const auto ids = [](const std::vector<base::Message>& messages) {
    std::vector<std::string> result;
    for (const auto& m : messages) result.push_back(m.id);
    return result;
  };
  for (const visit::Scale& scale : verdict.scales) {
    const std::string path = fmt::format("{}scaling[{}].index", at, out.scaling.size());
    out.scaling.push_back(
        {.mineral = scale.mineral,
         .index = {.low = scale.index.low, .middle = scale.index.middle, .high = scale.index.high},
         .low = scale.low,
         .likely = scale.likely,
         .high = scale.high,
         .with_antiscalant = scale.dosed});
    explain_band(working, path, out.scaling.back().index, 64, "plummer1982");
  }
  if (verdict.reject) {
    out.reject = RejectOutput{verdict.reject->conductivity, verdict.reject->irrigation};
    working.add({.result = at + "reject.conductivity_25_uS_cm",
                 .symbol = "κ",
                 .formula = "κ(c/(1 − Y))",
                 .inputs = {},
                 .value = verdict.reject->conductivity.si() * 1e4,
                 .unit = "µS/cm",
                 .source = "ayers1985"});
  }
  out.reasons = ids(verdict.reasons);
  out.pre_treatment = ids(verdict.pre_treatment);
  out.behind = ids(verdict.behind);
  out.cautions = ids(verdict.cautions);
  return out;
}

base::Result<MachineOutput> ask_machine(const MachineInput& in, Working& working) {
  TRY(const visit::StartUp s,
      visit::judge_start_up(in.survey, in.machine, {}, sampling_of(in.draws, in.seed)));
  return machine_output(s, working, "");
}

base::Result<AcceptOutput> ask_accept(const AcceptInput& in, Working& working) {
  TRY(const visit::StartUp s,
      visit::judge_start_up(in.survey, in.machine, in.readings, sampling_of(in.draws, in.seed)));
  return accept_output(s, working, "");
}

base::Result<VerdictOutput> ask_verdict(const VerdictInput& in, Working& working) {
  TRY(const visit::SurveyedWater surveyed, visit::surveyed_water(in.survey));
  visit::JudgedWater water = visit::judged_water(surveyed, surveyed.composition, {});
  if (in.machine) {
    TRY(const visit::StartUp s,
        visit::judge_start_up(in.survey, *in.machine, {}, sampling_of(in.draws, in.seed)));
    water = visit::judged_water(surveyed, *in.machine, s);
  }
  TRY(const visit::SourceVerdict verdict, visit::source_verdict(in.survey, water));
  return verdict_output(verdict, working, "");
}

}  // namespace drawoff::api
