// The blend in words: how a hand counts turns, what would serve in a valve's place, how it was
// left.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "api/site_state.h"
#include "messages/catalogue.h"

namespace drawoff::api {

// Cautions of every setting, whatever the water.
inline constexpr std::array<const char*, 3> kWhileSetting = {
    "blend.caution.to_waste", "blend.caution.rest", "blend.caution.local_rules"};

// "1 5/16": as a hand counts turns.
std::string in_sixteenths(double turns);
// The same as an amount: "a quarter turn", "1 1/4 turns".
std::string turns_in_words(double turns, const messages::Catalogue& words);

// What would serve where the valve does not, best first.
std::vector<const char*> instead_of(visit::BlendStanding standing);

// How the blend was left last, in a sentence or two, and whether another setting was begun since,
// or that the only one is not finished; none where nobody turned at it.
std::optional<base::Message> left_in_words(const SiteState& state);

}  // namespace drawoff::api
