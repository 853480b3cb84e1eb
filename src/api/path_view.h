// What is to be said at each part and test point of a machine's water path: the words that screens
// and papers set beside the drawing (paper/scene.h).
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "api/solved.h"
#include "fields/form.h"
#include "messages/catalogue.h"
#include "paper/scene.h"
#include "paper/scene_drawing.h"

namespace drawoff::api {

// The reading that would be taken next at each point: in the unit, with the instrument and in the
// state of the last one there, else as is usual in the trade (into a jug; the permeate with the
// blend shut).
std::vector<visit::ReadingEntry> usual_readings(const paper::Scene& scene,
                                                const SiteState& state,
                                                fields::UnitSystem units);

struct PointView {
  visit::ReadingEntry like;
  const visit::Forecast* forecast = nullptr;           // of the solved site
  const Said<visit::ReadingEntry>* reading = nullptr;  // of this visit
  const Said<visit::ReadingEntry>* last = nullptr;     // of the visit before
  const Said<visit::NotPossibleEntry>* not_possible = nullptr;
  paper::PointWords words;
};

struct PathView {
  std::vector<paper::PartWords> parts;
  std::vector<PointView> points;
};

// For a site that was solved with usual_readings() as asked. Points into `solved`.
PathView path_view(const paper::Scene& scene,
                   const Solved& solved,
                   std::span<const visit::ReadingEntry> usual,
                   fields::UnitSystem units,
                   const messages::Catalogue& words);

// One reading in words, against its band.
paper::PointWords point_words(const visit::ReadingEntry& reading,
                              const inference::Judgement& judgement,
                              const messages::Catalogue& words);

// A quantity in the person's units, to three digits.
base::Number in_units(double si, std::string_view unit_key, fields::UnitSystem units);
// The same of the numbers of a sentence, each to the digits that it has.
base::Message in_units(base::Message message, fields::UnitSystem units);

// What the table of causes (data/causes.csv) calls such a part: "filters", "polish", "vessel".
std::string drawn_part(paper::PartKind kind);

// The id of a part in the drawing, and the path of its values in the machine's form: "supply",
// "filters[0]", "element", "product", "product.coolers[0]".
std::string part_path(const paper::ScenePart& part);

// Its name and one thing that its plate says; not whether it explains anything.
paper::PartWords part_words(const paper::ScenePart& part,
                            const machine::MachineEntry& machine,
                            fields::UnitSystem units,
                            const messages::Catalogue& words);

// What such a part is for, in a sentence or two.
std::string about_part(const paper::ScenePart& part,
                       const machine::MachineEntry& machine,
                       const messages::Catalogue& words);

// The test points of the scene that tell of a part: before and behind it along its water.
std::vector<machine::Point> points_of(const paper::ScenePart& part, const paper::Scene& scene);

}  // namespace drawoff::api
