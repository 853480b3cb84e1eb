// Water held in a machine, and how what flows through takes its place.
//
// Filters, the space behind the membrane and coolers are well mixed; a tube moves as a plug. Of
// mixed volumes V_1 … V_n one behind the other, with m_i of a salt in each, x of water has passed:
//
//   dm_i/dx = m_{i−1}/V_{i−1} − m_i/V_i
//
// For one volume the share left is e^(−x/V): 95 % is exchanged after x = V ln 20 = 2.996 V. For n
// equal ones it is e^(−x/V) Σ_{k<n} (x/V)^k/k!. In general the exponential of the matrix, by
// uniformization and squaring: every term is positive, so nothing cancels however unlike the
// volumes are. [levenspiel1999; jensen1953]  In water passed, not in time: at a steady flow, t =
// x/Q.
#pragma once

#include <vector>

namespace drawoff::transients {

// [m³], in the order of the water.
struct Chain {
  std::vector<double> mixed;
  double plug = 0;  // all tubes together: it only delays
};

// What is left in each mixed volume after `passed` [m³]; what is missing has left the last one.
std::vector<double> held_after(const std::vector<double>& mixed,
                               const std::vector<double>& held,
                               double passed);

// The chain stood at 1 throughout and is fed with 0: what leaves it after `passed` [m³]. The same
// curve is what still lacks of a step at the inlet.
double share_left(const Chain& chain, double passed);

// The water [m³] that must pass until `share` is left, 0 < share < 1.
double passed_until(const Chain& chain, double share);

}  // namespace drawoff::transients
