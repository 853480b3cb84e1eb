// The symbols of a water path's parts: lines around a middle, the water coming from above unless it
// says otherwise. After ISO 14617 and ISO 10628 in spirit, from memory, with our own proportions.
//
//   part.shapes = symbols::valve({70, 40}, Flow::kDown);
//
// Every symbol stays within the frame that it is given with (kValve, kFilter…), in drawing units.
#pragma once

#include <vector>

#include "machine/plates.h"
#include "paper/drawing.h"

namespace drawoff::paper::symbols {

struct Size {
  double width = 0;
  double height = 0;
};
inline constexpr Size kValve{24, 28};
inline constexpr Size kLevelValve{28, 24};  // a valve in a level pipe
inline constexpr Size kDriven{44, 28};      // a valve with its drive at its left
inline constexpr Size kTank{42, 44};
inline constexpr Size kFilter{36, 36};
inline constexpr Size kSwitch{26, 26};
inline constexpr Size kPump{40, 40};
inline constexpr Size kMembrane{76, 44};
inline constexpr Size kRestrictor{24, 34};
inline constexpr Size kFunnel{32, 28};
inline constexpr Size kVessel{44, 40};
inline constexpr double kEcho = 4;  // how far a further pump stands out behind the first

enum class Flow { kDown, kAcross };

Stroke outline(double width = 2);
Stroke thin();

std::vector<Path> valve(const Spot& m, Flow flow);
// The drive stands left of the valve; `m` is the valve's middle.
std::vector<Path> solenoid(const Spot& m);
std::vector<Path> regulator(const Spot& m);
std::vector<Path> shut_off(const Spot& m);
std::vector<Path> check_valve(const Spot& m);
std::vector<Path> raw_tank(const Spot& m);
std::vector<Path> filter(machine::FilterKind kind, const Spot& m);
std::vector<Path> pump(const machine::PumpEntry& entry, const Spot& m);
Size size_of(const machine::PumpEntry& entry);
std::vector<Path> membrane(const machine::ElementEntry& entry, const Spot& m);
std::vector<Path> restrictor(const Spot& m);
std::vector<Path> funnel(const Spot& m);
std::vector<Path> vessel(machine::ProductVessel vessel, const Spot& m);

// Left of its pipe at `tap`, joined to it by a thin line.
enum class Trips { kBelow, kAbove };
std::vector<Path> pressure_switch(Trips trips, const Spot& m, const Spot& tap);

// Where two pipes join, and the way the water goes.
Path joint(const Spot& at, Ink ink);
enum class Way { kUp, kDown, kLeft, kRight };
Path arrow(const Spot& tip, Way way, Ink ink);

}  // namespace drawoff::paper::symbols
