#include "water/mixing.h"

namespace drawoff::water {

Composition mixed(const Stream& a, const Stream& b) {
  const double total = a.flow.si() + b.flow.si();
  if (total == 0) return a.composition;
  const double share = a.flow.si() / total;
  Composition c;
  for (std::size_t i = 0; i < c.mol_m3.size(); ++i) {
    c.mol_m3[i] = share * a.composition.mol_m3[i] + (1 - share) * b.composition.mol_m3[i];
  }
  return c;
}

}  // namespace drawoff::water
