// The source verdict: is reverse osmosis the right treatment for this water, what must stand in
// front of it, what will the product hold, and what is the reject good for.
//
// Each substance with a limit is set against that limit in the raw water, as strong as it gets over
// the year and over the seasons' mixes of sources, and in the product with its own passage and
// spread. How well a substance is known is part of the answer (Evidence): a laboratory's result,
// the supplier's report, a strip, what the place usually holds, nothing. A number that is only
// likely, from a meter reading or from other readings, is no evidence. The verdict never says that
// a water is safe: microbes are judged apart (microbes.h), and what was not analysed is named.
// docs/models/verdict.md
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "base/message.h"
#include "visit/in_building.h"
#include "visit/limits.h"
#include "visit/microbes.h"
#include "visit/reject_use.h"
#include "visit/scaling.h"
#include "visit/surveyed_water.h"

namespace drawoff::visit {

enum class Warranted {
  kCannotSay,       // what has a limit was not analysed, or not finely enough
  kDisinfectFirst,  // faecal indicators were found: nothing else matters before that
  kYes,             // something is over a limit, and the product is expected below it
  kPartly,          // something over a limit may stay over it
  kNotEnough,       // something over a limit will stay over it
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
  kStaysAbove,    // product above, with 95 % probability
};

// Best first.
enum class Evidence {
  kLaboratory,  // this source
  kSupplier,    // its network
  kStrip,       // a strip or drop test at the tap
  kLocal,       // the upper value of the local profile
  kNone,
};

struct SubstanceVerdict {
  Limit limit;
  Evidence evidence = Evidence::kNone;
  units::Density raw;  // likely, as it is judged
  // As the analysis gives it (evidence.h); none where sources mix.
  std::optional<units::Density> stated;
  bool below = false;          // only seen to be below twice that
  units::Density raw_high;     // 95 % point, at its strongest and in the worst mix
  units::Density product_low;  // 5 % and 95 % points
  units::Density product_high;
  Standing standing = Standing::kBelow;
};

struct SourceVerdict {
  Warranted warranted = Warranted::kNo;
  Microbes microbes = Microbes::kNothingSpeaks;
  std::vector<SubstanceVerdict> substances;  // those of which something is known
  std::vector<std::string> not_analysed;     // with a health limit
  std::vector<Scale> scales;                 // at the planned recovery
  std::optional<RejectUse> reject;           // none where only the strength is known
  std::vector<base::Message> reasons;        // why so, and what would serve instead
  std::vector<base::Message> pre_treatment;  // what must stand in front, and why
  std::vector<base::Message> behind;         // what product and building ask for behind the unit
  std::vector<base::Message> cautions;       // always read
};

// What a unit makes of a raw water.
struct Made {
  water::Composition raw;
  water::Composition product;
};

// Whether the amount that is judged, with charges balanced and at the day's strength, is worth
// saying beside that of the analysis.
bool was_moved(const SubstanceVerdict& substance);

// The water that is judged: that of the day, and what equally likely units make of it.
struct JudgedWater {
  water::Composition middle;
  std::vector<water::Composition> members;  // equally likely, about the middle
  std::vector<Made> made;
  double strength_spread = 0;  // ln
  units::Temperature temperature;
  std::optional<double> recovery = std::nullopt;  // at which the site's unit runs
  std::optional<UnitFlow> unit = std::nullopt;    // what that unit makes
};

// With what the site's unit makes, or a usual one where there is none (`made` empty).
JudgedWater judged_water(const SurveyedWater& surveyed,
                         const water::Composition& day,
                         std::vector<Made> made);

// Refuses a further source whose analysis is none.
base::Result<SourceVerdict> source_verdict(const SurveyEntry& survey, const JudgedWater& water);

// Units of the usual kind: salt passage of 6 % within a factor of 2 (90 %), each ion by its own
// ratio (common practice, no source).
std::vector<Made> typically_made(const water::Composition& raw, std::uint64_t seed, int count);

}  // namespace drawoff::visit
