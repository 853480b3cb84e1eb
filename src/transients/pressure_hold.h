// The pressure hold: a unit is shut in under pressure, and after a while its gauge shows less. How
// much water would have to leak for that, and how much of the fall needs no leak at all?
//
//   W(p) = C p + V_a p/(p + p_a)                 water taken up under pressure (vessel.h)
//   W(p_1) − W(p_2) = q t + ΔW_creep − ΔW_warm   [m³]
//   ΔW_creep = C_plastic p_1 c log₁₀(1 + t/t_0),   ΔW_warm = β V ΔT
//
// q: the leak, mean over the test. C: of plastic walls and of the water itself. V_a: trapped air,
// at atmospheric pressure. c: share of its give that plastic adds with every tenfold of time under
// load, t_0: how long it stood so before it was shut in. ΔT: how much the water warmed, β from its
// density; the walls grow too, which is left out. Give, air, c and ΔT are known roughly, and each
// is drawn (data/tolerances.csv).
//
// A tight unit falls by the p_1 − p_2 of q = 0. A gauge shows a fall off by two roundings. Vessels
// of steel give less than plastic: the leak is then smaller than said.
//
// Check: rigid walls, 100 mL of air, 4 bar to 3 bar: 100 mL (4/5.01325 − 3/4.01325) = 5.036 mL.
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "machine/plates.h"
#include "transients/vessel.h"

namespace drawoff::transients {

struct ShutIn {
  double water = 0;    // V [m³]
  double plastic = 0;  // C of the walls [m³/Pa]
  double air = 0;      // V_a [m³]
  bool tank = false;   // a pressure tank is open to it
};
// The water in a tube of this bore [m³].
double tube_water(units::Length length, units::Length bore);
// Water in plastic: so much of it in tubes, the rest in housings. Air as is usual for those if none
// is given.
ShutIn shut_in(units::Volume water, double in_tubes, std::optional<units::Volume> air);
// A machine shut at its supply, its outlet and its drain: all its tubes, housings and elements.
ShutIn shut_in(const machine::MachineEntry& machine, std::optional<units::Volume> air);

struct HoldTest {
  units::Pressure start;       // gauge
  units::Pressure end;         // gauge
  units::Time time;            // between them
  units::Time before;          // t_0
  units::Pressure resolution;  // of the gauge: either reading is off by up to half of it
};

// One unit that this could be.
struct HoldDraw {
  Line line;
  double creeping = 0;  // C_plastic [m³/Pa]
  double creep = 0;     // c
  double swelling = 0;  // ΔW_warm [m³]
  double misread = 0;   // of the fall [Pa]
};

// Fall that the gauge shows of a tight unit [Pa]; never more than all there was.
double tight_fall(const HoldDraw& draw, const HoldTest& test);
// The leak that makes the gauge fall from start to end [m³/s]; negative where less fell than must.
double leak(const HoldDraw& draw, const HoldTest& test);

enum class HoldVerdict {
  kTight,       // the fall is what a tight unit may show
  kMayLeak,     // more than 95 in 100 tight units would show
  kLeaks,       // more than 995 in 1000 tight units would show
  kRose,        // it rose by more than a tight unit may: it warmed, or the supply seeps in
  kTankOpen,    // a pressure tank holds it up: says nothing
  kCannotTell,  // a tight unit might lose all the pressure there was
};

struct Held {
  HoldVerdict verdict = HoldVerdict::kCannotTell;
  // By draw, none with a tank open; the leak not below nothing.
  std::vector<double> tight_fall;  // [Pa]
  std::vector<double> leak;        // [m³/s]
  std::vector<double> give;        // W'(p) at the mean pressure [m³/Pa]
  // The leak that this test finds in 95 of 100 units [m³/s]; none if it can find none.
  std::optional<double> smallest;
};
Held held(const ShutIn& shut, const HoldTest& test, std::uint64_t seed);

// A drop from a joint (common practice, no source).
inline constexpr units::Volume kDrop = units::Volume(0.05e-6);

}  // namespace drawoff::transients
