#include "transients/flush.h"

#include <algorithm>

namespace drawoff::transients {

namespace {

std::optional<Path> path_of(Chain chain, double flow) {
  if (!(flow > 0) || (chain.mixed.empty() && !(chain.plug > 0))) return std::nullopt;
  return Path{.chain = std::move(chain), .flow = flow};
}

// The housings before the membrane from the first carbon filter on; empty if there is none.
std::vector<double> from_carbon(const machine::MachineEntry& entry, const HeldWater& held) {
  std::size_t before = 0;
  for (const machine::FilterEntry& filter : entry.filters) {
    if (filter.kind == machine::FilterKind::kCarbon) {
      return {held.pre_filters.begin() + static_cast<std::ptrdiff_t>(before),
              held.pre_filters.end()};
    }
    if (!machine::after_membrane(filter.kind)) ++before;
  }
  return {};
}

}  // namespace

FlushPaths flush_paths(const machine::MachineEntry& entry,
                       const machine::Condition& condition,
                       const Plant& plant,
                       Residue residue) {
  const Response open = plant.curve.at(0);
  const HeldWater& held = plant.held;
  const double supply = open.permeate_flow + open.blend_flow + open.reject_flow;
  FlushPaths paths;
  switch (residue) {
    case Residue::kPreservative:
      // The feed channel sees the feed at one end and the reject at the other: the smaller.
      paths.feed =
          path_of({.mixed = {held.feed_channel}, .plug = held.drain_tube}, open.reject_flow);
      paths.product = path_of(held.product_side(), open.permeate_flow);
      break;
    case Residue::kSanitiser:
      paths.feed = path_of(held.feed_side(), open.reject_flow);
      paths.product = path_of(held.product_side(), open.permeate_flow);
      break;
    case Residue::kCarbonFines: {
      Chain housings{.mixed = from_carbon(entry, held)};
      paths.feed = path_of(std::move(housings), supply);
      const bool polish =
          std::any_of(entry.filters.begin(), entry.filters.end(), [](const auto& filter) {
            return filter.kind == machine::FilterKind::kPolish;
          });
      if (polish) paths.product = path_of(held.behind_tee(), open.product_flow());
      break;
    }
    case Residue::kBlendChange: {
      Chain chain = held.behind_tee();
      if (condition.product_to == machine::ProductVessel::kCooler) {
        for (const OpenVessel& vessel : plant.store.open) chain.mixed.push_back(vessel.volume);
      }
      paths.product = path_of(std::move(chain), open.product_flow());
      break;
    }
  }
  return paths;
}

Flushed flushed(const Path& path, double share) {
  const double volume = passed_until(path.chain, share);
  return {.volume = volume, .time = volume / path.flow};
}

}  // namespace drawoff::transients
