// What takes up the product: tanks, coolers, and where the outlet is shut, the tube itself.
//
// All numbers SI, pressures gauge. What a thing holds at a pressure is one closed form each.
#pragma once

#include <optional>
#include <vector>

namespace drawoff::transients {

inline constexpr double kAtmosphere = 101325;  // [Pa], [bipm2019]

// Air-charged tank: air of volume V at precharge p_0, at one temperature (Boyle).
//
//   W(p) = V [1 − (p_0 + p_a)/(p + p_a)]   for p >= p_0, else 0      [m³]
//
// [white2011, sec. 1.8].  Check: precharge 28, from 30 to 50 psi, 14.7 psi of air -> 0.2953 V
// (plumbing_and_limits.md).
struct AirTank {
  double volume = 0;     // whole [m³]
  double precharge = 0;  // empty [Pa]
};
double content(const AirTank& tank, double pressure);
// Its inverse; the precharge where nothing is held. 0 <= held < volume.
double pressure(const AirTank& tank, double held);

// A tube or a trapped bubble gives way a little: all that stands behind a shut outlet.
//
//   W(p) = C p + V_a p/(p + p_a)    [m³]   V_a: air at atmospheric pressure (Boyle)
struct Line {
  double compliance = 0;  // C [m³/Pa]
  double air = 0;         // V_a [m³]
};
double content(const Line& line, double pressure);

struct TubeWall {
  double bore = 0;       // D [m]
  double thickness = 0;  // [m]
  double modulus = 0;    // Young's modulus E [Pa]
  double poisson = 0;    // ν
};
// Volume that a metre of tube gains per pressure, ends closed, wall of any thickness (Lamé):
//
//   (dV/dp)/V = {2 [(b² + a²)/(b² − a²) + ν] + k (1 − 4 ν)}/E,   k = a²/(b² − a²)   [1/Pa]
//
// a and b the inner and outer radius. For a thin wall t it becomes a (5/2 − 2 ν)/(E t).
// [timoshenko1951]  Range: small strain; plastics creep, so the short-time modulus.
double wall_give(const TubeWall& wall);
// The same of the water in it, 1/K [1/Pa], K = 2.19 GPa [white2011, table A.3].
inline constexpr double kWaterGive = 1 / 2.19e9;

// An open vessel filled through a float valve: the pressure at its inlet is its height alone.
struct OpenVessel {
  double volume = 0;  // up to where the float shuts [m³]
  double head = 0;    // of its inlet above the lowest of them [Pa]
};

// All that stands behind the product outlet.
struct Store {
  Line line;
  std::optional<AirTank> tank;
  std::vector<OpenVessel> open;  // lowest first: the water goes there first
};
// Taken up under pressure: line and tank. Open vessels take theirs at no more than their head.
double content(const Store& store, double pressure);
// Its derivative [m³/Pa].
double give(const Store& store, double pressure);

}  // namespace drawoff::transients
