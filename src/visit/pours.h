// Jug and stopwatch: a flow from one pour or several, with its uncertainty.
//
//   Q_i = V_i/t_i                                            [m³/s]
//   r_i² = [(u_V/Q)² + u_t²]/t_i²,   w_i = 1/(r_i² + τ²)
//   Q = Σ w_i Q_i/Σ w_i,   u = Q/√(Σ w_i)
//   B² = Σ (Q_i/Q − 1)²/r_i²/(n − 1)
//
// u_V = m/(2 √3): marks m apart are read to half a mark, uniform [jcgm2008, 4.3.7]. u_t = 0.2 s √2:
// the hand, at start and at stop (from memory). B: Birge's ratio, the scatter over what marks and
// hand explain. B <= 1: τ = 0. B > 1: the flow itself scatters by τ, of which with those weights
// just n − 1 remain of Σ w_i (Q_i/Q − 1)² (Mandel and Paule; both from memory). So a long pour
// weighs as t² where marks and hand rule, and all weigh the same where the scatter does.
//
// 90 % interval: τ = 0: Q ± 1.645 u; else Q ± t u, Student's t of n − 1 degrees of freedom
// [jcgm2008, table G.2]. Simulated, it holds the flow in 88 to 92 of 100 cases of three pours or
// more, whatever the scatter; of two in 84 to 91, the least where they scatter three times as much
// as marks and hand explain. One pour says nothing of scatter.
//
// The marks are taken as true: a jug that is 3 % out shows every pour 3 % out.
//
// Check: 1000 mL in 60 s, marks every 50 mL: 60 L/h, r = √(0.014434² + 0.004714²) = 0.015184,
// 58.501 to 61.499.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "base/message.h"
#include "base/result.h"
#include "fields/field.h"
#include "units/quantity.h"

namespace drawoff::visit {

struct Pour {
  units::Volume volume;
  units::Time time;
};
inline constexpr std::size_t kMostPours = 20;

// Between the marks of the jug or cylinder that a person takes for so much (common practice, no
// source).
units::Volume usual_mark(units::Volume poured);

struct PouredFlow {
  units::VolumeFlow flow;
  double share = 0;             // standard uncertainty over the flow, the scatter within
  double half_width = 0;        // of the 90 % interval, over the flow
  double scatter = 0;           // τ, over the flow; 0 where marks and hand explain it all
  std::optional<double> birge;  // B; none of a single pour

  units::VolumeFlow low() const;  // never below nothing
  units::VolumeFlow high() const;
};
// At least one pour, each of some volume and time. `mark`: between the jug's marks; usual ones if
// none.
PouredFlow poured_flow(std::span<const Pour> pours, std::optional<units::Volume> mark);

// What brings the half width of the 90 % interval down to a share of the flow.
struct NextPour {
  std::optional<Pour> pour;  // one more, so long; where marks and hand rule
  std::optional<int> more;   // so many more like those so far; where the scatter rules
  bool reached = false;      // it is already
};
// `more` is none where even kMostPours would not do.
NextPour next_pour(std::span<const Pour> pours, std::optional<units::Volume> mark, double share);

// What makes a pour doubtful, a sentence each: shorter than 5 s; far (3 standard uncertainties of
// the difference) from the others.
std::vector<base::Message> doubts(std::span<const Pour> pours, std::optional<units::Volume> mark);

// Refuses a mark of more than what was poured: then nothing was read. `path`: of what holds "pours"
// and "jug_mark_mL".
base::Result<base::Done> check_pours(std::span<const Pour> pours,
                                     std::optional<units::Volume> mark,
                                     const fields::Path& path);

}  // namespace drawoff::visit

namespace drawoff::fields {

template <>
struct Table<visit::Pour> {
  using T = visit::Pour;
  static constexpr std::string_view name = "pour";
  static constexpr auto list =
      std::make_tuple(field("volume_mL", &T::volume, Range{1, 1e6}, kRequired),
                      field("time_s", &T::time, Range{1, 86400}, kRequired));
};

}  // namespace drawoff::fields
