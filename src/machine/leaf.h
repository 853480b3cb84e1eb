// Along the membranes of a running machine: rows of elements, the reject of each the feed of the
// next, at the operating point that the balances found.
//
// Between the ends of an element stand the Gauss points of its own solution (membrane/element.h).
// At the ends, which it leaves out, the local problem is solved for the stream that enters or
// leaves, so that the way reaches from feed to reject.
//
// Check: the weighted fluxes of the Gauss points are the mean of the operating point; the curve
// through them meets the ends; like elements go on where the one before ended.
#pragma once

#include <vector>

#include "machine/ensemble.h"
#include "machine/operating_point_network.h"

namespace drawoff::machine {

// The elements of a row from the feed on, up to one that takes all the water it is given.
using ElementRow = std::vector<membrane::ElementResult<double>>;
// Every row, or one of them where all are alike.
std::vector<ElementRow> rows_at(const network::Network<double>& n,
                                const OperatingPoint<double>& point);

struct LeafStation {
  double along = 0;     // of the row, 0 at the feed, 1 at the reject
  double strength = 0;  // s of the stream
  double flux = 0;      // J [m/s]
  double wall = 0;      // s_m
};
inline constexpr int kStations = membrane::kPoints + 2;  // of an element, its ends included

// Of the first row. kStations an element; where one ends and the next begins, two stand in one
// place. The point's outcome must not be kNotSolved or kOverConcentrates.
std::vector<LeafStation> along_row(const Specimen& specimen,
                                   const Machine& machine,
                                   const Feed& feed,
                                   const OperatingPoint<double>& point);

}  // namespace drawoff::machine
