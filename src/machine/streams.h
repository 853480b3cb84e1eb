// What every stream of a running machine holds, species by species.
//
// The operating point gives flows, pressures and the strength of the salt as a whole; here each
// species takes its own way through every element (membrane/ions.h), round the recirculation, and
// into the product with the blend and what a mineral cartridge adds.
#pragma once

#include "machine/ensemble.h"
#include "machine/operating_point.h"

namespace drawoff::machine {

struct Streams {
  water::Composition raw;       // as it comes
  water::Composition feed;      // of the first element
  water::Composition permeate;  // behind the membranes; nothing where none flows
  water::Composition reject;    // behind the last element
  water::Composition wall;      // at the membrane near the reject end
  water::Composition blend;     // of the raw water beside the membrane
  water::Composition product;   // permeate and blend, behind the last cartridge
};

// The streams of `machine`, a specimen's in some condition, at its operating point. Where no
// permeate flows, reject and wall are the feed's. The point's outcome must not be kNotSolved or
// kOverConcentrates.
Streams streams_at(const Specimen& specimen,
                   const Machine& machine,
                   const Feed& feed,
                   const OperatingPoint<double>& point);

}  // namespace drawoff::machine
