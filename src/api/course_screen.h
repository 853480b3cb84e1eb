// Screen course: the start-up of a site's machine, step by step, as it stands.
//
// Instant: the order and what was done, in words. What each step takes and should show comes from
// `calc start-up` and from screen view.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "api/form_screen.h"
#include "api/question.h"
#include "api/working.h"
#include "book/site_file.h"
#include "machine/readings.h"
#include "visit/course_log.h"

namespace drawoff::api {

// What was found at a step that is open still.
struct OpenFound {
  std::string key;  // of the step
  std::vector<visit::FoundEntry> found;
};
struct CourseScreenInput {
  book::Body site_file;
  std::vector<OpenFound> open;
  fields::UnitSystem units = fields::UnitSystem::kMetric;
};

// A number that a step asks for.
struct CourseSign {
  visit::Sign sign = visit::Sign::kFreeChlorine;
  std::string name;
  std::string how;                     // it is read
  std::vector<visit::SignUnit> units;  // that it can be read in, the usual one first
  std::string text;                    // what it showed, and whether that fits; empty if nothing
  std::optional<visit::SignFit> fit;   // with the band that was shown
};

struct CourseStepScreen {
  std::string key;  // in addresses and among the steps of calc start-up
  visit::Step step = visit::Step::kPowerOff;
  std::optional<int> part;
  std::optional<machine::FilterKind> filter;  // the kind of that part
  std::string name;
  std::string what;
  std::string why;
  std::vector<std::string> cautions;
  std::vector<std::string> notes;
  std::vector<machine::Point> readings;
  std::vector<machine::Point> taken;    // of those, since this start-up began
  std::vector<machine::Point> outside;  // of those, what was expected of them
  std::vector<CourseSign> signs;
  std::vector<std::string> look;  // at, where a sign does not fit
  bool test = false;              // it asks for a verdict
  std::string good;               // what is said to have it done
  std::string not_good;           // what is said of a test that failed; empty of other steps
  std::string next;               // what to look at, when it was not good
  std::optional<visit::StepState> state;
  std::string note;
  std::string at;        // UTC
  std::string begun_at;  // UTC; empty where no clock is running
  std::string clock;     // what it says of a step that is done, where that is less than its wait
  bool early = false;
  std::string open_before;  // the steps before it that are open, in words
};

struct CourseScreenOutput {
  std::optional<std::string> start_up;  // the entry that began it
  bool sanitise = false;
  bool membrane_in = false;
  std::vector<CourseStepScreen> steps;
  std::optional<int> current;  // the first that is open; none at the end
  std::string headline;
};

base::Result<CourseScreenOutput> ask_course(const CourseScreenInput& in,
                                            Working& working,
                                            const messages::Catalogue& words);

// The name of a step, with the filter that it is about.
std::string step_name(const visit::CourseStep& step,
                      const machine::MachineEntry& machine,
                      const messages::Catalogue& words);

// A number that a step showed, and whether it fits.
std::string found_in_words(const visit::FoundEntry& found, const messages::Catalogue& words);
base::Message found_in_words(const visit::FoundEntry& found);
// What to look at where it does not fit; empty where it does.
std::string look_at(const visit::FoundEntry& found, const messages::Catalogue& words);

// What the clock of a step says that was done with less than its wait, or without the clock.
std::optional<base::Message> clock_in_words(const visit::StepStanding& standing);

// How a step stands, when that was, and the reason or what was noted; nothing where nothing was
// done of it.
std::string standing_in_words(visit::Step step,
                              const visit::StepStanding& standing,
                              const messages::Catalogue& words);

}  // namespace drawoff::api

namespace drawoff::fields {

template <>
struct Table<api::CourseScreenInput> {
  using T = api::CourseScreenInput;
  static constexpr std::string_view name = "course_screen_input";
  static constexpr auto list = std::make_tuple(field("site_file", &T::site_file, kRequired),
                                               field("open", &T::open, Range{0, 200}),
                                               field("units", &T::units));
};
template <>
struct Table<api::OpenFound> {
  using T = api::OpenFound;
  static constexpr std::string_view name = "open_found";
  static constexpr auto list =
      std::make_tuple(field("key", &T::key, Range{1, 80}, kRequired),
                      field("found", &T::found, Range{0, visit::kMostFound}, kRequired));
};
template <>
struct Table<api::CourseSign> {
  using T = api::CourseSign;
  static constexpr std::string_view name = "course_sign";
  static constexpr auto list = std::make_tuple(field("sign", &T::sign, kRequired),
                                               field("name", &T::name, kRequired),
                                               field("how", &T::how, kRequired),
                                               field("units", &T::units, kRequired),
                                               field("text", &T::text, kRequired),
                                               field("fit", &T::fit, kRequired, kNullWhenAbsent));
};
template <>
struct Table<api::CourseStepScreen> {
  using T = api::CourseStepScreen;
  static constexpr std::string_view name = "course_step_screen";
  static constexpr auto list =
      std::make_tuple(field("key", &T::key, kRequired),
                      field("step", &T::step, kRequired),
                      field("part", &T::part, kRequired, kNullWhenAbsent),
                      field("filter", &T::filter, kRequired, kNullWhenAbsent),
                      field("name", &T::name, kRequired),
                      field("what", &T::what, kRequired),
                      field("why", &T::why, kRequired),
                      field("cautions", &T::cautions, kRequired),
                      field("notes", &T::notes, kRequired),
                      field("readings", &T::readings, kRequired),
                      field("taken", &T::taken, kRequired),
                      field("outside", &T::outside, kRequired),
                      field("signs", &T::signs, kRequired),
                      field("look", &T::look, kRequired),
                      field("test", &T::test, kRequired),
                      field("good", &T::good, kRequired),
                      field("not_good", &T::not_good, kRequired),
                      field("next", &T::next, kRequired),
                      field("state", &T::state, kRequired, kNullWhenAbsent),
                      field("note", &T::note, kRequired),
                      field("at", &T::at, kRequired),
                      field("begun_at", &T::begun_at, kRequired),
                      field("clock", &T::clock, kRequired),
                      field("early", &T::early, kRequired),
                      field("open_before", &T::open_before, kRequired));
};
template <>
struct Table<api::CourseScreenOutput> {
  using T = api::CourseScreenOutput;
  static constexpr std::string_view name = "course_screen";
  static constexpr auto list =
      std::make_tuple(field("start_up", &T::start_up, kRequired, kNullWhenAbsent),
                      field("sanitise", &T::sanitise, kRequired),
                      field("membrane_in", &T::membrane_in, kRequired),
                      field("steps", &T::steps, kRequired),
                      field("current", &T::current, kRequired, kNullWhenAbsent),
                      field("headline", &T::headline, kRequired));
};

}  // namespace drawoff::fields
