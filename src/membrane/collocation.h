// Three Gauss-Legendre points along a leaf, on [0, 1], and what joins them: collocation of order
// six (Butcher's coefficients). [hairer1993]
//
//   y(x_i) = y(0) + Σ_j kStage[i][j] y'(x_j),   y(1) = y(0) + Σ_j kWeight[j] y'(x_j)
#pragma once

#include <array>

namespace drawoff::membrane {

inline constexpr int kPoints = 3;
inline constexpr double kRoot15 = 3.872983346207417;
inline constexpr std::array<double, kPoints> kWeight{5.0 / 18, 4.0 / 9, 5.0 / 18};
inline constexpr std::array<double, kPoints> kPlace{0.5 - kRoot15 / 10, 0.5, 0.5 + kRoot15 / 10};
inline constexpr std::array<std::array<double, kPoints>, kPoints> kStage{{
    {5.0 / 36, 2.0 / 9 - kRoot15 / 15, 5.0 / 36 - kRoot15 / 30},
    {5.0 / 36 + kRoot15 / 24, 2.0 / 9, 5.0 / 36 - kRoot15 / 24},
    {5.0 / 36 + kRoot15 / 30, 2.0 / 9 + kRoot15 / 15, 5.0 / 36},
}};

}  // namespace drawoff::membrane
