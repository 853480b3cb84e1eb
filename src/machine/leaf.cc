#include "machine/leaf.h"

namespace drawoff::machine {

std::vector<membrane::ElementResult<double>> row_at(const network::Network<double>& n,
                                                    const OperatingPoint<double>& point) {
  const Membranes& m = n.machine->membranes;
  auto around = n.around;
  around.permeate_pressure = point.permeate_pressure;
  const double row = point.feed_flow / m.in_parallel;
  membrane::Stream<double> stream{row, row * point.feed_salt, point.membrane_pressure};
  std::vector<membrane::ElementResult<double>> elements;
  for (int i = 0; i < m.in_series; ++i) {
    const auto element =
        membrane::pass_element(m.channel, network::membrane_at(n, i), around, stream);
    if (element.status != membrane::ElementStatus::kSolved) break;
    elements.push_back(element);
    stream = element.reject;
  }
  return elements;
}

std::vector<LeafStation> along_row(const Specimen& specimen,
                                   const Machine& machine,
                                   const Feed& feed,
                                   const OperatingPoint<double>& point) {
  const auto n = network::network(machine, feed.water, specimen.parameters);
  const auto elements = row_at(n, point);
  std::vector<LeafStation> stations;
  for (std::size_t i = 0; i < elements.size(); ++i) {
    const double salt = network::membrane_at(n, static_cast<int>(i)).salt_permeability;
    for (int k = 0; k < membrane::kPoints; ++k) {
      const auto& at = elements[i].points[static_cast<std::size_t>(k)];
      const double passed = salt * at.polarisation;
      const double permeate = at.strength * passed / (at.flux + passed);
      stations.push_back(
          {.along = (static_cast<double>(i) + membrane::kPlace[static_cast<std::size_t>(k)]) /
                    machine.membranes.in_series,
           .flux = at.flux,
           .wall = permeate + (at.strength - permeate) * at.polarisation});
    }
  }
  return stations;
}

}  // namespace drawoff::machine
