// What a water is made of, at a glance: its ions as shares of the charge on either side.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "inference/predict.h"
#include "messages/catalogue.h"
#include "paper/drawing.h"
#include "water/composition.h"

namespace drawoff::api {

struct IonShare {
  water::Species species = water::Species::Ca;
  bool positive = true;
  inference::Interval meq_L;  // over the waters, equally likely
};

// The ions that carry at least a hundredth of their side, positive ones first, in a set order.
std::vector<IonShare> ion_shares(std::span<const water::Composition> waters);

// "5.7 meq/L", or "1.2–2.9 meq/L" where it is not known well.
std::string amount_in_words(const IonShare& ion, const messages::Catalogue& words);

// Two bars on one scale, positive above negative, each ion as wide as its charge; its name and,
// where it is not known well, from what to what it may be.
paper::Drawing make_up_drawing(std::span<const IonShare> shares,
                               double width,
                               const messages::Catalogue& words);

}  // namespace drawoff::api
