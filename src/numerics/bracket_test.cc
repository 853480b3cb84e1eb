#include "numerics/bracket.h"

#include <gtest/gtest.h>

#include <cmath>
#include <functional>
#include <limits>
#include <vector>

namespace drawoff::numerics {
namespace {

struct Problem {
  const char* name;
  std::function<double(double)> f;
  Bracket bracket;
  double root;
  double slope;  // |f'| near the root, to turn a width into a residual
};

// Functions with roots in closed form, some of the kinds that the method's paper tries (from memory
// [alefeld1995]); the exponential's root to first order in e^−20, so to 1e-20.
std::vector<Problem> problems() {
  return {
      {"cubic", [](double x) { return x * x * x - 2; }, {.low = 0, .high = 5}, std::cbrt(2.0), 4.8},
      {"sine",
       [](double x) { return std::sin(x) - 0.5; },
       {.low = 0, .high = 1.5},
       std::asin(0.5),
       0.87},
      {"ninth power",
       [](double x) { return std::pow(x, 9) - 1e-3; },
       {.low = -1, .high = 10},
       std::pow(1e-3, 1.0 / 9),
       0.04},
      {"exponential",
       [](double x) { return 2 * x * std::exp(-20.0) - 2 * std::exp(-20 * x) + 1; },
       {.low = 0, .high = 1},
       std::log(2.0) / 20 * (1 - std::exp(-20.0) / 10),
       20},
      {"kink",
       [](double x) { return x < 1 ? x - 1 : 40 * (x - 1); },
       {.low = -3, .high = 7},
       1,
       40},
      {"falling",
       [](double x) { return 8e5 - x * std::fabs(x) * 1e3; },
       {.low = -100, .high = 300},
       std::sqrt(800.0),
       5.7e4},
  };
}

// The root lies within the asked width (relative to magnitude or scale 1), and the function put
// back is as small as that width allows; the thirteenth digit of the given root is the limit.
TEST(Bracket, answer_solves_the_equation) {
  for (const auto& p : problems()) {
    SCOPED_TRACE(p.name);
    const auto r = find_root(p.f, p.bracket);
    ASSERT_EQ(r.status, BracketStatus::kFound);
    const double width = p.bracket.tolerance * std::fmax(std::fabs(p.root), 1.0);
    EXPECT_NEAR(r.root, p.root, width + 1e-12 * std::fabs(p.root));
    EXPECT_LE(std::fabs(p.f(r.root)), 2 * p.slope * width + 1e-15);
    EXPECT_LE(r.evaluations, 40);
  }
}

// Of higher order: an answer of twice the digits costs a few more evaluations, where halving would
// need one a bit (17 for five digits). The paper's asymptotic efficiency index is 1.65, so each
// evaluation multiplies the digits by about that; four evaluations double them with room.
TEST(Bracket, converges_faster_than_halving) {
  for (const auto& p : problems()) {
    if (std::string_view(p.name) == "kink") continue;  // not smooth: no order to speak of
    SCOPED_TRACE(p.name);
    Bracket coarse = p.bracket;
    coarse.tolerance = 1e-6;
    Bracket fine = p.bracket;
    fine.tolerance = 1e-12;
    const auto a = find_root(p.f, coarse);
    const auto b = find_root(p.f, fine);
    EXPECT_LE(b.evaluations - a.evaluations, 4);
  }
}

TEST(Bracket, a_root_at_an_end_is_found_at_once) {
  const auto line = [](double x) { return x; };
  const auto low = find_root(line, {.low = 0, .high = 3});
  EXPECT_EQ(low.status, BracketStatus::kFound);
  EXPECT_EQ(low.root, 0);
  EXPECT_EQ(low.evaluations, 1);
  const auto high = find_root(line, {.low = -3, .high = 0});
  EXPECT_EQ(high.status, BracketStatus::kFound);
  EXPECT_EQ(high.root, 0);
}

TEST(Bracket, says_why_there_is_no_root) {
  EXPECT_EQ(find_root([](double x) { return x * x + 1; }, {.low = -1, .high = 2}).status,
            BracketStatus::kNoSignChange);
  EXPECT_EQ(find_root([](double) { return std::numeric_limits<double>::quiet_NaN(); },
                      {.low = -1, .high = 2})
                .status,
            BracketStatus::kNoSignChange);
  EXPECT_EQ(
      find_root([](double x) { return x * x * x - 2; }, {.low = 0, .high = 5, .steps = 2}).status,
      BracketStatus::kTooManySteps);
}

}  // namespace
}  // namespace drawoff::numerics
