#include "support/coverage.h"

#include <algorithm>
#include <boost/math/distributions/binomial.hpp>
#include <vector>

#include "inference/predict.h"
#include "visit/reading.h"

namespace drawoff::support {

namespace {

constexpr double kErrorOfFirstKind = 0.01;
constexpr double kLeastCoverage = 0.86;
constexpr double kMostCoverage = 0.94;

// Probability under exact coverage of a count at least as far out, both sides.
double p_value(const Count& count) {
  const boost::math::binomial exact(count.all, inference::kExpectedLevel);
  const double below = boost::math::cdf(exact, count.inside);
  const double above =
      count.inside > 0 ? boost::math::cdf(boost::math::complement(exact, count.inside - 1)) : 1.0;
  return std::min(1.0, 2 * std::min(below, above));
}

}  // namespace

std::array<Count, machine::kPointCount> counts_by_point() {
  std::array<Count, machine::kPointCount> counts{};
  for (std::size_t i = 0; i < counts.size(); ++i) {
    counts[i].name = fields::EnumTable<machine::Point>::list[i].name;
  }
  return counts;
}

void demand_coverage(Section& section, std::span<const Count> counts, bool full) {
  std::vector<Count> rows;
  for (const Count& count : counts) {
    if (count.all > 0) rows.push_back(count);
  }
  std::sort(rows.begin(), rows.end(), [](const Count& a, const Count& b) {
    return p_value(a) < p_value(b);
  });
  section.line(
      "| point | judged | inside | coverage | accepted | p |\n"
      "| --- | ---: | ---: | ---: | ---: | ---: |");
  bool accepted = !rows.empty();
  bool within = true;
  for (std::size_t rank = 0; rank < rows.size(); ++rank) {
    const Count& count = rows[rank];
    const double level = kErrorOfFirstKind / static_cast<double>(rows.size() - rank);
    const boost::math::binomial exact(count.all, inference::kExpectedLevel);
    const double low = boost::math::quantile(exact, level / 2) / count.all;
    const double high =
        boost::math::quantile(boost::math::complement(exact, level / 2)) / count.all;
    const double coverage = static_cast<double>(count.inside) / count.all;
    const double p = p_value(count);
    accepted &= p > level;
    within &= coverage >= kLeastCoverage && coverage <= kMostCoverage;
    section.line("| {} | {} | {} | {:.1f} % | {:.1f}-{:.1f} % | {:.2g} |",
                 count.name,
                 count.all,
                 count.inside,
                 100 * coverage,
                 100 * low,
                 100 * high,
                 p);
  }
  section.line("");
  section.demand(accepted, "coverage of every point inside its region (binomial, 1 % by Holm)");
  if (full) section.demand(within, "no point outside 86-94 %");
}

}  // namespace drawoff::support
