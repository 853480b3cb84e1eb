// Two papers for the people who drink from a unit.
//
//   users    that nobody drinks yet, where something comes first; what it does and does not do,
//   with the numbers of this unit; what to look for, when to
//            call, what never to do
//   notice   for a tap, read across a room: do not drink, or drinking water (taps_are_marked)
#pragma once

#include <vector>

#include "api/papers.h"
#include "api/solved.h"
#include "base/message.h"
#include "paper/document.h"

namespace drawoff::api {

paper::Document users_sheet(const Solved& solved,
                            const PaperOptions& options,
                            const messages::Catalogue& words);
paper::Document tap_notice(const Solved& solved,
                           const PaperOptions& options,
                           const messages::Catalogue& words);

// What comes first before anyone drinks, by what was recorded, a sentence each: from the beginning
// of a start-up until the marks came off; where the unit does not run or nobody read it; where
// germs were found, something may stay over its limit, or too little is known of the water; and,
// where no start-up was recorded, where the product or its germs are to be analysed.
std::vector<base::Message> before_drinking(const Solved& solved);
// Whether nobody may drink from the taps now: something comes first.
bool taps_are_marked(const Solved& solved);

}  // namespace drawoff::api
