// How fast a water lays down scale at the membrane, in words: none, slow, fast, do not.
//
// What counts is the water at the wall near the reject end: the raw water less its product,
// heaped up by the flux,
//
//   c_w = c (p/(1 − Y))      Y recovery, p polarisation, CO2 as it is: it passes freely
//
// and there the saturation index of each solid. An index above zero is true at nearly every hard
// site, and units run there for a year or two: so grades, by thresholds with and without
// antiscalant (data/scale_grades.csv: common practice, no source; a local profile may change them).
#pragma once

#include <array>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "fields/field.h"
#include "inference/predict.h"
#include "water/composition.h"
#include "water/minerals.h"

namespace drawoff::visit {

enum class ScaleGrade { kNone, kSlow, kFast, kDoNot };

// From this index on it is slow, fast, not to be done.
struct ScaleGrades {
  water::Mineral mineral = water::Mineral::kCalcite;
  bool antiscalant = false;
  double slow = 0;
  double fast = 0;
  double do_not = 0;
};

struct Scale {
  water::Mineral mineral = water::Mineral::kCalcite;
  inference::Interval index;           // at the wall
  ScaleGrade low = ScaleGrade::kNone;  // of the interval's ends, without antiscalant
  ScaleGrade likely = ScaleGrade::kNone;
  ScaleGrade high = ScaleGrade::kNone;
  ScaleGrade dosed = ScaleGrade::kNone;  // likely, with antiscalant
};

struct ScalePlan {
  double recovery = 0.3;
  double strength_spread = 0;       // ln, of the salts together over the year
  units::Temperature temperature;   // the warmest: calcite lays down most then
  std::vector<ScaleGrades> grades;  // in place of the shared ones
};

// One row for each solid whose ions are in the water; `raws` equally likely waters.
std::vector<Scale> scaling_at(std::span<const water::Composition> raws, const ScalePlan& plan);

// The worst of the likely grades, with what is dosed.
ScaleGrade worst_grade(std::span<const Scale> scales, bool antiscalant);

// The highest recovery at which nothing is likely to be worse than slow; none where there is none
// from 5 % up.
std::optional<double> recovery_for_slow(std::span<const water::Composition> raws,
                                        const ScalePlan& plan,
                                        bool antiscalant);

}  // namespace drawoff::visit

namespace drawoff::fields {

template <>
struct EnumTable<water::Mineral> {
  static constexpr std::string_view name = "mineral";
  static constexpr std::array list = {choice(water::Mineral::kCalcite, "calcite"),
                                      choice(water::Mineral::kAragonite, "aragonite"),
                                      choice(water::Mineral::kGypsum, "gypsum"),
                                      choice(water::Mineral::kBarite, "barite"),
                                      choice(water::Mineral::kCelestite, "celestite"),
                                      choice(water::Mineral::kFluorite, "fluorite"),
                                      choice(water::Mineral::kSilica, "silica")};
};
template <>
struct EnumTable<visit::ScaleGrade> {
  static constexpr std::string_view name = "scale_grade";
  static constexpr std::array list = {choice(visit::ScaleGrade::kNone, "none"),
                                      choice(visit::ScaleGrade::kSlow, "slow"),
                                      choice(visit::ScaleGrade::kFast, "fast"),
                                      choice(visit::ScaleGrade::kDoNot, "do_not")};
};
template <>
struct Table<visit::ScaleGrades> {
  using T = visit::ScaleGrades;
  static constexpr std::string_view name = "scale_grades";
  static constexpr auto list =
      std::make_tuple(field("mineral", &T::mineral, kRequired),
                      field("antiscalant", &T::antiscalant),
                      field("slow", &T::slow, Range{-2, 5}, kRequired),
                      field("fast", &T::fast, Range{-2, 5}, kRequired),
                      field("do_not", &T::do_not, Range{-2, 5}, kRequired));
};

}  // namespace drawoff::fields
