// The named choices of the membrane model, as rating and element ask for them.
#pragma once

#include <array>
#include <optional>
#include <string_view>

#include "fields/field.h"
#include "membrane/channel.h"
#include "water/diffusivity.h"
#include "water/osmotic_curve.h"

namespace drawoff::api {

// Pitzer is the water's true pressure; van 't Hoff's is for tables that were made with it.
enum class OsmoticModel { kPitzer, kVanTHoff };

// A water as the membrane model sees it.
struct MembraneWater {
  water::OsmoticCurve osmotic;
  membrane::Fluid<double> fluid;
};
inline MembraneWater membrane_water(const water::Composition& c,
                                    units::Temperature t,
                                    OsmoticModel model) {
  return {.osmotic = model == OsmoticModel::kVanTHoff
                         ? water::OsmoticCurve::ideal(water::total_molar(c), t)
                         : water::OsmoticCurve(c, t),
          .fluid = {.density = water::density(t).si(),
                    .viscosity = water::viscosity(t).si(),
                    .diffusivity = water::diffusivity_at(water::salt_diffusivity_25(c), t).si()}};
}

}  // namespace drawoff::api

namespace drawoff::fields {

template <>
struct EnumTable<api::OsmoticModel> {
  static constexpr std::string_view name = "osmotic_model";
  static constexpr std::array list = {choice(api::OsmoticModel::kPitzer, "pitzer"),
                                      choice(api::OsmoticModel::kVanTHoff, "van_t_hoff")};
};
template <>
struct EnumTable<membrane::MassTransferLaw> {
  static constexpr std::string_view name = "mass_transfer_law";
  static constexpr std::array list = {
      choice(membrane::MassTransferLaw::kJoined, "joined"),
      choice(membrane::MassTransferLaw::kSchockMiquel, "schock_miquel")};
};

}  // namespace drawoff::fields
