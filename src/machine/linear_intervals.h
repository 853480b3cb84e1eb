// Intervals from exact derivatives: a few solves instead of hundreds, where the machine is straight
// enough over what is not known of it.
//
// What varies between specimens, as logarithms of factors and as offsets θ (the parameters of
// parameters.h at the water's temperature, and the factor on computed conductivities), has a mean m
// and a covariance C over the specimens. They follow from the plates and need no solve. With the
// exact slope J of an observable y (logarithm of a flow or quality, pressure) at the median
// machine,
//
//   y ~ N(y₀ + J m, J C Jᵀ),   90 % interval: mean ± 1.645 √(J C Jᵀ)      (first order)
//
// A quality moves by its strength as a whole: how the ions shift against each other is left out.
//
// Whether that holds is asked of the model itself, at the two ends of the interval, where θ most
// likely is m ± 1.645 C Jᵀ/√(J C Jᵀ): it holds where the model meets the line there within
// kMostBent of the half width. Elsewhere, and for a machine with parts whose spread is in no
// parameter, sampling is the only way.
#pragma once

#include <array>
#include <optional>
#include <span>
#include <vector>

#include "machine/readings.h"

namespace drawoff::machine {

// Beyond this share of the half width the line has missed the model.
inline constexpr double kMostBent = 0.15;

inline constexpr std::size_t kVaryingCount = kParameterCount + 1;

// Mean and covariance of θ over the specimens of one machine on one water.
struct Variation {
  bool whole = false;  // false where the specimens differ in what no parameter says
  std::array<double, kVaryingCount> mean{};
  std::array<std::array<double, kVaryingCount>, kVaryingCount> covariance{};
};
Variation variation_of(const Specimen& median,
                       std::span<const Specimen> specimens,
                       const Feed& feed);

struct LinearInterval {
  double low = 0;  // 90 %, SI
  double middle = 0;
  double high = 0;
};

// By point; none where the machine does not run so, or where the line does not hold.
std::array<std::optional<LinearInterval>, kPointCount> linear_intervals(const Specimen& median,
                                                                        const Variation& variation,
                                                                        const Feed& feed,
                                                                        const Condition& condition);

}  // namespace drawoff::machine
