// The water path of a machine as a drawing: what stands where, in which order it is read, and where
// words have room. One layout for the phone, the command and the papers.
//
// The layout comes from the machine's description alone: water runs down an axis at the left; the
// reject leaves the membrane to the right and runs down beside the product; the blend passes the
// membrane on the far left; reject that is led back rises at the far right. No two pipes cross:
// where pipes meet they join, and a dot says so. Symbols: scene_symbols.h.
//
// The solenoid and the shut-off valve stand behind the filters: so water for a blend taken before
// the pump is filtered and comes whether the unit runs or not, and that taken after the solenoid
// only while it runs, as the entry says.
//
//   const Scene scene = water_path(entry, {.text = 1});
//
// Lengths are in drawing units: 366 wide, one unit being one CSS pixel on a phone.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "machine/plates.h"
#include "machine/readings.h"
#include "paper/drawing.h"

namespace drawoff::paper {

inline constexpr double kSceneWidth = 366;

// Room for words beside what they belong to: its top left corner, and how wide it may get.
struct WordSlot {
  double x = 0;
  double y = 0;
  double width = 0;
  double height = 0;
};

enum class PartKind {
  kSupply,
  kRawTank,
  kRegulator,
  kFilter,  // before the membrane
  kSolenoid,
  kShutOff,
  kRecirculation,
  kLowSwitch,
  kPump,
  kMembrane,
  kRestrictor,
  kFlushValve,
  kDrain,
  kBlend,
  kPolish,  // after the membrane, of any kind
  kHighSwitch,
  kVessel,
  kCooler,  // beside the first
};

struct ScenePart {
  PartKind kind = PartKind::kSupply;
  std::size_t index =
      0;  // kFilter, kPolish: of the machine's filters; kCooler: of the further ones
  std::vector<Path> shapes;
  WordSlot frame;  // around the symbol
  WordSlot slot;   // for its name and what is to be said of it
};

struct ScenePoint {
  machine::Point point = machine::Point::kRawQuality;
  Spot at;
  WordSlot slot;
  int order = 0;  // along the water
};

struct Scene {
  double width = kSceneWidth;
  double height = 0;
  std::vector<Path> pipes;  // below the parts
  std::vector<ScenePart> parts;
  std::vector<ScenePoint> points;  // in the order of reading
};

struct SceneOptions {
  double text = 1;  // size of the words relative to the usual, 1 to 2: rows grow with it
  // For paper: rows just high enough for a name and a reading, and only the points that were read.
  bool compact = false;
  std::vector<machine::Point> left_out;
  // How high the words are that will stand there (rooms_of), where that is known: no row is lower.
  std::vector<double> part_rooms;  // in the order of the parts
  std::vector<std::pair<machine::Point, double>> point_rooms;
};

Scene water_path(const machine::MachineEntry& entry, const SceneOptions& options);

// Four corners around a part: how the part that explains the readings is marked, besides its words.
Path corners_around(const WordSlot& frame);

}  // namespace drawoff::paper
