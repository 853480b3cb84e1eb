// Screens blend_guide and blend_reading: the blend of a site's machine, set on the visit one thing
// at a time, and a reading judged while it is typed.
//
// The site file holds what is wanted and each turn with its reading (visit/blend_work.h); what to
// do next is asked of the guide (visit/blend_guide.h) with that. The lag is that of the machine's
// own tubes and vessels (transients/flush.h), the limit that of its survey until the next visit
// (api/blend_limits.h), the capacity about what its plates have.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "api/blend_limits.h"
#include "api/form_screen.h"
#include "api/question.h"
#include "book/site_file.h"
#include "machine/readings.h"

namespace drawoff::api {

// What comes next.
enum class BlendStage {
  kNoBlend,   // the machine has no valve
  kBegin,     // say what is wanted, and where it is read
  kRaw,       // read the raw water
  kPermeate,  // shut the valve and read the product
  kGuide,     // turn and wait and read, or leave it
  kLeft       // it was left
};

struct BlendGuideInput {
  book::Body site_file;
  fields::UnitSystem units = fields::UnitSystem::kMetric;
  std::optional<book::UtcTime> at;  // now: what an earlier visit read is not of this one
};

// A window that may be wanted.
struct BlendAim {
  visit::Taste taste = visit::Taste::kFresh;
  std::string label;
  std::string band;  // in words
  double low = 55;   // [ppm, half scale]
  double high = 75;
};
// Where the product can be read, and how long a turn takes to show there.
struct BlendPlace {
  visit::SampledAt place = visit::SampledAt::kTee;
  std::string label;
  std::string takes;
  std::string slow;  // why not here, where it takes long; empty where not
};
// A turn to be made, or the wait for it.
struct BlendAct {
  std::string what;
  std::string then;                      // wait, and read
  double turns = 0;                      // where the handle then stands, from shut
  bool stays = false;                    // nothing is turned: it is waited for only
  units::Time wait;                      // from the turn on
  std::string expected;                  // in words
  std::optional<visit::ShownBand> band;  // as the meter shows it
};
// An entry to be kept.
struct BlendEntry {
  std::string kind;
  book::Body body;
  std::optional<std::string> supersedes;
};
// How it would be left: what is said of it, and the entries that are kept with that. The machine
// has the valve at which its plates give that share; its product was read so.
struct BlendLeave {
  visit::BlendLeftEntry left;
  bool advised = false;  // else a reason is asked for
  std::vector<BlendEntry> with;
};

struct BlendGuideOutput {
  BlendStage stage = BlendStage::kBegin;
  std::string headline;
  std::vector<std::string> said;  // why, and what would serve instead
  std::vector<std::string> limit;
  std::vector<BlendAim> aims;
  std::vector<BlendPlace> places;
  std::optional<machine::Point> point;  // to be read next
  std::optional<BlendAct> act;
  visit::ReadingEntry like;                // unit and instrument of the next reading of the product
  std::optional<units::Conductivity> raw;  // at 25 °C
  std::optional<units::Conductivity> permeate;  // the same
  std::vector<std::string> turns;               // so far
  std::optional<BlendLeave> leave;              // as it stands after the last turn
  BlendLeave shut;                              // left shut
  bool open = false;                            // the valve, as far as is known
  std::string left;                             // how it was left last
  std::string entry;                            // of the setting
  std::string turned_at;                        // UTC, of the last turn; empty if none
  std::vector<std::string> cautions;
};

struct BlendReadingInput {
  visit::BlendTurnEntry turn;
  std::optional<visit::ShownBand> band;
  std::optional<visit::InstrumentEntry> instrument;  // that the band is of; else that of the turn
  std::optional<units::Conductivity> raw;
  std::optional<units::Conductivity> permeate;
};
struct BlendReadingOutput {
  std::string fit;  // in words; empty where no band was given
  bool outside = false;
  std::string question;                  // where it is sooner a slip; empty where not
  std::optional<visit::ShownBand> band;  // in the unit of the reading, to be kept with it
};

base::Result<BlendGuideOutput> ask_blend_guide(const BlendGuideInput& in,
                                               Working& working,
                                               const messages::Catalogue& words);
base::Result<BlendReadingOutput> ask_blend_reading(const BlendReadingInput& in,
                                                   Working& working,
                                                   const messages::Catalogue& words);

}  // namespace drawoff::api

namespace drawoff::fields {

template <>
struct EnumTable<api::BlendStage> {
  static constexpr std::string_view name = "blend_stage";
  static constexpr std::array list = {choice(api::BlendStage::kNoBlend, "no_blend"),
                                      choice(api::BlendStage::kBegin, "begin"),
                                      choice(api::BlendStage::kRaw, "raw"),
                                      choice(api::BlendStage::kPermeate, "permeate"),
                                      choice(api::BlendStage::kGuide, "guide"),
                                      choice(api::BlendStage::kLeft, "left")};
};
template <>
struct Table<api::BlendGuideInput> {
  using T = api::BlendGuideInput;
  static constexpr std::string_view name = "blend_guide_input";
  static constexpr auto list = std::make_tuple(
      field("site_file", &T::site_file, kRequired), field("units", &T::units), field("at", &T::at));
};
template <>
struct Table<api::BlendAim> {
  using T = api::BlendAim;
  static constexpr std::string_view name = "blend_aim";
  static constexpr auto list = std::make_tuple(field("taste", &T::taste, kRequired),
                                               field("label", &T::label, kRequired),
                                               field("band", &T::band, kRequired),
                                               field("low_ppm", &T::low, kRequired),
                                               field("high_ppm", &T::high, kRequired));
};
template <>
struct Table<api::BlendPlace> {
  using T = api::BlendPlace;
  static constexpr std::string_view name = "blend_place";
  static constexpr auto list = std::make_tuple(field("place", &T::place, kRequired),
                                               field("label", &T::label, kRequired),
                                               field("takes", &T::takes, kRequired),
                                               field("slow", &T::slow, kRequired));
};
template <>
struct Table<api::BlendAct> {
  using T = api::BlendAct;
  static constexpr std::string_view name = "blend_act";
  static constexpr auto list = std::make_tuple(field("what", &T::what, kRequired),
                                               field("then", &T::then, kRequired),
                                               field("turns", &T::turns, kRequired),
                                               field("stays", &T::stays, kRequired),
                                               field("wait_min", &T::wait, kRequired),
                                               field("expected", &T::expected, kRequired),
                                               field("band", &T::band, kRequired, kNullWhenAbsent));
};
template <>
struct Table<api::BlendEntry> {
  using T = api::BlendEntry;
  static constexpr std::string_view name = "blend_entry";
  static constexpr auto list = std::make_tuple(field("kind", &T::kind, kRequired),
                                               field("body", &T::body, kRequired),
                                               field("supersedes", &T::supersedes));
};
template <>
struct Table<api::BlendLeave> {
  using T = api::BlendLeave;
  static constexpr std::string_view name = "blend_leave";
  static constexpr auto list = std::make_tuple(field("left", &T::left, kRequired),
                                               field("advised", &T::advised, kRequired),
                                               field("with", &T::with, kRequired));
};
template <>
struct Table<api::BlendGuideOutput> {
  using T = api::BlendGuideOutput;
  static constexpr std::string_view name = "blend_guide_output";
  static constexpr auto list = std::make_tuple(
      field("stage", &T::stage, kRequired),
      field("headline", &T::headline, kRequired),
      field("said", &T::said, kRequired),
      field("limit", &T::limit, kRequired),
      field("aims", &T::aims, kRequired),
      field("places", &T::places, kRequired),
      field("point", &T::point, kRequired, kNullWhenAbsent),
      field("act", &T::act, kRequired, kNullWhenAbsent),
      field("like", &T::like, kRequired),
      field("raw_conductivity_25_uS_cm", &T::raw, kRequired, kNullWhenAbsent),
      field("permeate_conductivity_25_uS_cm", &T::permeate, kRequired, kNullWhenAbsent),
      field("turns", &T::turns, kRequired),
      field("leave", &T::leave, kRequired, kNullWhenAbsent),
      field("shut", &T::shut, kRequired),
      field("open", &T::open, kRequired),
      field("left", &T::left, kRequired),
      field("entry", &T::entry, kRequired),
      field("turned_at", &T::turned_at, kRequired),
      field("cautions", &T::cautions, kRequired));
};
template <>
struct Table<api::BlendReadingInput> {
  using T = api::BlendReadingInput;
  static constexpr std::string_view name = "blend_reading_input";
  static constexpr auto list =
      std::make_tuple(field("turn", &T::turn, kRequired),
                      field("band", &T::band),
                      field("instrument", &T::instrument),
                      field("raw_conductivity_25_uS_cm", &T::raw, Range{0, 1e6}),
                      field("permeate_conductivity_25_uS_cm", &T::permeate, Range{0, 1e6}));
};
template <>
struct Table<api::BlendReadingOutput> {
  using T = api::BlendReadingOutput;
  static constexpr std::string_view name = "blend_reading_output";
  static constexpr auto list = std::make_tuple(field("fit", &T::fit, kRequired),
                                               field("outside", &T::outside, kRequired),
                                               field("question", &T::question, kRequired),
                                               field("band", &T::band, kRequired, kNullWhenAbsent));
};

}  // namespace drawoff::fields
