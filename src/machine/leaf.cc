#include "machine/leaf.h"

namespace drawoff::machine {

namespace {

using Stream = membrane::Stream<double>;

// What is around the membranes, the product at the pressure of the operating point.
membrane::Surroundings<double> around_at(const network::Network<double>& n,
                                         const OperatingPoint<double>& point) {
  auto around = n.around;
  around.permeate_pressure = point.permeate_pressure;
  return around;
}

Stream feed_of_row(const Membranes& m, const OperatingPoint<double>& point) {
  const double flow = point.feed_flow / m.in_parallel;
  return {flow, flow * point.feed_salt, point.membrane_pressure};
}

// Where a stream enters or leaves an element.
LeafStation station_at(const membrane::Channel& channel,
                       const membrane::Membrane<double>& membrane,
                       const membrane::Surroundings<double>& around,
                       const Stream& stream,
                       double along) {
  const double k = membrane.mass_transfer *
                   membrane::mass_transfer(around.law, channel, stream.flow, around.fluid);
  const double strength = stream.salt / stream.flow;
  const auto local = membrane::local_flux(
      membrane, around, k, strength, stream.pressure - around.permeate_pressure);
  return {.along = along, .strength = strength, .flux = local.flux, .wall = local.wall};
}

}  // namespace

std::vector<membrane::ElementResult<double>> row_at(const network::Network<double>& n,
                                                    const OperatingPoint<double>& point) {
  const Membranes& m = n.machine->membranes;
  const auto around = around_at(n, point);
  Stream stream = feed_of_row(m, point);
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
  const Membranes& m = machine.membranes;
  const auto around = around_at(n, point);
  Stream stream = feed_of_row(m, point);
  std::vector<LeafStation> stations;
  int i = 0;
  for (const auto& element : row_at(n, point)) {
    const auto membrane = network::membrane_at(n, i);
    const auto along = [&](double place) { return (i + place) / m.in_series; };
    stations.push_back(station_at(m.channel, membrane, around, stream, along(0)));
    for (std::size_t k = 0; k < element.points.size(); ++k) {
      const auto& at = element.points[k];
      stations.push_back({.along = along(membrane::kPlace[k]),
                          .strength = at.strength,
                          .flux = at.flux,
                          .wall = at.wall});
    }
    stream = element.reject;
    stations.push_back(station_at(m.channel, membrane, around, stream, along(1)));
    ++i;
  }
  return stations;
}

}  // namespace drawoff::machine
