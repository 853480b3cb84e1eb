// Along the membranes of a running machine: one row of elements, the reject of each the feed of the
// next, at the operating point that the balances found.
//
// At each Gauss point the element's equations (membrane/element.h) give the permeate and the wall
// from flux and polarisation e = e^(J/k):
//
//   J s_p = B (s_m − s_p),  s_m − s_p = (s − s_p) e   =>   s_p = s B e/(J + B e)    [lonsdale1965]
//
// Check: it is the wall that the element itself gives at its last point, and the weighted fluxes
// are its mean.
#pragma once

#include <vector>

#include "machine/ensemble.h"
#include "machine/operating_point_network.h"

namespace drawoff::machine {

// The elements of a row from the feed on, up to one that takes all the water it is given.
std::vector<membrane::ElementResult<double>> row_at(const network::Network<double>& n,
                                                    const OperatingPoint<double>& point);

struct LeafStation {
  double along = 0;  // of the row, 0 at the feed, 1 at the reject
  double flux = 0;   // J [m/s]
  double wall = 0;   // s_m
};
// Three stations an element. The point's outcome must not be kNotSolved or kOverConcentrates.
std::vector<LeafStation> along_row(const Specimen& specimen,
                                   const Machine& machine,
                                   const Feed& feed,
                                   const OperatingPoint<double>& point);

}  // namespace drawoff::machine
