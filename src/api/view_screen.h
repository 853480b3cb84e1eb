// Screens view and judge: all that the screens of a site show, and one reading judged at once.
//
// The app sends its entries as a site file and draws what comes back; it decides nothing. A site
// without a survey or a machine is answered too: what is needed next is then the headline.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "api/form_screen.h"
#include "api/handing_over.h"
#include "api/machine_question_fields.h"
#include "api/question.h"
#include "book/photo.h"
#include "book/site_file.h"
#include "paper/scene.h"

namespace drawoff::api {

// The machine as it would run if this were otherwise. Readings are then not judged: they were
// taken on the real one.
struct WhatIf {
  std::optional<units::Temperature> temperature;
  std::optional<units::Pressure> supply_pressure;
  std::optional<double> restrictor;     // its flow, as a share of what is entered
  std::optional<double> blend_opening;  // share

  bool tries_something() const {
    return temperature || supply_pressure || restrictor || blend_opening;
  }
};

struct ViewInput {
  book::Body site_file;
  fields::UnitSystem units = fields::UnitSystem::kMetric;
  std::optional<WhatIf> what_if;
  double text = 1;  // size of the words, 1 to 2
  // Now. Once a visit is over its readings are what was read last time, and a new one is new.
  std::optional<book::UtcTime> at;
};

enum class HeadlineKind { kPlain, kGood, kRemark, kFault, kNeeds };

struct LineOutput {
  JobLine::Kind kind = JobLine::Kind::kText;
  std::vector<std::string> cells;
};

struct ShapeOutput {
  std::string d;  // SVG path data
  paper::Ink ink = paper::Ink::kNone;
  paper::Ink fill = paper::Ink::kNone;
  double width = 0;
  bool dashed = false;
  std::string part;  // id of the part, empty for pipes
};
struct SlotOutput {
  double x = 0, y = 0, width = 0, height = 0;
};
struct PartOutput {
  std::string id;
  std::string path;  // of its values in the machine's form
  std::string name;
  std::string detail;
  std::string explains;
  std::string about;                   // what such a part is for
  std::vector<machine::Point> points;  // of the scene, that tell of it
  SlotOutput frame;
  SlotOutput slot;
};
struct UnitOutput {
  visit::ReadingUnit value = visit::ReadingUnit::kPpm;
  std::string label;
};
struct LastOutput {
  double value = 0;
  visit::ReadingUnit unit = visit::ReadingUnit::kPpm;
  std::string text;
  std::string at;  // UTC
};
struct PointOutput {
  machine::Point point = machine::Point::kRawQuality;
  int order = 0;
  double x = 0, y = 0;
  SlotOutput slot;
  std::string name;
  std::string how;
  std::vector<UnitOutput> units;  // in which it may be read; the usual one first
  std::string expected;           // the band in words; empty if nothing can be said
  std::optional<visit::ShownBand> band;
  std::vector<double> likely;  // for screen judge
  std::string reading;         // as read; empty if not
  std::optional<double> value;
  std::optional<visit::ReadingUnit> unit;
  std::string entry;  // id of the reading's entry
  std::string fit;    // in words, or why it is not judged
  bool outside = false;
  std::optional<double> band_from, band_to, mark;  // along the little scale, 0 to 1
  std::optional<LastOutput> last;                  // of the visit before
  std::string not_possible;                        // why it was not read
  std::string not_possible_entry;
  visit::ReadingEntry like;          // instrument and condition that a new reading would have
  std::vector<std::string> working;  // results that explain its band
};
struct SceneOutput {
  double width = 0, height = 0;
  std::vector<ShapeOutput> shapes;
  std::vector<PartOutput> parts;
  std::vector<PointOutput> points;
};

// A line of the job in the words of a language.
LineOutput rendered(const JobLine& line, const messages::Catalogue& words);

struct SliderOutput {
  std::string key;  // of what_if
  std::string label;
  double low = 0, high = 0, step = 1, value = 0;
  std::string shown;
};
struct NextOutput {
  machine::Point point = machine::Point::kRawQuality;
  std::string sentence;
};
struct AssumedOutput {
  std::string path;
  std::string label;
};
struct PhotoOutput {
  std::string entry;
  std::string at;
  book::PhotoEntry photo;
};
// The entry that holds, and what it says.
struct HeldOutput {
  std::string entry;
  std::string at;
  book::Body body;
};

// One ion of the water, as a share of the longer of its two sides.
struct MakeUpOutput {
  std::string key;
  std::string name;
  bool positive = true;
  double share = 0;
  std::string amount;  // in words, from what to what where it is not known well
};

// What the survey lets a meter show of the raw water, at 25 °C: 90 %.
struct SurveyedRaw {
  units::Conductivity low, middle, high;
};

struct ViewOutput {
  std::string name;
  std::string note;
  std::optional<HeldOutput> site, survey, machine;
  HeadlineKind headline_kind = HeadlineKind::kPlain;
  std::string headline;
  std::string detail;
  std::vector<LineOutput> lines;
  std::vector<MakeUpOutput> make_up;  // of the surveyed water, where more than a meter knows it
  std::optional<units::Conductivity> raw;  // at 25 °C, of the day
  std::optional<SurveyedRaw> surveyed;
  std::optional<SceneOutput> scene;
  std::vector<SliderOutput> sliders;
  std::optional<NextOutput> next;
  std::vector<AssumedOutput> assumed;
  std::vector<PhotoOutput> photos;
  std::optional<HandedOverOutput> handed_over;
  std::vector<std::string> handed_over_says;
  std::vector<std::string> before_drinking;  // that nobody drinks yet, and until what; or empty
  std::vector<std::string> warnings;
};

// Judged only in the state that the forecast is for; else fit and band are empty until the reading
// is kept and the whole site is asked. A reading of the raw water is only questioned.
struct JudgeInput {
  std::vector<double> likely;  // of the point, from screen view, in the unit of `like`
  visit::ReadingEntry like;    // of the point, from screen view
  visit::ReadingEntry reading;
  std::optional<units::Conductivity> raw;  // the raw water of the day, from screen view
  std::optional<SurveyedRaw> surveyed;     // from screen view
};
struct JudgeOutput {
  std::string reading;
  std::string expected;
  std::optional<visit::ShownBand> band;
  std::string fit;
  std::string question;  // where the reading is sooner a slip; empty where not
  bool outside = false;
  std::optional<double> band_from, band_to, mark;
};

base::Result<ViewOutput> ask_view(const ViewInput& in,
                                  Working& working,
                                  const messages::Catalogue& words);
base::Result<JudgeOutput> ask_judge(const JudgeInput& in,
                                    Working& working,
                                    const messages::Catalogue& words);

}  // namespace drawoff::api
