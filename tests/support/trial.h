// A simulated start-up: a site, its plates, and one true machine that they leave open.
//
// Each trial draws them with a seed that the judge does not know. Instruments err evenly within the
// bound that they were bought with.
#pragma once

#include <cstdint>
#include <optional>

#include "machine/readings.h"
#include "numerics/random.h"
#include "support/random_machine.h"
#include "visit/reading.h"

namespace drawoff::support {

struct Trial {
  TypicalCase site;
  machine::Feed feed;
  machine::Specimen truth;
  machine::Condition condition;  // in which its readings are taken
  numerics::Random random;       // for what else is drawn in this trial
};

// None where that machine does not run at all.
std::optional<Trial> trial(std::uint64_t seed, int job);

// What an instrument as usually bought shows for a true value.
visit::ReadingEntry read(machine::Point point,
                         double si,
                         const machine::Condition& condition,
                         numerics::Random& random);

}  // namespace drawoff::support
