#include "machine/ensemble.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include "base/check.h"
#include "machine/tolerances.h"
#include "membrane/sizes.h"
#include "numerics/random.h"
#include "water/diffusivity.h"

namespace drawoff::machine {

namespace {

using numerics::Random;

// Standard normal numbers, or zeros for the median machine.
class Chance {
 public:
  explicit Chance(std::optional<Random> random) : random_(random) {}
  double normal() { return random_ ? random_->normal() : 0.0; }
  double uniform(double low, double high) {
    return random_ ? random_->uniform(low, high) : 0.5 * (low + high);
  }
  // A factor with this spread of its logarithm.
  double factor(double spread) { return std::exp(spread * normal()); }

 private:
  std::optional<Random> random_;
};

// 95 % point of the standard normal distribution: tolerances are read as 5 % and 95 % points.
constexpr double kNinetyFive = 1.6448536269514722;

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
  return std::exp(z < 0 ? std::log(1 - stray.low) * -z / kNinetyFive
                        : std::log(1 + stray.high) * z / kNinetyFive);
}

plumbing::Tube tube_of(const TubeEntry& entry) {
  return {.length = entry.length, .bore = entry.bore, .minor_loss = entry.minor_loss};
}

// Filters one behind the other, as one part.
plumbing::Loss filters_of(const MachineEntry& entry, bool after_membrane) {
  plumbing::Loss sum;
  for (const FilterEntry& filter : entry.filters) {
    if ((filter.kind == FilterKind::kPolish) != after_membrane) continue;
    const auto loss = plumbing::loss_from_plate({.flow = filter.flow,
                                                 .pressure = filter.loss,
                                                 .laminar_share = tolerance("filter_laminar")});
    sum.a += loss.a;
    sum.b += loss.b;
  }
  return sum;
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

// `shared` is the plate's test water where the plate names it whole; else it is drawn.
std::optional<Specimen> draw(const MachineEntry& entry,
                             const RawWater* raw,
                             const Feed& feed,
                             const membrane::RatingWater* shared,
                             Chance chance,
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
  if (entry.pump) {
    m.pump = plumbing::Pump{.open_flow = entry.pump->open_flow,
                            .rated_flow = entry.pump->rated_flow,
                            .rated_pressure = entry.pump->rated_pressure,
                            .bypass_pressure = entry.pump->bypass_pressure};
  }
  m.membranes = {.channel = channel,
                 .water = rating.water,
                 .salt = rating.salt * membrane::salt_ratio(feed.composition, passage),
                 .coefficients = coefficients,
                 .in_series = entry.element.in_series,
                 .in_parallel = entry.element.in_parallel};
  m.restrictor = plumbing::loss_from_plate(
      {.flow = entry.restrictor.flow,
       .pressure = entry.restrictor.pressure.value_or(kUsualRestrictorPressure),
       .laminar_share = restrictor_laminar(entry.restrictor.kind, chance)});
  m.drain = tube_of(entry.drain.tube);
  m.drain_height = entry.drain.height;
  if (entry.blend && entry.blend->opening > 0) {
    m.blend = Blend{.valve = plumbing::loss_from_plate(
                        {.flow = entry.blend->full_open_flow * entry.blend->opening,
                         .pressure = units::bar(1),
                         .laminar_share = tolerance("valve_laminar")}),
                    .check_valve = entry.blend->check_valve};
  }
  m.product_check_valve = entry.product.check_valve;
  m.product = tube_of(entry.product.tube);
  m.product_height = entry.product.height;
  m.product_pressure = entry.product.vessel_pressure;
  m.housing_rating = entry.housing_rating.value_or(kUsualHousingRating);

  p[P::kRestrictorFlow] = chance.factor(entry.restrictor.tolerance / kNinetyFive);
  p[P::kPumpFlow] = chance.factor(tolerance("pump_flow_spread"));
  p[P::kPreFilterLoss] = chance.factor(tolerance("filter_loss_spread"));
  p[P::kPostFilterLoss] = chance.factor(tolerance("filter_loss_spread"));
  p[P::kSupplyLoss] = chance.factor(tolerance("supply_loss_spread"));
  p[P::kDrainLoss] = chance.factor(tolerance("drain_loss_spread"));
  p[P::kBlendFlow] = chance.factor(tolerance("blend_flow_spread"));
  const double conductivity_z = chance.normal();
  const double gauge = entry.supply.pressure.si();
  const double off = entry.supply.uncertainty.si() / kNinetyFive * chance.normal();
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
  return s;
}

// The plate's test water, where the plate leaves nothing of it open.
std::optional<membrane::RatingWater> plate_water(const ElementEntry& element) {
  if (!element.test_salt || !element.test_temperature) return std::nullopt;
  Chance median{std::nullopt};
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

Feed feed_of(const RawWater& raw) {
  return {.composition = raw.composition,
          .water = {.osmotic = std::make_shared<const water::OsmoticCurve>(raw.composition,
                                                                           raw.temperature),
                    .temperature = raw.temperature,
                    .diffusivity = water::salt_diffusivity_25(raw.composition)}};
}

Nominal nominal(const MachineEntry& entry, const Feed& feed) {
  const auto shared = plate_water(entry.element);
  const auto s = draw(entry,
                      nullptr,
                      feed,
                      shared ? &*shared : nullptr,
                      Chance(std::nullopt),
                      membrane::typical_passage());
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
    Random passage(seed, stream);
    const auto s = draw(entry,
                        &raw,
                        feed,
                        shared ? &*shared : nullptr,
                        Chance(Random(seed, stream + 1)),
                        membrane::draw_passage(passage));
    if (s) result.push_back(*s);
  }
  return result;
}

}  // namespace drawoff::machine
