// The machines that a set of plates could be.
//
// A plate leaves open how its membrane mixes, how its tolerance fell out, what the restrictor
// really passes. A specimen is one equally likely machine on one equally likely water; a few
// hundred of them carry what is not known through to every prediction. The rating plate is
// inverted with the specimen's own channel and mixing, so that assumption and membrane agree.
//
// Spreads: data/tolerances.csv, data/element_sizes.csv, data/passage_ratios.csv, and the tolerances
// in the entry itself, read as the 5 % and 95 % points.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "machine/machine.h"
#include "machine/parameters.h"
#include "machine/plates.h"
#include "membrane/passage.h"
#include "water/composition.h"

namespace drawoff::machine {

// What is known of the factor on computed conductivities. A meter held into the raw water tells of
// the product of strength and factor far better than of either: they then come correlated.
struct ConductivityFactor {
  double log_mean = 0;
  std::optional<double> spread;  // ln; of the model as tabled if absent
  double correlation = 0;        // with the logarithm of the strength
};

// The raw water of the day, and how well it is known.
struct RawWater {
  water::Composition composition;
  units::Temperature temperature = units::celsius(25);
  double strength_spread = 0.05;    // ln, of all its salts together
  double temperature_spread = 0.5;  // [K]
  ConductivityFactor conductivity = {};
};

struct Specimen {
  Machine machine;
  Parameters<double> parameters;
  membrane::PassageRatios passage{};
  units::Velocity salt_permeability;  // B of NaCl at 25 °C; the machine's own is that of its water
  double conductivity = 1;            // factor on computed conductivities
  units::Density minerals;            // a cartridge adds to the product, as CaCO3
  std::vector<double> chance;         // what made it: see specimens_of(); none for the median
  std::size_t days = 0;               // where in it the kDayNumbers stand that belong to the day
};

// What is the day's and not the machine's: supply pressure, strength and temperature of the raw
// water.
inline constexpr std::size_t kDayNumbers = 3;

// What all specimens of one water share: as it comes, and as filters and membranes see it, behind
// the machine's softener if it has one.
struct Feed {
  water::Composition raw;
  water::Composition composition;
  FeedWater water;
};
Feed feed_of(const RawWater& raw);
Feed feed_of(const RawWater& raw, const MachineEntry& entry);

// The salt passage that an element's plate stands for: its median, and the spread of its logarithm.
struct PlatePassage {
  double median = 0;
  double spread = 0;
};
PlatePassage plate_passage(const ElementEntry& entry);

// The machine with everything at its median; false status where the plate contradicts itself.
struct Nominal {
  membrane::RatingStatus status = membrane::RatingStatus::kFound;
  Specimen specimen;
};
Nominal nominal(const MachineEntry& entry, const Feed& feed);

// `count` specimens from a seed; fewer where a drawn plate contradicts itself.
std::vector<Specimen> specimens(const MachineEntry& entry,
                                const RawWater& raw,
                                const Feed& feed,
                                std::uint64_t seed,
                                int count);

// The specimen that each set of numbers makes; none where its plate contradicts itself. A set holds
// what chance decides, as independent standard normal numbers in the order in which they are asked
// for: those of a specimen of the same machine, or others as many.
std::vector<std::optional<Specimen>> specimens_of(const MachineEntry& entry,
                                                  const RawWater& raw,
                                                  const Feed& feed,
                                                  std::span<const std::vector<double>> chances);

}  // namespace drawoff::machine
