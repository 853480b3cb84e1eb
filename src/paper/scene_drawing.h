// The water path with its words, as a drawing for SVG and PDF. The app draws the same scene with
// elements of its own, so that every word there can be read aloud and touched.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include "paper/drawing.h"
#include "paper/fonts.h"
#include "paper/scene.h"

namespace drawoff::paper {

// Already in the reader's language.
struct PartWords {
  std::string name;
  std::string detail;
  std::string explains;  // empty unless this part explains the readings
};

// Where the band and the reading lie along the little scale under a reading, 0 to 1.
struct Gauge {
  double from = 0;
  double to = 0;
  std::optional<double> mark;
};

struct PointWords {
  std::string name;
  std::string reading;   // empty if none was taken
  std::string expected;  // empty if nothing can be said
  std::string fit;
  bool outside = false;  // of its band
  std::optional<Gauge> gauge;
};

// How high these words are on this scene: what a scene is laid out with so that none stand on
// others. One entry a part and a point, in the order of the scene. `fonts` are those that the words
// are set with; null: where lines break is estimated, as for SVG.
struct Rooms {
  std::vector<double> parts;
  std::vector<std::pair<machine::Point, double>> points;
};
Rooms rooms_of(const Scene& scene,
               std::span<const PartWords> parts,
               std::span<const PointWords> points,
               const Fonts* fonts);

// One entry a part and a point, in the order of the scene. `millimetre` is the length of one unit;
// `fonts` as above.
Drawing scene_drawing(const Scene& scene,
                      std::span<const PartWords> parts,
                      std::span<const PointWords> points,
                      double millimetre,
                      const Fonts* fonts);

}  // namespace drawoff::paper
