#include "api/flush_question.h"

#include <algorithm>

#include "api/transient_draws.h"

namespace drawoff::api {

namespace {

using transients::Flushed;
using transients::Residue;

struct Sides {
  std::vector<Flushed> feed;
  std::vector<Flushed> product;
  std::vector<double> longer;  // [s]
};

Sides sides_of(const FlushInput& in, const TransientDraws& draws) {
  Sides sides;
  for (const TransientDraw& draw : draws.draws) {
    const auto paths = transients::flush_paths(in.machine, in.condition, draw.plant, in.residue);
    double longer = 0;
    if (paths.feed) {
      sides.feed.push_back(transients::flushed(*paths.feed, in.left));
      longer = sides.feed.back().time;
    }
    if (paths.product) {
      sides.product.push_back(transients::flushed(*paths.product, in.left));
      longer = std::max(longer, sides.product.back().time);
    }
    if (paths.feed || paths.product) sides.longer.push_back(longer);
  }
  return sides;
}

std::optional<FlushSide> side_of(const std::vector<Flushed>& all,
                                 double left,
                                 Working& working,
                                 const std::string& at) {
  if (all.size() < kLeastTransientDraws) return std::nullopt;
  std::vector<double> volumes;
  std::vector<double> times;
  for (const Flushed& f : all) {
    volumes.push_back(f.volume);
    times.push_back(f.time);
  }
  const WorkingInput share{"c/c_0", left * 100, "%"};
  return FlushSide{
      .volume = band_of(volumes,
                        "L",
                        working,
                        at + ".volume",
                        {"dm_i/dx = m_(i−1)/V_(i−1) − m_i/V_i; x where c/c_0 is left, + V_tube",
                         "levenspiel1999",
                         {share}}),
      .time = band_of(times, "min", working, at + ".time", {"t = x/Q", "mass balance", {share}})};
}

std::vector<base::Message> remarks_of(const FlushInput& in) {
  switch (in.residue) {
    case Residue::kPreservative:
      return {base::Message{"transient.flush.discard_first_fill"}};
    case Residue::kSanitiser:
      return {base::Message{"transient.flush.test_sanitiser"}};
    case Residue::kCarbonFines:
      return {base::Message{"transient.flush.fines_to_drain"}};
    case Residue::kBlendChange:
      return {base::Message{"transient.flush.wait_then_read"}};
  }
  return {};
}

}  // namespace

base::Result<FlushOutput> ask_flush(const FlushInput& in, Working& working) {
  TRY(const TransientDraws d, transient_draws(in, transients::Reach::kOpenOutlet));
  FlushOutput out{.outcome = d.median.plant.curve.outcome(),
                  .runs = d.runs,
                  .assumed = machine::assumed(in.machine)};
  explain_runs(working, d);
  if (!can_tell(d)) {
    if (!d.median.plant.curve.usable()) out.remarks = ids_of({why_not(out.outcome)});
    return out;
  }
  const Sides sides = sides_of(in, d);
  out.feed = side_of(sides.feed, in.left, working, "feed");
  out.product = side_of(sides.product, in.left, working, "product");
  if (sides.longer.size() >= kLeastTransientDraws) {
    out.time =
        band_of(sides.longer, "min", working, "time", {"t = max(t_feed, t_product)", "definition"});
    out.remarks = ids_of(remarks_of(in));
  } else {
    out.remarks = ids_of({base::Message{"transient.flush.holds_none"}});
  }
  return out;
}

}  // namespace drawoff::api
