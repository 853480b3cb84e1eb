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

// So many turns as they are said: "1 5/16", and the form of words for so many (`is` of the message
// "blend.turns").
struct SaidTurns {
  base::Argument n;
  std::string is;
};
// As a hand counts: to the nearest sixteenth.
SaidTurns advised_turns(double turns);
// A person's own number stays as he gave it; in sixteenths only where it is of them.
SaidTurns own_turns(double turns);
// As an amount: "a quarter turn", "1 1/4 turns".
std::string turns_in_words(const SaidTurns& turns, const messages::Catalogue& words);

// As a person waits: whole minutes, at least one.
units::Time whole_minutes(units::Time t);
base::Number minutes_of(units::Time t);

// What would serve where the valve does not, best first.
std::vector<const char*> instead_of(visit::BlendStanding standing);

// That a valve was left with more raw water than was permitted then, or nobody knows how much; none
// where it was not.
std::optional<base::Message> left_with_too_much(const visit::BlendLeftEntry& left);

// How the blend was left last, in a sentence or two, and whether another setting was begun since,
// or that the only one is not finished; none where nobody turned at it.
std::optional<base::Message> left_in_words(const SiteState& state);

}  // namespace drawoff::api
