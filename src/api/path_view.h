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

// The id of a part in the drawing: "supply", "filters[0]", "pump"; also its path in the machine's
// form, but for the membrane ("element") and the vessel ("product").
std::string part_path(const paper::ScenePart& part);

}  // namespace drawoff::api
