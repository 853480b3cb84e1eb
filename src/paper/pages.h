// Pieces put on pages, from top to bottom.
#pragma once

#include <vector>

#include "paper/page.h"
#include "paper/piece.h"

namespace drawoff::paper {

// The part of a page that is filled.
struct Area {
  PageSize page;
  double foot = 0;  // kept free above the lower margin [mm]
};

// At least one page. A piece that is higher than a page is printed smaller, so that nothing is
// lost.
std::vector<Page> paginated(const std::vector<Piece>& pieces, const Area& area);

}  // namespace drawoff::paper
