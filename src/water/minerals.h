// Solids that a water may lay down, and their solubility products: data/minerals.csv.
#pragma once

#include <array>
#include <string>

#include "water/carbonate.h"
#include "water/complexes.h"

namespace drawoff::water {

enum class Mineral : int { kCalcite, kAragonite, kGypsum, kBarite, kCelestite, kFluorite, kSilica };
inline constexpr int kMineralCount = static_cast<int>(Mineral::kSilica) + 1;

struct MineralData {
  std::string key;  // "calcite"
  Parts parts;
  int water = 0;  // molecules of water in it
  LogK log_k;     // solubility product, activities in mol/kg
  std::string source;
  Confidence confidence = Confidence::kMemory;
};

// The row of data/minerals.csv, in the order of the enumeration.
const MineralData& mineral(Mineral m);

}  // namespace drawoff::water
