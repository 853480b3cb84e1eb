#include "machine/ensemble.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

#include "base/check.h"
#include "machine/tolerances.h"
#include "machine/treatment.h"
#include "membrane/sizes.h"
#include "numerics/random.h"
#include "water/diffusivity.h"

namespace drawoff::machine {

namespace {

using numerics::Random;

// Standard normal numbers, one after the other: new ones, given ones, or zeros for the median
// machine.
class Chance {
 public:
  Chance() = default;
  explicit Chance(Random random) : random_(random) {}
  explicit Chance(std::span<const double> given) : given_(given) {}

  double normal() {
    double z = 0;
    if (random_) {
      z = random_->normal();
    } else if (taken_.size() < given_.size()) {
      z = given_[taken_.size()];
    }
    taken_.push_back(z);
    return z;
  }
  double uniform(double low, double high) {
    return low + (high - low) * numerics::normal_probability(normal());
  }
  // A factor with this spread of its logarithm.
  double factor(double spread) { return std::exp(spread * normal()); }

  const std::vector<double>& taken() const { return taken_; }

 private:
  std::optional<Random> random_;
  std::span<const double> given_;
  std::vector<double> taken_;
};

// Tolerances are read as 5 % and 95 % points.
using numerics::kNormal95;

// Temperature coefficients beyond these are no membrane's [K] (from memory).
constexpr double kLeastCoefficient = 1800;
constexpr double kMostCoefficient = 3600;

// The shares by which the 5 % and 95 % points of a factor stray from 1.
struct Stray {
  double low = 0;
  double high = 0;
};

// Two half log-normals: never negative, whatever the tolerance.
double asymmetric_factor(const Stray& stray, double z) {
  return std::exp(z < 0 ? std::log(1 - stray.low) * -z / kNormal95
                        : std::log(1 + stray.high) * z / kNormal95);
}

plumbing::Tube tube_of(const TubeEntry& entry) {
  return {.length = entry.length, .bore = entry.bore, .minor_loss = entry.minor_loss};
}

// Filters one behind the other, as one part.
plumbing::Loss filters_of(const MachineEntry& entry, bool after) {
  plumbing::Loss sum;
  for (const FilterEntry& filter : entry.filters) {
    if (after_membrane(filter.kind) != after) continue;
    const auto loss = plumbing::loss_from_plate({.flow = filter.flow,
                                                 .pressure = filter.loss,
                                                 .laminar_share = tolerance("filter_laminar")});
    sum.a += loss.a;
    sum.b += loss.b;
  }
  return sum;
}

bool has_filter(const MachineEntry& entry, FilterKind kind) {
  return std::any_of(entry.filters.begin(), entry.filters.end(), [&](const FilterEntry& filter) {
    return filter.kind == kind;
  });
}

plumbing::Pump pump_of(const PumpEntry& entry) {
  const bool series = entry.arrangement == Arrangement::kSeries;
  const units::Voltage plate = entry.plate_voltage.value_or(kUsualPumpVoltage);
  return {.open_flow = entry.open_flow,
          .rated_flow = entry.rated_flow,
          .rated_pressure = entry.rated_pressure,
          .bypass_pressure = entry.bypass_pressure,
          .kind = entry.kind,
          .in_series = series ? entry.count : 1,
          .in_parallel = series ? 1 : entry.count,
          .speed = entry.voltage ? plumbing::speed_at(*entry.voltage, plate) : 1};
}

// The metering valve at its setting, and what it lets through when shut.
std::optional<Blend> blend_of(const BlendEntry& entry) {
  auto valve = [&](double share, std::string_view laminar) {
    return plumbing::loss_from_plate({.flow = entry.full_open_flow * share,
                                      .pressure = units::bar(1),
                                      .laminar_share = tolerance(laminar)});
  };
  if (!(entry.opening > 0) && !(entry.seat_leak > 0)) return std::nullopt;
  Blend blend{.check_valve = entry.check_valve,
              .pressurised = entry.from == BlendFrom::kPressurised};
  if (entry.seat_leak > 0) blend.shut = valve(entry.seat_leak, "seat_leak_laminar");
  blend.valve = entry.opening > 0 ? valve(entry.opening, "valve_laminar") : *blend.shut;
  return blend;
}

double restrictor_laminar(RestrictorKind kind, Chance& chance) {
  const double trade =
      chance.uniform(tolerance("restrictor_laminar_low"), tolerance("restrictor_laminar_high"));
  switch (kind) {
    case RestrictorKind::kTrade:
      return trade;
    case RestrictorKind::kOrifice:
      return tolerance("orifice_laminar");
    case RestrictorKind::kCapillary:
      return tolerance("capillary_laminar");
  }
  return trade;
}

membrane::RatingTest rating_test(const ElementEntry& entry, Chance& chance) {
  const double flow = asymmetric_factor(
      {.low = entry.flow_tolerance_low, .high = entry.flow_tolerance_high}, chance.normal());
  const double passage_z = chance.normal();
  const PlatePassage plate = plate_passage(entry);
  const double passage = std::min(0.9, plate.median * std::exp(plate.spread * passage_z));

  const double salt = chance.factor(entry.test_salt ? 0 : tolerance("test_salt_missing_spread"));
  const double warmer =
      (entry.test_temperature ? 0 : tolerance("test_temperature_missing_spread")) * chance.normal();
  const double recovery =
      chance.factor(entry.test_recovery ? 0 : tolerance("test_recovery_missing_spread"));
  return {.permeate_flow = entry.permeate_flow * flow,
          .rejection = 1 - passage,
          .pressure = entry.test_pressure,
          .salt = entry.test_salt.value_or(kUsualTestSalt) * salt,
          .temperature = units::Temperature(
              entry.test_temperature.value_or(kUsualTestTemperature).si() + warmer),
          .recovery = std::min(0.6, entry.test_recovery.value_or(kUsualTestRecovery) * recovery)};
}

plumbing::Loss scaled(const plumbing::Loss& loss, double factor) {
  return {.a = loss.a * factor, .b = loss.b * factor};
}

// A loss at this many times the flow.
plumbing::Loss with_flow(const plumbing::Loss& loss, double factor) {
  return {.a = loss.a / factor, .b = loss.b / (factor * factor)};
}

// A membrane in its first hours lets more through: ln factor x e^(−t/τ), x above zero.
void draw_settling(const units::Time& run_time, Chance& chance, Specimen& s) {
  const double left = std::exp(-(run_time / units::hour(tolerance("settling_time"))));
  const double water_z = chance.normal();
  const double salt_z = chance.normal();
  auto excess = [&](double median, double spread, double z) {
    return std::exp(left * std::fmax(0.0, median + spread * z));
  };
  Membranes& m = s.machine.membranes;
  m.water =
      m.water * excess(tolerance("settling_flow"), tolerance("settling_flow_spread"), water_z);
  const double salt =
      excess(tolerance("settling_passage"), tolerance("settling_passage_spread"), salt_z);
  m.salt = m.salt * salt;
  s.salt_permeability = s.salt_permeability * salt;
}

// What not every machine has. Drawn last and only if there, so that the machines without it stay
// the specimens they were.
void draw_further_parts(const MachineEntry& entry, Chance& chance, Specimen& s) {
  Machine& m = s.machine;
  if (entry.raw_tank) {
    m.supply.height += units::metre(tolerance("raw_tank_level_spread") * chance.normal());
  }
  if (entry.regulator) {
    m.regulator = plumbing::Regulator{
        .set_pressure =
            entry.regulator->set_pressure * chance.factor(tolerance("regulator_set_spread")),
        .droop = entry.regulator->droop * chance.factor(tolerance("regulator_droop_spread")),
        .flow = entry.regulator->flow};
  }
  auto add_valve = [&](const plumbing::LossPlate& plate) {
    const auto loss =
        scaled(plumbing::loss_from_plate(plate), chance.factor(tolerance("feed_valve_spread")));
    m.feed_valves.a += loss.a;
    m.feed_valves.b += loss.b;
  };
  if (entry.solenoid) {
    add_valve({.flow = entry.solenoid->flow,
               .pressure = entry.solenoid->loss,
               .laminar_share = tolerance("solenoid_laminar")});
  }
  if (entry.hydraulic_shut_off) {
    add_valve({.flow = units::litre_per_hour(tolerance("shut_off_flow")),
               .pressure = units::bar(tolerance("shut_off_loss")),
               .laminar_share = tolerance("valve_laminar")});
  }
  if (entry.flush_valve) {
    m.flush_valve =
        with_flow(plumbing::loss_from_plate(
                      {.flow = entry.flush_valve->flow,
                       .pressure = entry.flush_valve->pressure.value_or(kUsualFlushPressure),
                       .laminar_share = tolerance("solenoid_laminar")}),
                  chance.factor(tolerance("flush_flow_spread")));
  }
  if (entry.recirculation && entry.recirculation->opening > 0) {
    m.recirculation =
        with_flow(plumbing::loss_from_plate(
                      {.flow = entry.recirculation->full_open_flow * entry.recirculation->opening,
                       .pressure = units::bar(1),
                       .laminar_share = tolerance("valve_laminar")}),
                  chance.factor(tolerance("recirculation_flow_spread")));
  }
  if (m.blend && m.blend->shut) {
    m.blend->shut = with_flow(*m.blend->shut, chance.factor(tolerance("seat_leak_spread")));
    if (!(entry.blend->opening > 0)) m.blend->valve = *m.blend->shut;
  }
  if (entry.element.run_time) draw_settling(*entry.element.run_time, chance, s);
  if (has_filter(entry, FilterKind::kMineral)) {
    s.minerals = units::milligram_per_litre(tolerance("mineral_dose")) *
                 chance.factor(tolerance("mineral_dose_spread"));
  }
}

// `shared` is the plate's test water where the plate names it whole; else it is drawn.
std::optional<Specimen> draw(const MachineEntry& entry,
                             const RawWater* raw,
                             const Feed& feed,
                             const membrane::RatingWater* shared,
                             Chance& chance,
                             const membrane::PassageRatios& passage) {
  using P = Parameter;
  const auto* size = membrane::find_element_size(entry.element.size);
  CHECK(size != nullptr);

  Specimen s;
  s.passage = passage;
  auto& p = s.parameters;
  membrane::Channel channel = size->channel;
  channel.area = channel.area * chance.factor(size->area_spread);
  channel.length = channel.length * chance.factor(size->length_spread);
  channel.height = channel.height * chance.factor(size->height_spread);
  p[P::kMassTransfer] = chance.factor(size->mass_transfer_spread);
  p[P::kChannelFriction] = chance.factor(tolerance("channel_friction_spread"));
  const double spread = tolerance("temperature_coefficient_spread");
  auto coefficient = [&](std::string_view what) {
    return std::clamp(
        tolerance(what) + spread * chance.normal(), kLeastCoefficient, kMostCoefficient);
  };
  membrane::TemperatureCoefficients coefficients;
  coefficients.water = coefficient("water_temperature_coefficient");
  coefficients.salt = coefficient("salt_temperature_coefficient");

  const auto test = rating_test(entry.element, chance);
  const auto rating =
      membrane::invert_rating(test,
                              shared != nullptr ? *shared : membrane::rating_water(test),
                              {.channel = channel,
                               .mass_transfer = p[P::kMassTransfer],
                               .channel_friction = p[P::kChannelFriction],
                               .coefficients = coefficients});
  if (rating.status != membrane::RatingStatus::kFound) return std::nullopt;
  s.salt_permeability = rating.salt;

  Machine& m = s.machine;
  m.supply = {.pressure = entry.supply.pressure,
              .height = entry.supply.height,
              .tube = tube_of(entry.supply.tube)};
  m.pre_filters = filters_of(entry, false);
  m.post_filters = filters_of(entry, true);
  if (entry.raw_tank) {
    m.supply.pressure = units::pascal(0);
    m.supply.height = entry.raw_tank->level;
  }
  if (entry.pump) m.pump = pump_of(*entry.pump);
  m.membranes = {.channel = channel,
                 .water = rating.water,
                 .salt = rating.salt * membrane::salt_ratio(feed.composition, passage),
                 .coefficients = coefficients,
                 .in_series = entry.element.in_series,
                 .in_parallel = entry.element.in_parallel};
  for (const PositionEntry& position : entry.element.positions) {
    m.membranes.positions.push_back({.water_permeability = position.water_permeability,
                                     .salt_permeability = position.salt_permeability});
  }
  m.restrictor = plumbing::loss_from_plate(
      {.flow = entry.restrictor.flow,
       .pressure = entry.restrictor.pressure.value_or(kUsualRestrictorPressure),
       .laminar_share = restrictor_laminar(entry.restrictor.kind, chance)});
  m.drain = tube_of(entry.drain.tube);
  m.drain_height = entry.drain.height;
  if (entry.blend) m.blend = blend_of(*entry.blend);
  m.product_check_valve = entry.product.check_valve;
  m.product = tube_of(entry.product.tube);
  m.product_height = entry.product.height;
  m.product_pressure = entry.product.vessel_pressure;
  m.housing_rating = entry.housing_rating.value_or(kUsualHousingRating);

  p[P::kRestrictorFlow] = chance.factor(entry.restrictor.tolerance / kNormal95);
  p[P::kPumpFlow] = chance.factor(tolerance("pump_flow_spread"));
  p[P::kPreFilterLoss] = chance.factor(tolerance("filter_loss_spread"));
  p[P::kPostFilterLoss] = chance.factor(tolerance("filter_loss_spread"));
  p[P::kSupplyLoss] = chance.factor(tolerance("supply_loss_spread"));
  p[P::kDrainLoss] = chance.factor(tolerance("drain_loss_spread"));
  p[P::kBlendFlow] = chance.factor(tolerance("blend_flow_spread"));
  const double conductivity_z = chance.normal();
  s.days = chance.taken().size();
  const double gauge = m.supply.pressure.si();
  const double off = entry.supply.uncertainty.si() / kNormal95 * chance.normal();
  p[P::kSupplyPressure] = gauge > 0 ? std::fmax(0.0, 1 + off / gauge) : 1.0;
  const double strength_z = chance.normal();
  const double temperature_z = chance.normal();
  if (raw != nullptr) {
    p[P::kFeedSalt] = std::exp(raw->strength_spread * strength_z);
    p[P::kTemperature] = raw->temperature_spread * temperature_z;
    const ConductivityFactor& factor = raw->conductivity;
    const double z = factor.correlation * strength_z +
                     std::sqrt(1 - factor.correlation * factor.correlation) * conductivity_z;
    s.conductivity = std::exp(factor.log_mean +
                              factor.spread.value_or(tolerance("conductivity_model_spread")) * z);
  }
  draw_further_parts(entry, chance, s);
  return s;
}

// By chance: the membrane's passage, and all else.
std::optional<Specimen> draw(const MachineEntry& entry,
                             const RawWater& raw,
                             const Feed& feed,
                             const std::optional<membrane::RatingWater>& shared,
                             Chance& passage,
                             Chance& rest) {
  std::array<double, water::kSpeciesCount> ratios{};
  for (double& z : ratios) z = passage.normal();
  auto s = draw(entry, &raw, feed, shared ? &*shared : nullptr, rest, membrane::passage_of(ratios));
  if (!s) return s;
  s->chance = passage.taken();
  s->days += s->chance.size();
  s->chance.insert(s->chance.end(), rest.taken().begin(), rest.taken().end());
  return s;
}

// The plate's test water, where the plate leaves nothing of it open.
std::optional<membrane::RatingWater> plate_water(const ElementEntry& element) {
  if (!element.test_salt || !element.test_temperature) return std::nullopt;
  Chance median;
  return membrane::rating_water(rating_test(element, median));
}

}  // namespace

PlatePassage plate_passage(const ElementEntry& entry) {
  if (entry.rejection_is == RejectionKind::kInService) {
    return {.median = 1 - entry.rejection.value_or(kInServiceRejection),
            .spread = tolerance("rejection_in_service_spread")};
  }
  if (!entry.rejection) {
    return {.median = 1 - kUsualRejection, .spread = tolerance("rejection_missing_spread")};
  }
  if (entry.rejection_is == RejectionKind::kMinimum) {
    return {.median = (1 - *entry.rejection) * tolerance("rejection_minimum_ratio"),
            .spread = tolerance("rejection_minimum_spread")};
  }
  return {.median = 1 - *entry.rejection, .spread = tolerance("rejection_nominal_spread")};
}

Feed feed_of(const RawWater& raw) { return feed_of(raw, {}); }

Feed feed_of(const RawWater& raw, const MachineEntry& entry) {
  const auto fed = has_filter(entry, FilterKind::kSoftener)
                       ? softened(raw.composition, tolerance("softener_leakage"))
                       : raw.composition;
  return {.raw = raw.composition,
          .composition = fed,
          .water = {.osmotic = std::make_shared<const water::OsmoticCurve>(fed, raw.temperature),
                    .temperature = raw.temperature,
                    .diffusivity = water::salt_diffusivity_25(fed)}};
}

Nominal nominal(const MachineEntry& entry, const Feed& feed) {
  const auto shared = plate_water(entry.element);
  Chance median;
  const auto s =
      draw(entry, nullptr, feed, shared ? &*shared : nullptr, median, membrane::typical_passage());
  if (!s) return {membrane::RatingStatus::kContradicts, {}};
  return {membrane::RatingStatus::kFound, *s};
}

std::vector<Specimen> specimens(const MachineEntry& entry,
                                const RawWater& raw,
                                const Feed& feed,
                                std::uint64_t seed,
                                int count) {
  const auto shared = plate_water(entry.element);
  std::vector<Specimen> result;
  result.reserve(static_cast<std::size_t>(count));
  for (int i = 0; i < count; ++i) {
    // Two streams a specimen: the membrane's passage, and all else.
    const auto stream = 2 * static_cast<std::uint64_t>(i);
    Chance passage(Random(seed, stream));
    Chance rest(Random(seed, stream + 1));
    if (auto s = draw(entry, raw, feed, shared, passage, rest)) result.push_back(*std::move(s));
  }
  return result;
}

std::vector<std::optional<Specimen>> specimens_of(const MachineEntry& entry,
                                                  const RawWater& raw,
                                                  const Feed& feed,
                                                  std::span<const std::vector<double>> chances) {
  const auto shared = plate_water(entry.element);
  std::vector<std::optional<Specimen>> result;
  result.reserve(chances.size());
  for (const auto& chance : chances) {
    const std::span<const double> all(chance);
    CHECK(all.size() >= water::kSpeciesCount);
    Chance passage(all.first<water::kSpeciesCount>());
    Chance rest(all.subspan(water::kSpeciesCount));
    result.push_back(draw(entry, raw, feed, shared, passage, rest));
  }
  return result;
}

}  // namespace drawoff::machine
