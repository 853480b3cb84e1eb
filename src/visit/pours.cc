#include "visit/pours.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>

#include "base/check.h"
#include "fields/errors.h"
#include "numerics/bracket.h"
#include "numerics/random.h"

namespace drawoff::visit {
namespace {

using base::Message;
using base::Number;

constexpr double kHand = 0.2;  // [s] at start and at stop, one standard deviation; from memory
constexpr double kShort = 5;   // [s]
constexpr double kFar = 3;     // standard uncertainties

// 95 % points of Student's t, 1 to 19 degrees of freedom. [jcgm2008, table G.2]
constexpr std::array<double, kMostPours - 1> kStudent = {6.31,
                                                         2.92,
                                                         2.35,
                                                         2.13,
                                                         2.02,
                                                         1.94,
                                                         1.89,
                                                         1.86,
                                                         1.83,
                                                         1.81,
                                                         1.80,
                                                         1.78,
                                                         1.77,
                                                         1.76,
                                                         1.75,
                                                         1.75,
                                                         1.74,
                                                         1.73,
                                                         1.73};

double student(std::size_t pours) { return kStudent[std::min(pours - 2, kStudent.size() - 1)]; }

struct Jug {
  double up_to;  // [m³]
  double mark;
};
// Common practice, no source: a syringe, a cylinder, a beaker, a kitchen jug, a big jug, a bucket,
// a barrel.
constexpr Jug kJugs[] = {{25e-6, 1e-6},
                         {100e-6, 5e-6},
                         {250e-6, 10e-6},
                         {1e-3, 50e-6},
                         {3e-3, 100e-6},
                         {12e-3, 500e-6},
                         {std::numeric_limits<double>::infinity(), 1e-3}};

// The smallest that will do, else the largest.
template <class Will>
const Jug* jug_where(Will will) {
  return std::find_if(std::begin(kJugs), std::end(kJugs) - 1, will);
}

double read_to(double mark) { return mark / (2 * std::sqrt(3.0)); }
constexpr double kTimed = std::numbers::sqrt2 * kHand;  // [s] of the time between them

double mark_of(const Pour& pour, std::optional<units::Volume> mark) {
  return mark.value_or(usual_mark(pour.volume)).si();
}
double flow_of(const Pour& pour) { return pour.volume.si() / pour.time.si(); }
// r_i of a pour of this flow.
double share_of(const Pour& pour, std::optional<units::Volume> mark, double flow) {
  const double time = pour.time.si();
  return std::hypot(read_to(mark_of(pour, mark)) / (flow * time), kTimed / time);
}

// The mean of the pours where the flow scatters by τ from one to the next.
struct Mean {
  double flow = 0;
  double weights = 0;
  double squares = 0;  // Σ w_i (Q_i/Q − 1)²
};
Mean mean_of(std::span<const Pour> pours, std::optional<units::Volume> mark, double scatter) {
  double volume = 0;
  double time = 0;
  for (const Pour& pour : pours) {
    volume += pour.volume.si();
    time += pour.time.si();
  }
  // By the flow of all and not by each pour's own: else one that came out large would weigh more.
  const auto weight = [&](const Pour& pour) {
    const double share = std::hypot(share_of(pour, mark, volume / time), scatter);
    return 1 / (share * share);
  };
  Mean mean;
  for (const Pour& pour : pours) {
    mean.weights += weight(pour);
    mean.flow += weight(pour) * flow_of(pour);
  }
  mean.flow /= mean.weights;
  for (const Pour& pour : pours) {
    const double off = flow_of(pour) / mean.flow - 1;
    mean.squares += weight(pour) * off * off;
  }
  return mean;
}

Number percent(double share) { return {100 * share, "%", 2}; }
Number nth(std::size_t index) {
  return fields::given_number(static_cast<double>(index + 1), nullptr);
}

// How far a pour lies from the others together: in standard uncertainties, and as a share of them.
struct Distance {
  double deviations = 0;
  double share = 0;
};
Distance distance_of(std::span<const Pour> pours,
                     std::size_t index,
                     std::optional<units::Volume> mark) {
  std::vector<Pour> others(pours.begin(), pours.end());
  others.erase(others.begin() + static_cast<std::ptrdiff_t>(index));
  const PouredFlow rest = poured_flow(others, mark);
  const double flow = rest.flow.si();
  const double share = flow_of(pours[index]) / flow - 1;
  // The pour may scatter as the others do.
  const double own = std::hypot(share_of(pours[index], mark, flow), rest.scatter);
  return {std::fabs(share) / std::hypot(own, rest.share), share};
}

std::optional<Message> far_pour(std::span<const Pour> pours, std::optional<units::Volume> mark) {
  if (pours.size() < 2) return std::nullopt;
  std::size_t furthest = 0;
  Distance most;
  for (std::size_t i = 0; i < pours.size(); ++i) {
    const Distance d = distance_of(pours, i, mark);
    if (d.deviations <= most.deviations) continue;
    most = d;
    furthest = i;
  }
  if (most.deviations < kFar) return std::nullopt;
  if (pours.size() == 2) {
    return Message{"pours.doubt.two_differ", {{"share", percent(std::fabs(most.share))}}};
  }
  return Message{most.share > 0 ? "pours.doubt.more" : "pours.doubt.less",
                 {{"n", nth(furthest)}, {"share", percent(std::fabs(most.share))}}};
}

// τ that leaves `free` of the squares, which fall steadily with it.
double scatter_of(std::span<const Pour> pours, std::optional<units::Volume> mark, double free) {
  const auto left = [&](double scatter) { return mean_of(pours, mark, scatter).squares - free; };
  double high = 1;
  while (left(high) > 0) high *= 2;
  const auto found = numerics::find_root(left, {.low = 0, .high = high});
  CHECK(found.status == numerics::BracketStatus::kFound);
  return found.root;
}

}  // namespace

units::Volume usual_mark(units::Volume poured) {
  return units::Volume(jug_where([&](const Jug& j) { return poured.si() <= j.up_to; })->mark);
}

units::VolumeFlow PouredFlow::low() const { return flow * std::fmax(0, 1 - half_width); }
units::VolumeFlow PouredFlow::high() const { return flow * (1 + half_width); }

PouredFlow poured_flow(std::span<const Pour> pours, std::optional<units::Volume> mark) {
  Mean mean = mean_of(pours, mark, 0);
  PouredFlow out;
  double factor = numerics::kNormal95;
  if (pours.size() > 1) {
    const auto free = static_cast<double>(pours.size() - 1);
    out.birge = std::sqrt(mean.squares / free);
    if (*out.birge > 1) {
      factor = student(pours.size());
      out.scatter = scatter_of(pours, mark, free);
      mean = mean_of(pours, mark, out.scatter);
    }
  }
  out.flow = units::VolumeFlow(mean.flow);
  out.share = 1 / std::sqrt(mean.weights);
  out.half_width = factor * out.share;
  return out;
}

NextPour next_pour(std::span<const Pour> pours, std::optional<units::Volume> mark, double share) {
  const PouredFlow now = poured_flow(pours, mark);
  if (now.half_width <= share) return {.reached = true};
  const double weights = 1 / (now.share * now.share);
  if (now.scatter > 0) {
    // More of the same: the weights grow with their number.
    const double each = weights / static_cast<double>(pours.size());
    for (std::size_t n = pours.size() + 1; n <= kMostPours; ++n) {
      const double half = student(n) / std::sqrt(each * static_cast<double>(n));
      if (half <= share) return {.more = static_cast<int>(n - pours.size())};
    }
    return {};
  }
  // r = c/t of one more pour, c² = (u_V/Q)² + u_t²; its weight must make up what is missing.
  const double ratio = numerics::kNormal95 / share;
  const double missing = ratio * ratio - weights;
  const auto of_mark = [&](double between) {
    const double c = std::hypot(read_to(between) / now.flow.si(), kTimed);
    const units::Time time(c * std::sqrt(missing));
    return Pour{.volume = now.flow * time, .time = time};
  };
  if (mark) return {.pour = of_mark(mark->si())};
  // The jug grows with what is poured, and its marks with the jug.
  const auto* jug = jug_where([&](const Jug& j) { return of_mark(j.mark).volume.si() <= j.up_to; });
  return {.pour = of_mark(jug->mark)};
}

std::vector<Message> doubts(std::span<const Pour> pours, std::optional<units::Volume> mark) {
  std::vector<Message> out;
  for (std::size_t i = 0; i < pours.size(); ++i) {
    const double time = pours[i].time.si();
    if (time >= kShort) continue;
    out.push_back(
        {"pours.doubt.short",
         {{"n", nth(i)}, {"time", Number{time, "s", 2}}, {"share", percent(kTimed / time)}}});
  }
  if (auto far = far_pour(pours, mark)) out.push_back(*std::move(far));
  return out;
}

base::Result<base::Done> check_pours(std::span<const Pour> pours,
                                     std::optional<units::Volume> mark,
                                     const fields::Path& path) {
  if (!mark) return base::Done{};
  const auto* unit = units::unit_of_key("mL");
  for (std::size_t i = 0; i < pours.size(); ++i) {
    if (pours[i].volume >= *mark) continue;
    const auto millilitres = [&](units::Volume v) {
      return fields::given_number(units::from_si_shortest(*unit, v.si()), unit);
    };
    return base::Error{base::ErrorKind::kData,
                       {"error.pours.mark",
                        {{"path", fields::path_argument(path / "jug_mark_mL")},
                         {"value", millilitres(*mark)},
                         {"pour", fields::path_argument((path / "pours")[i] / "volume_mL")},
                         {"volume", millilitres(pours[i].volume)}}}};
  }
  return base::Done{};
}

}  // namespace drawoff::visit
