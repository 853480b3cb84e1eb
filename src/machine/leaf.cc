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

std::vector<Stream> feeds_at(const network::Network<double>& n,
                             const OperatingPoint<double>& point) {
  return feeds_of_rows(
      n.machine->membranes,
      n.membrane,
      around_at(n, point),
      Stream{point.feed_flow, point.feed_flow * point.feed_salt, point.membrane_pressure});
}

ElementRow row_of(const network::Network<double>& n,
                  const membrane::Surroundings<double>& around,
                  int row,
                  Stream stream) {
  const Membranes& m = n.machine->membranes;
  ElementRow elements;
  for (int i = 0; i < m.in_series; ++i) {
    const auto element =
        membrane::pass_element(m.channel, membrane_at(m, n.membrane, row, i), around, stream);
    if (element.status != membrane::ElementStatus::kSolved) break;
    elements.push_back(element);
    stream = element.reject;
  }
  return elements;
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

std::vector<ElementRow> rows_at(const network::Network<double>& n,
                                const OperatingPoint<double>& point) {
  const auto feeds = feeds_at(n, point);
  const std::size_t unlike = rows_alike(n.machine->membranes) ? 1 : feeds.size();
  std::vector<ElementRow> rows;
  for (std::size_t i = 0; i < unlike; ++i) {
    rows.push_back(row_of(n, around_at(n, point), static_cast<int>(i), feeds[i]));
  }
  return rows;
}

std::vector<LeafStation> along_row(const Specimen& specimen,
                                   const Machine& machine,
                                   const Feed& feed,
                                   const OperatingPoint<double>& point) {
  const auto n = network::network(machine, feed.water, specimen.parameters);
  const Membranes& m = machine.membranes;
  const auto around = around_at(n, point);
  Stream stream = feeds_at(n, point).front();
  std::vector<LeafStation> stations;
  int i = 0;
  for (const auto& element : row_of(n, around, 0, stream)) {
    const auto membrane = membrane_at(m, n.membrane, 0, i);
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
