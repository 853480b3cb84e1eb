// The source verdict: is reverse osmosis the right treatment for this water, what must stand in
// front of it, and what will the product hold.
//
// Each analysed substance is set against the limit of the chosen authority, in the raw water and,
// with its own passage and spread, in the product. The verdict never says that a water is safe:
// microbes are judged apart, and what was not analysed is named.
//
// First form: hardness stands for scaling (the saturation indices come later), and thresholds for
// pre-treatment are common practice, no source.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "base/message.h"
#include "visit/limits.h"
#include "visit/survey.h"

namespace drawoff::visit {

enum class Warranted {
  kCannotSay,       // what has a limit was not analysed, or not finely enough
  kDisinfectFirst,  // faecal indicators were found: nothing else matters before that
  kYes,             // something is over a limit, and the product is expected below it
  kPartly,          // something over a limit may stay over it
  kNear,            // nothing over a health limit today, something within the year's spread of one
  kTaste,           // nothing over a health limit; for taste alone
  kNo,              // nothing over any limit
};

enum class Standing {
  kBelow,         // raw water below the limit, also at its strongest
  kNearLimit,     // below, but within the year's spread of it
  kNotSeen,       // reported as below a bound that is itself over the limit
  kBroughtBelow,  // product below, with 95 % probability
  kDoubtful,      // product may be above
};

struct SubstanceVerdict {
  Limit limit;
  units::Density raw;
  units::Density product_low;  // 5 % and 95 % points
  units::Density product_high;
  Standing standing = Standing::kBelow;
};

struct SourceVerdict {
  Warranted warranted = Warranted::kNo;
  std::vector<SubstanceVerdict> substances;  // analysed ones with a limit
  std::vector<std::string> not_analysed;     // with a health limit
  std::vector<base::Message> reasons;        // why so, and what would serve instead
  std::vector<base::Message> pre_treatment;  // what must stand in front, and why
  std::vector<base::Message> cautions;       // always read
};

// `products`: equally likely compositions of the product; see machine/readings.h, or
// typical_products() where there is no machine yet.
SourceVerdict source_verdict(const SurveyEntry& survey,
                             const water::Composition& raw,
                             std::span<const water::Composition> products);

// Products of a membrane unit of the usual kind: salt passage of 6 % within a factor of 2 (90 %),
// each ion by its own ratio (common practice, no source).
std::vector<water::Composition> typical_products(const water::Composition& raw,
                                                 std::uint64_t seed,
                                                 int count);

}  // namespace drawoff::visit
